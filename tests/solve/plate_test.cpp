// Plates on elastic beds against closed forms of beams and plates, and against themselves: finer, mirrored,
// heavier.
#include "engine/solve/plate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>

using namespace packproof::solve;

namespace {

/// Six bolts in two columns beside one row of cells: 3000 N on 174 mm × 207 mm.
Plate end_plate(double thickness, double elastic_modulus, double cell_stiffness) {
    Plate plate;
    plate.width = 0.234;
    plate.height = 0.207;
    plate.thickness = thickness;
    plate.elastic_modulus = elastic_modulus;
    plate.poisson = 0.3;
    plate.bolt_force = 500.0;
    plate.bolt_radius = 0.006;
    plate.beds = {{0.030, 0.0, 0.174, 0.207, 2.0 * cell_stiffness / (8.0 * 0.174 * 0.207)}};
    for (const double x : {0.015, 0.219})
        for (const double y : {0.020, 0.1035, 0.187})
            plate.bolts.push_back({x, y});
    return plate;
}

/// A narrow plate on a bed along its whole length, pulled in its middle.
Plate beam_on_bed(double length, double turns) {
    Plate beam;
    beam.width = length;
    beam.height = 0.02;
    beam.thickness = 0.01;
    beam.elastic_modulus = 205e9;
    beam.poisson = 0.0;
    beam.bolt_force = 3000.0;
    beam.bolts = {{0.5 * length, 0.01}};
    const double bending = beam.elastic_modulus * beam.height * std::pow(beam.thickness, 3) / 12.0;
    const double lambda = turns / length;
    beam.beds = {{0.0, 0.0, length, beam.height, 4.0 * bending * std::pow(lambda, 4) / beam.height}};
    return beam;
}

/// Bolts along two lines x = 0 and x = width, so close that they are lines.
Plate plate_on_two_lines(double bolts_a_line) {
    Plate plate;
    plate.width = 0.195;
    plate.height = 0.207;
    plate.thickness = 0.003;
    plate.elastic_modulus = 205e9;
    plate.poisson = 0.0;
    plate.bolt_force = 3000.0 / (2.0 * bolts_a_line);
    plate.beds = {{0.0, 0.0, plate.width, plate.height, 1e3}};  // so soft that the pressure is even
    for (const double x : {0.0, plate.width})
        for (double i = 0.5; i < bolts_a_line; i += 1.0)
            plate.bolts.push_back({x, plate.height * i / bolts_a_line});
    return plate;
}

PlateState pressed(const Plate& plate, double fineness = 1.0) {
    const auto state = press(plate, fineness);
    REQUIRE(state);
    return *state;
}

}  // namespace

TEST_CASE("a beam with free ends on an elastic bed, pulled in its middle") {
    // M. Hetényi, Beams on Elastic Foundation, 1946, beam of finite length with free ends, load in the
    // middle; formulas recalled:
    //   y(middle) = P λ / 2k · (cosh λl + cos λl + 2) / (sinh λl + sin λl)
    //   y(end) = 2 P λ / k · cosh(λl/2) cos(λl/2) / (sinh λl + sin λl)
    for (const double turns : {1.0, 2.0, 3.0}) {
        CAPTURE(turns);
        const double length = 0.4;
        const Plate beam = beam_on_bed(length, turns);
        const double k = beam.beds[0].stiffness * beam.height;  // N/m²
        const double lambda = turns / length;
        const double below = std::sinh(turns) + std::sin(turns);
        const double middle =
            beam.bolt_force * lambda / (2.0 * k) * (std::cosh(turns) + std::cos(turns) + 2.0) / below;
        const double end =
            2.0 * beam.bolt_force * lambda / k * std::cosh(0.5 * turns) * std::cos(0.5 * turns) / below;
        const PlateState state = pressed(beam);
        CHECK(state.highest == doctest::Approx(beam.beds[0].stiffness * middle).epsilon(0.01));
        CHECK(state.lowest == doctest::Approx(beam.beds[0].stiffness * end).epsilon(0.01 * middle / end));
        CHECK(state.bow == doctest::Approx(middle - end).epsilon(0.01));
    }
}

