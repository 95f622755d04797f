// Threads, torque, force, holes, plates and bundles by the built-in rules against published numbers and hand
// calculation; the source stands beside each.
#include <array>
#include <cmath>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using namespace packproof::inspect_test;
using rules::Verdict;

namespace {

std::string quoted(double value, const std::string& unit) {
    return "\"" + std::to_string(value) + " " + unit + "\"";
}

/// A joint on a cell's M-thread with the long form's friction.
std::string joint_with_friction(const std::string& thread, double friction) {
    const std::string mu = std::to_string(friction);
    return "[cell]\nterminal_kind = \"stud\"\nterminal_thread = \"" + thread +
           "\"\n[joint.j]\non = \"cell\"\ntorque = \"5 N·m\"\ntool = \"none\"\nstud_class = "
           "\"8.8\"\nthread_friction "
           "= " +
           mu + "\nhead_friction = " + mu + "\n";
}

/// Two holes `pitch` apart in the first part, in the second part as written.
std::string two_holes(const std::string& pattern, const std::string& first, const std::string& second) {
    return "[pattern.p]\n" + pattern +
           "\n[hole.a]\nx = \"0 mm\"\ny = \"0 mm\"\nother_x = \"0 mm\"\nother_y = \"0 mm\"\n[hole.b]\nx = "
           "\"" +
           first + "\"\ny = \"0 mm\"\nother_x = \"" + second + "\"\nother_y = \"0 mm\"\n";
}

/// Two rows of cells under one steel plate with its bolts in two outer columns, as faulty-plate-too-thin has
/// it.
std::string plate_over_two_rows(double thickness_mm, const std::string& rows_of_bolts) {
    return "[cell]\nwidth = \"173.7 mm\"\nheight = \"207 mm\"\nstiffness = \"10 "
           "kN/mm\"\n[stack]\ncells_in_row = 8\n"
           "[fixture]\nforce = \"5880 N\"\n[plate.end]\noutline_width = \"414 mm\"\noutline_height = \"207 "
           "mm\"\n"
           "washer = \"18 mm\"\nmaterial = \"steel\"\nthickness = " +
           quoted(thickness_mm, "mm") +
           "\n[cell_face.one]\nx = \"28.2 mm\"\ny = \"0 mm\"\n[cell_face.two]\nx = \"212.2 mm\"\ny = \"0 "
           "mm\"\n" +
           rows_of_bolts;
}
const char* const outer_columns =
    "[bolt_row.left]\nbolts = 4\nx = \"15 mm\"\ny = \"20 mm\"\nto_y = \"187 mm\"\n[bolt_row.right]\nbolts = "
    "4\nx = "
    "\"399 mm\"\ny = \"20 mm\"\nto_y = \"187 mm\"\n";

/// The same plate as a beam on a bed that only pushes: finite differences on a line of 1 mm steps, w'''' from
/// five neighbours (free ends: no moment, no shear), the bed left out where the beam has risen. Returns the
/// deflection in the middle of a face over the mean one of the faces. `bending` in N·m².
double beam_share(double bending, double bed) {
    constexpr int last = 414;  // nodes 0 to 414 mm
    constexpr double step = 1e-3;
    using Row = std::array<double, 5>;  // from two to the left to two to the right
    const double k4 = bending / std::pow(step, 4);
    std::vector<bool> touches(last + 1, true);
    const auto on_face = [](int i) { return (i >= 28 && i <= 202) || (i >= 212 && i <= 386); };
    std::vector<double> w(last + 1, 0.0);
    for (int round = 0; round < 60; ++round) {
        std::vector<Row> rows(last + 1);
        std::vector<double> right(last + 1, 0.0);
        for (int i = 0; i <= last; ++i) {
            Row row{1, -4, 6, -4, 1};
            if (i == 0 || i == last) row = i == 0 ? Row{0, 0, 1, -2, 1} : Row{1, -2, 1, 0, 0};
            if (i == 1 || i == last - 1) row = i == 1 ? Row{0, -2, 5, -4, 1} : Row{1, -4, 5, -2, 0};
            for (double& entry : row)
                entry *= k4;
            const double width = i == 0 || i == last ? 0.5 : 1.0;  // an end node bears half a step
            if (on_face(i) && touches[static_cast<std::size_t>(i)]) row[2] += width * bed;
            rows[static_cast<std::size_t>(i)] = row;
        }
        right[15] = right[last - 15] = 1.0 / step;  // bolts: 1 N each line
        for (std::size_t i = 0; i <= last; ++i)     // elimination in the band
            for (std::size_t d = 1; d <= 2 && i + d <= last; ++d) {
                const double factor = rows[i + d][2 - d] / rows[i][2];
                for (std::size_t c = 0; c <= 2; ++c)
                    if (2 - d + c < 5) rows[i + d][2 - d + c] -= factor * rows[i][2 + c];
                right[i + d] -= factor * right[i];
            }
        for (std::size_t i = last + 1; i-- > 0;) {
            double sum = right[i];
            for (std::size_t c = 1; c <= 2 && i + c <= last; ++c)
                sum -= rows[i][2 + c] * w[i + c];
            w[i] = sum / rows[i][2];
        }
        std::vector<bool> now(last + 1);
        for (std::size_t i = 0; i <= last; ++i)
            now[i] = w[i] > 0.0;
        if (now == touches) break;
        touches = now;
    }
    double sum = 0.0;
    double count = 0.0;
    for (int i = 0; i <= last; ++i)
        if (on_face(i)) {
            sum += std::max(0.0, w[static_cast<std::size_t>(i)]);
            count += 1.0;
        }
    return std::max(0.0, w[115]) / (sum / count);  // 28.2 + 173.7 / 2 = 115.05 mm
}

}  // namespace