TEST_CASE("a beam whose ends would pull lifts off instead") {
    // beyond λl = π the ends of Hetényi's beam rise: cos(λl/2) < 0
    const PlateState state = pressed(beam_on_bed(0.4, 4.0));
    CHECK(state.lowest == 0.0);
    CHECK((state.lowest_x < 0.01 || state.lowest_x > 0.39));
}

TEST_CASE("a stiff plate that is pulled beside its middle presses like an eccentrically loaded footing") {
    // Rigid footing of length L and breadth b under P at e beside the middle, on a bed that cannot pull
    // (textbooks of foundations; by hand from the balance of forces and moments): p = P / (L b) (1 ± 6 e / L)
    // while e ≤ L/6; beyond, a triangle over 3 (L/2 - e) whose highest pressure is 2 P / (3 b (L/2 - e)).
    Plate plate;
    plate.width = 0.3;
    plate.height = 0.2;
    plate.thickness = 0.05;
    plate.elastic_modulus = 205e9;
    plate.poisson = 0.3;
    plate.bolt_force = 1000.0;
    plate.beds = {{0.0, 0.0, plate.width, plate.height, 1e6}};
    const double even = plate.bolt_force / (plate.width * plate.height);
    const auto beside = [&plate](double e) {
        plate.bolts = {{0.5 * plate.width + e, 0.5 * plate.height}};
        return pressed(plate);
    };
    for (const double e : {0.0, 0.02, 0.04}) {
        CAPTURE(e);
        const PlateState state = beside(e);
        CHECK(state.highest == doctest::Approx(even * (1.0 + 6.0 * e / plate.width)).epsilon(0.002));
        CHECK(state.lowest == doctest::Approx(even * (1.0 - 6.0 * e / plate.width)).epsilon(0.005));
    }
    for (const double e : {0.06, 0.08, 0.1, 0.12}) {
        CAPTURE(e);
        const PlateState state = beside(e);
        const double triangle = 2.0 * plate.bolt_force / (3.0 * plate.height * (0.5 * plate.width - e));
        CHECK(state.highest == doctest::Approx(triangle).epsilon(0.01));
        CHECK(state.lowest == 0.0);
        CHECK(state.lowest_x == doctest::Approx(0.0));
    }
}

TEST_CASE("a stiff plate that just grazes its bed comes to rest") {
    // There rounding goes on changing which places touch: a search that waits until none changes never ends.
    for (const double thickness : {0.012, 0.016, 0.018})
        for (const double x : {0.35, 0.5, 0.65})
            for (const double y : {0.3, 0.5, 0.7}) {
                CAPTURE(thickness);
                CAPTURE(x);
                CAPTURE(y);
                Plate plate = end_plate(thickness, 205e9, 20e6);
                plate.width = 0.30;
                plate.height = 0.25;
                plate.beds = {{0.0, 0.0, plate.width, plate.height, 1e6}};
                plate.bolts = {{x * plate.width, y * plate.height}};
                plate.bolt_force = 1000.0;
                const PlateState state = pressed(plate);
                CHECK(state.mean * 0.30 * 0.25 == doctest::Approx(1000.0).epsilon(1e-6));
                CHECK(state.lowest >= 0.0);
            }
}

TEST_CASE("bolts beside all beds would tip the plate: no answer") {
    Plate plate = end_plate(0.006, 205e9, 20e6);
    plate.bolts = {{0.015, 0.1035}};
    CHECK_FALSE(press(plate));
    plate.bolts = {{0.015, 0.02}, {0.015, 0.187}};
    CHECK_FALSE(press(plate));
    CHECK_FALSE(best_row(plate));
}

TEST_CASE("a plate under even pressure on two lines of bolts bends like a beam") {
    // w = 5 F L³ / (384 E I), σ = 0.75 F L / (b t²): L 195 mm, b 207 mm, t 3 mm, 3000 N, E 205 GPa:
    // I = 207 · 27 / 12 = 465.75 mm⁴, w = 3.034 mm, σ = 235.5 MPa (handbooks of machine parts; by hand)
    const PlateState state = pressed(plate_on_two_lines(40));
    CHECK(state.bow == doctest::Approx(3.034e-3).epsilon(0.005));
    CHECK(state.stress == doctest::Approx(235.5e6).epsilon(0.02));
    CHECK(state.stress_x == doctest::Approx(0.0975).epsilon(0.05));
    CHECK(state.lowest / state.mean == doctest::Approx(1.0).epsilon(1e-3));
}

TEST_CASE("ribs add their stiffness") {
    // a rib of the plate's own E I = 205e9 · 465.75e-12 = 95.48 N·m² along the span halves the beam's bow; it
    // takes the middle of a narrow plate, so that the plate cannot bend away from it
    Plate narrow = plate_on_two_lines(4);
    narrow.height = 0.02;
    narrow.bolts.clear();
    for (const double x : {0.0, narrow.width})
        for (const double y : {0.005, 0.010, 0.015})
            narrow.bolts.push_back({x, y});
    narrow.bolt_force = 10.0;
    narrow.beds = {{0.0, 0.0, narrow.width, narrow.height, 1e3}};
    const double bow = pressed(narrow).bow;
    const double own = narrow.elastic_modulus * narrow.height * std::pow(narrow.thickness, 3) / 12.0;
    narrow.ribs = {{0.0, 0.01, narrow.width, 0.01, own}};
    CHECK(pressed(narrow).bow == doctest::Approx(0.5 * bow).epsilon(0.02));
    narrow.ribs = {{0.05, 0.0, 0.05, narrow.height, own}};  // across the span it does next to nothing
    CHECK(pressed(narrow).bow == doctest::Approx(bow).epsilon(0.02));
}

TEST_CASE("a square plate under even pressure, held at its corners") {
    // w(middle) = 0.02567 q a⁴ / D for ν = 0.25, 0.02551 for ν = 0.3: computed by Ritz's method with the
    // polynomials x^2i y^2j - 1 up to degree 16, in exact fractions. S. Timoshenko, S. Woinowsky-Krieger,
    // Theory of Plates and Shells, plates supported at the corners, has 0.0257 for ν = 0.25; recalled
    for (const double poisson : {0.25, 0.3}) {
        const double coefficient = poisson < 0.28 ? 0.02567 : 0.02551;
        CAPTURE(poisson);
        Plate plate;
        plate.width = plate.height = 0.3;
        plate.thickness = 0.005;
        plate.elastic_modulus = 70e9;
        plate.poisson = poisson;
        plate.bolt_force = 100.0;
        plate.beds = {{0.0, 0.0, 0.3, 0.3, 1e3}};
        for (const double x : {0.0, 0.3})
            for (const double y : {0.0, 0.3})
                plate.bolts.push_back({x, y});
        const double rigidity = 70e9 * std::pow(0.005, 3) / 12.0 / (1.0 - poisson * poisson);
        const double q = 400.0 / 0.09;
        const double bow = pressed(plate).bow;
        CHECK(bow * rigidity / (q * std::pow(0.3, 4)) == doctest::Approx(coefficient).epsilon(0.001));
    }
}

TEST_CASE("a large plate on an elastic bed under one force") {
    // Theory of Plates and Shells, plates on elastic foundation: w = P / (8 √(k D)) right under the force of
    // an endless plate that the bed also pulls; recalled. A bed that only pushes lets it sink a little more.
    Plate plate;
    plate.width = plate.height = 1.2;
    plate.thickness = 0.01;
    plate.elastic_modulus = 70e9;
    plate.poisson = 0.3;
    plate.bolt_force = 1000.0;
    plate.bolts = {{0.6, 0.6}};
    const double rigidity = 70e9 * 1e-6 / 12.0 / (1.0 - 0.09);
    const double k = rigidity / std::pow(0.1, 4);  // decays over 0.1 m
    plate.beds = {{0.0, 0.0, 1.2, 1.2, k}};
    const double deepest = pressed(plate, 2.0).highest / k;
    const double endless = 1000.0 / (8.0 * std::sqrt(k * rigidity));
    CHECK(deepest > 0.995 * endless);
    CHECK(deepest < 1.06 * endless);
}