TEST_CASE(
    "ISO 724: pitch and root diameters of coarse threads (recomputed from ISO 68-1, two tables agree)") {
    const struct {
        const char* thread;
        double pitch_diameter, root_diameter;
    } rows[] = {{"M5", 4.480, 4.019}, {"M6", 5.350, 4.773}, {"M8", 7.188, 6.466}, {"M10", 9.026, 8.160}};
    for (const auto& row : rows) {
        CAPTURE(row.thread);
        const std::string text = joint_with_friction(row.thread, 0.12);
        CHECK(point(Derived("joint", "pitch_diameter", text)) * 1e3 ==
              doctest::Approx(row.pitch_diameter).epsilon(2e-4));
        CHECK(point(Derived("joint", "root_diameter", text)) * 1e3 ==
              doctest::Approx(row.root_diameter).epsilon(2e-4));
    }
}

TEST_CASE("ISO 898-1 table 5: proof loads; ISO 3506-1: yield of stainless screws times the stress area") {
    const struct {
        const char* grade;
        const char* thread;
        double newtons;
    } rows[] = {{"8.8", "M6", 11600}, {"8.8", "M8", 21200},   {"4.6", "M5", 3200},   {"10.9", "M10", 48100},
                {"5.8", "M4", 3340},  {"12.9", "M12", 81800}, {"A2-70", "M6", 9045}, {"A4-80", "M8", 21960}};
    for (const auto& row : rows) {
        CAPTURE(row.grade);
        CAPTURE(row.thread);
        CHECK(looked_up("proof_load", "force", {word(row.grade), word(row.thread)}) ==
              doctest::Approx(row.newtons).epsilon(2e-3));
    }
}