TEST_CASE("what the bolts pull, the bed bears; no bed pulls") {
    for (const double thickness : {0.002, 0.003, 0.006, 0.012})
        for (const double cell : {5e6, 40e6}) {
            const Plate plate = end_plate(thickness, 70e9, cell);
            const PlateState state = pressed(plate);
            CHECK(state.mean == doctest::Approx(3000.0 / (0.174 * 0.207)).epsilon(1e-6));
            CHECK(state.lowest >= 0.0);
            CHECK(state.highest >= state.mean);
            CHECK(state.lowest <= state.in_middle);
        }
}

TEST_CASE("finer elements change next to nothing") {
    for (const double thickness : {0.003, 0.006, 0.010})
        for (const double cell : {5e6, 20e6, 40e6}) {
            CAPTURE(thickness);
            CAPTURE(cell);
            const Plate plate = end_plate(thickness, 205e9, cell);
            const PlateState coarse = pressed(plate);
            const PlateState fine = pressed(plate, 2.0);
            CHECK(std::abs(coarse.lowest - fine.lowest) < 0.005 * fine.mean);
            CHECK(std::abs(coarse.in_middle - fine.in_middle) < 0.005 * fine.mean);
            CHECK(std::abs(coarse.highest - fine.highest) < 0.01 * fine.mean);
            CHECK(coarse.bow == doctest::Approx(fine.bow).epsilon(0.005));
            CHECK(coarse.stress == doctest::Approx(fine.stress).epsilon(0.03));
        }
}

TEST_CASE("a thicker plate presses more evenly, a harder row less") {
    double before = -1.0;
    for (const double thickness : {0.003, 0.004, 0.006, 0.010, 0.020, 0.040}) {
        const PlateState state = pressed(end_plate(thickness, 205e9, 5e6));
        CHECK(state.lowest / state.mean > before);
        before = state.lowest / state.mean;
    }
    CHECK(before > 0.999);
    const PlateState soft = pressed(end_plate(0.006, 205e9, 5e6));
    const PlateState hard = pressed(end_plate(0.006, 205e9, 40e6));
    CHECK(soft.lowest / soft.mean > hard.lowest / hard.mean);
}

TEST_CASE("forces scale, and a mirrored plate gives a mirrored result") {
    Plate plate = end_plate(0.004, 70e9, 20e6);
    plate.bolts.pop_back();  // one corner is left out
    const PlateState state = pressed(plate);
    Plate heavier = plate;
    heavier.bolt_force *= 7.0;
    const PlateState pulled = pressed(heavier);
    CHECK(pulled.highest == doctest::Approx(7.0 * state.highest));
    CHECK(pulled.bow == doctest::Approx(7.0 * state.bow));
    CHECK(pulled.stress == doctest::Approx(7.0 * state.stress));
    Plate mirrored = plate;
    for (PlateBolt& bolt : mirrored.bolts)
        bolt.x = plate.width - bolt.x;
    const PlateState other = pressed(mirrored);
    CHECK(other.highest == doctest::Approx(state.highest).epsilon(1e-6));
    CHECK(other.in_middle == doctest::Approx(state.in_middle).epsilon(1e-6));
    CHECK(other.lowest_x == doctest::Approx(plate.width - state.lowest_x));
    CHECK(other.lowest_y == doctest::Approx(state.lowest_y));
    Plate turned;  // by a quarter turn
    turned = plate;
    std::swap(turned.width, turned.height);
    for (PlateBolt& bolt : turned.bolts)
        std::swap(bolt.x, bolt.y);
    for (PlateArea& bed : turned.beds) {
        std::swap(bed.x, bed.y);
        std::swap(bed.width, bed.height);
    }
    CHECK(pressed(turned).highest == doctest::Approx(state.highest).epsilon(1e-6));
    CHECK(pressed(turned).stress == doctest::Approx(state.stress).epsilon(1e-6));
}