TEST_CASE("VDI 2230: torque over preload, and the assembly preload at 0.9 of yield") {
    // worked: M6, hexagon head, µ = 0.14 in both: 0.159 + 0.577 · 5.3505 · 0.14 + 3.87 · 0.14 = 1.1330 mm
    CHECK(point(Derived("joint", "friction_arm", joint_with_friction("M6", 0.14))) * 1e3 ==
          doctest::Approx(1.1330).epsilon(1e-3));
    // table A1, property class 8.8, µ = 0.12 (recalled): M6 10.2 kN, 10.1 N·m; M8 18.6 kN, 24.6 N·m; M10
    // 29.6 kN, 48 N·m
    const struct {
        const char* thread;
        double kilonewtons, torque;
    } rows[] = {{"M6", 10.2, 10.1}, {"M8", 18.6, 24.6}, {"M10", 29.6, 48.0}};
    for (const auto& row : rows) {
        CAPTURE(row.thread);
        const std::string text = joint_with_friction(row.thread, 0.12);
        const double force = point(Derived("joint", "assembly_limit", text));
        CHECK(force == doctest::Approx(row.kilonewtons * 1e3).epsilon(0.01));
        CHECK(force * point(Derived("joint", "friction_arm", text)) ==
              doctest::Approx(row.torque).epsilon(0.015));
    }
}

TEST_CASE("FED-STD-H28/2B: shear area of tapped threads a millimetre, 6g in 6H at their worst (worked)") {
    const struct {
        const char* thread;
        double hole, screw;
    } rows[] = {{"M5", 10.00, 7.07}, {"M6", 12.19, 8.65}, {"M8", 16.83, 12.16}, {"M10", 21.48, 15.58}};
    for (const auto& row : rows) {
        CAPTURE(row.thread);
        const std::string text = joint_with_friction(row.thread, 0.12);
        CHECK(point(Derived("joint", "hole_shear_width", text)) * 1e3 ==
              doctest::Approx(row.hole).epsilon(2e-3));
        CHECK(point(Derived("joint", "screw_shear_width", text)) * 1e3 ==
              doctest::Approx(row.screw).epsilon(2e-3));
    }
}

TEST_CASE("a terminal of soft aluminium strips at 3.17 N·m with the M6x10 supplied, at 8.17 N·m with M6x16") {
    // worked: grip 6.2 mm; 12.19 mm²/mm · 3.8 mm · 0.6 · 95 MPa = 2641 N; · 0.2 · 6 mm; and with 9.8 mm
    for (const auto& [length, torque] : {std::pair{"10 mm", 3.17}, std::pair{"16 mm", 8.17}}) {
        const std::string text =
            "[cell]\nterminal_kind = \"threaded hole\"\nterminal_thread = \"M6\"\nterminal_length = \"11 "
            "mm\"\n"
            "terminal_strength = \"95 MPa\"\nterminal_boss = \"14 mm\"\n[busbar.link]\nthickness = \"6.2 "
            "mm\"\n"
            "[fastener.cap]\nthread = \"M6\"\nlength = \"" +
            std::string(length) +
            "\"\n[joint.j]\non = \"cell\"\nlayers = [\"link\", \"cap\"]\nnut_factor = \"0.20\"\ntorque = \"5 "
            "N·m\"\n";
        CHECK(point(Derived("joint", "strips_at_torque", text)) == doctest::Approx(torque).epsilon(5e-3));
    }
}

TEST_CASE(
    "ISO 6789: a setting tool is true to 6 % up to 10 N·m, and is verified from a fifth of its greatest") {
    const std::string tool = "[tool.t]\ntorque_range = \"1 .. 5 N·m\"\n";
    CHECK(point(Derived("tool", "usable_from", tool)) == doctest::Approx(1.0));
    const Derived preload("joint", "preload",
                          "[cell]\nterminal_kind = \"stud\"\nterminal_thread = \"M6\"\n" + tool +
                              "[joint.j]\non = \"cell\"\ntorque = \"5 N·m\"\ntool = \"t\"\nnut_factor = 0.2\n"
                              "layers = \"none\"\nrunning_torque = \"0 N·m\"\n");
    CHECK(preload.range.low == doctest::Approx(0.94 * 5.0 / 0.0012));
    CHECK(preload.range.high == doctest::Approx(1.06 * 5.0 / 0.0012));
}

TEST_CASE(
    "kgf·cm and lbf·in: 61.2 kgf·cm and 53.1 lbf·in are 6 N·m (worked from 9.80665 N and 0.45359237 kg)") {
    for (const char* written : {"61.18 kgf·cm", "53.10 lbf·in"}) {
        const Derived arm(
            "joint", "preload",
            "[cell]\nterminal_kind = \"stud\"\nterminal_thread = \"M6\"\n[joint.j]\non = \"cell\"\n"
            "tool = \"none\"\nnut_factor = 0.2\nlayers = \"none\"\nrunning_torque = \"0 N·m\"\n"
            "torque = \"" +
                std::string(written) + "\"\n");
        CHECK(arm.range.low == doctest::Approx(5000.0).epsilon(1e-3));
    }
}

TEST_CASE("ring terminals of a published table (automotive, LA): each goes on its own stud and on no other") {
    struct Ring {
        std::string thread;
        double hole;
    };
    const Ring rings[] = {{"M4", 4.4}, {"M5", 5.4}, {"M6", 6.4}, {"M8", 8.4}};
    for (const Ring& ring : rings)
        for (const Ring& stud : rings) {
            CAPTURE(ring.thread);
            CAPTURE(stud.thread);
            const std::string text = "[cell]\nterminal_kind = \"stud\"\nterminal_thread = \"" + stud.thread +
                                     "\"\n[sense_lead.s]\nlug_hole = " + quoted(ring.hole, "mm") +
                                     "\nlands_on = \"cell\"\n";
            const bool fits = conforms("sense-ring-goes-over-the-thread", text) &&
                              conforms("sense-ring-is-not-too-large", text);
            CHECK(fits == (ring.thread == stud.thread));
        }
}

TEST_CASE("ASME Y14.5, appendix B: fixed fasteners 2 T = H - F, floating T = H - F") {
    // 6.6 mm holes, M6. Fixed: zones of 0.30 mm each, 0.60 together; floating: 0.60 each, 1.20 together
    const auto verdict_with = [](const std::string& other, double zones) {
        return verdict("screws-find-every-hole",
                       two_holes("thread = \"M6\"\ndiameter = \"6.6 mm\"\nother_diameter = \"" + other +
                                     "\"\nposition_zone = " + quoted(zones, "mm"),
                                 "150 mm", "150 mm"));
    };
    CHECK(verdict_with("none", 0.60) == Verdict::conforms);
    CHECK(verdict_with("none", 0.61) == Verdict::undecided);
    CHECK(verdict_with("6.6 mm", 1.20) == Verdict::conforms);
    CHECK(verdict_with("6.6 mm", 1.21) == Verdict::undecided);
}

TEST_CASE("two holes 150 mm apart, both parts to ISO 2768-m (± 0.5 mm)") {
    // allowed difference of pitch: 7.0 mm fixed 1.0, 6.6 mm fixed 0.6, 6.6 mm in both 1.2; at worst it is 1.0
    const auto verdict_of = [](const std::string& hole, const std::string& other) {
        return verdict("screws-find-every-hole", two_holes("thread = \"M6\"\ndiameter = \"" + hole +
                                                               "\"\nother_diameter = \"" + other + "\"",
                                                           "150 ± 0.5 mm", "150 ± 0.5 mm"));
    };
    CHECK(verdict_of("7.0 mm", "none") == Verdict::conforms);
    CHECK(verdict_of("6.6 mm", "none") == Verdict::undecided);
    CHECK(verdict_of("6.6 mm", "6.6 mm") == Verdict::conforms);
}