TEST_CASE("two rows under one plate: a middle row of bolts mends it") {
    // six bolts in two outer columns; the strip of 20 mm between the rows is free
    Plate plate = end_plate(0.006, 205e9, 20e6);
    plate.width = 0.428;
    plate.bolts.clear();
    for (const double x : {0.015, 0.413})
        for (const double y : {0.020, 0.1035, 0.187})
            plate.bolts.push_back({x, y});
    const double bed = plate.beds[0].stiffness;
    plate.beds = {{0.030, 0.0, 0.174, 0.207, bed}, {0.224, 0.0, 0.174, 0.207, bed}};
    const PlateState six = pressed(plate);
    CHECK(six.lowest / six.mean < 0.1);
    CHECK(six.lowest_x == doctest::Approx(0.204).epsilon(0.1));  // beside the middle strip
    const auto row = best_row(plate);
    REQUIRE(row);
    CHECK(row->upright);
    CHECK(row->at == doctest::Approx(0.214));
    REQUIRE(row->bolts.size() == 3);
    CHECK(row->bolts[1].y == doctest::Approx(0.1035));
    CHECK(row->lowest_share > six.lowest / six.mean + 0.2);
    // and that share is what the plate with the row gives
    Plate nine = plate;
    nine.bolts.insert(nine.bolts.end(), row->bolts.begin(), row->bolts.end());
    nine.bolt_force *= 6.0 / 9.0;
    const PlateState mended = pressed(nine);
    CHECK(row->lowest_share == doctest::Approx(mended.lowest / mended.mean));
}

TEST_CASE("a stiff plate needs no further row, and a plate without a free strip gets none") {
    CHECK_FALSE(best_row(end_plate(0.040, 205e9, 5e6)));
    Plate full = end_plate(0.003, 205e9, 20e6);
    full.beds = {{0.0, 0.0, full.width, full.height, 1e8}};
    CHECK_FALSE(best_row(full));
}

TEST_CASE("a bed that ends a hair before the plate's edge is pressed like one that ends there") {
    const Plate plate = end_plate(0.012, 70e9, 10e6);
    const double share = pressed(plate).in_middle / pressed(plate).mean;
    for (const double short_by : {1e-7, 6e-6, 34e-6, 3e-4}) {
        CAPTURE(short_by);
        Plate shorter = plate;
        shorter.beds[0].height -= short_by;
        const PlateState state = pressed(shorter);
        CHECK(state.in_middle / state.mean == doctest::Approx(share).epsilon(2e-3));
    }
}

TEST_CASE("input without sense has no answer") {
    const Plate good = end_plate(0.006, 205e9, 20e6);
    REQUIRE(press(good));
    const auto refused = [&](auto change) {
        Plate plate = good;
        change(plate);
        CHECK_FALSE(press(plate));
        CHECK_FALSE(best_row(plate));
    };
    refused([](Plate& p) { p.bolts.clear(); });
    refused([](Plate& p) { p.beds.clear(); });
    refused([](Plate& p) { p.thickness = 0.0; });
    refused([](Plate& p) { p.width = -1.0; });
    refused([](Plate& p) { p.elastic_modulus = std::nan(""); });
    refused([](Plate& p) { p.poisson = 0.5; });
    refused([](Plate& p) { p.bolt_force = 0.0; });
    refused([](Plate& p) { p.bolts[0].x = 0.235; });
    refused([](Plate& p) { p.beds[0].stiffness = 0.0; });
    refused([](Plate& p) { p.beds[0].width = 0.21; });
    refused([](Plate& p) { p.beds.push_back({0.1, 0.1, 0.05, 0.05, 1e8}); });
    refused([](Plate& p) { p.ribs = {{0.0, 0.0, 0.1, 0.1, 10.0}}; });
    refused([](Plate& p) { p.ribs = {{0.0, 0.1, 0.3, 0.1, 10.0}}; });
    refused([](Plate& p) { p.ribs = {{0.1, 0.1, 0.1, 0.1, 10.0}}; });
    refused([](Plate& p) { p.bolts.resize(201, {0.1, 0.1}); });
    CHECK_FALSE(press(good, 0.0));
}