TEST_CASE("the hole out of line: 2.2 mm, of which the panel's play takes 0.5 and the hole's own 0.5") {
    const auto hole = [](const std::string& id, double x, double y, double other_y) {
        return "[hole." + id + "]\nx = " + quoted(x, "mm") + "\ny = " + quoted(y, "mm") +
               "\nother_x = " + quoted(x, "mm") + "\nother_y = " + quoted(other_y, "mm") + "\n";
    };
    const std::string panel =
        "[pattern.p]\nthread = \"M4\"\ndiameter = \"5 mm\"\nother_diameter = \"none\"\n" +
        hole("a", 0, 0, 0) + hole("b", 170, 0, 0) + hole("c", 340, 0, 0) + hole("d", 0, 220, 220) +
        hole("e", 170, 220, 222.2) + hole("f", 340, 220, 220);
    CHECK(point(Derived("pattern", "miss", panel)) * 1e3 == doctest::Approx(0.6));
    CHECK(point(Derived("pattern", "miss_with_others_in", panel)) * 1e3 ==
          doctest::Approx(1.2).epsilon(1e-6));
    CHECK(point(Derived("pattern", "slot_up", panel)) * 1e3 == doctest::Approx(2.4).epsilon(1e-6));
    CHECK(Derived("pattern", "slot_across", panel).missing);  // a slot across does not help
}

TEST_CASE(
    "the plate over two rows agrees with a beam on a bed that only pushes, worked by finite differences") {
    // A plate is a beam of E I a metre where it can draw in sideways, of E I / (1 - ν²) where it cannot: the
    // share in the middle of a face lies between the two, a tenth of the mean apart
    for (const double thickness : {4.0, 5.0, 6.0, 8.0}) {
        CAPTURE(thickness);
        const double per_metre = 205e9 * std::pow(thickness * 1e-3, 3) / 12.0;
        const double bed = 2 * 10e6 / (8 * 0.1737 * 0.207);
        const double limp = beam_share(per_metre, bed);
        const double stiff = beam_share(per_metre / (1 - 0.09), bed);
        const Derived share("plate", "middle_over_mean", plate_over_two_rows(thickness, outer_columns));
        CHECK(share.range.low >= std::min(limp, stiff) - 0.1);
        CHECK(share.range.high <= std::max(limp, stiff) + 0.1);
    }
    CHECK(Derived("plate", "middle_over_mean", plate_over_two_rows(4.0, outer_columns)).range.high < 0.5);
}

TEST_CASE("a middle row of bolts mends the plate that is too thin, as the finding proposes") {
    const std::string six = plate_over_two_rows(4.0, outer_columns);
    CHECK(point(Derived("plate", "place_of_another_row", six)) * 1e3 == doctest::Approx(207.05));
    const double promised = point(Derived("plate", "middle_with_another_row", six));
    const std::string nine =
        six + "[bolt_row.middle]\nbolts = 4\nx = \"207.05 mm\"\ny = \"20 mm\"\nto_y = \"187 mm\"\n";
    CHECK(point(Derived("plate", "middle_over_mean", nine)) == doctest::Approx(promised).epsilon(1e-6));
    CHECK(promised > 0.5);
}

TEST_CASE(
    "17 wires of 2.0 mm and 5 of 3.0 mm: 12.2 to 12.8 mm by the trade's 1.15 to 1.2 (common practice)") {
    const Derived laid(
        "loom", "laid_bundle",
        "[loom.l]\ncarries = [\"s\", \"t\"]\n[sense_lead.s]\ncount = 17\nouter_diameter = \"2.0 mm\"\n"
        "[temperature_sensor.t]\ncount = 5\nouter_diameter = \"3.0 mm\"\n");
    CHECK(laid.range.high * 1e3 == doctest::Approx(1.2 * std::sqrt(113.0)));
    CHECK(laid.range.low * 1e3 > std::sqrt(113.0));
    CHECK(laid.range.low * 1e3 < 1.15 * std::sqrt(113.0));
    // the loom a size too small: 17 of 2.0 mm and 4 of 3.0 mm have √104 = 10.2 mm of copper and cover alone
    const Derived small(
        "loom", "closest_bundle",
        "[loom.l]\ncarries = [\"s\", \"t\"]\n[sense_lead.s]\ncount = 17\nouter_diameter = \"2.0 "
        "mm\"\n[temperature_sensor.t]\ncount = 4\nouter_diameter = \"3.0 mm\"\n");
    CHECK(small.range.low * 1e3 > 10.2);
}
