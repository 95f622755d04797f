// Round wires held together, as a method of rule data.
#include <array>
#include <cmath>

#include "engine/solve/bundle.hpp"
#include "engine/solve/method.hpp"

namespace packproof::solve {

namespace {

constexpr std::array wire_fields{MethodField{"diameter", "m"}, MethodField{"count", "", false}};
constexpr std::array lists{MethodList{"wires", wire_fields}};
constexpr std::array questions{
    MethodQuestion{"diameter of the bundle", MethodQuestion::Form::number, "m"},
    MethodQuestion{"sum of squares", MethodQuestion::Form::number, "m²"},
    MethodQuestion{"number of wires", MethodQuestion::Form::number, ""},
};

constexpr double most_wires = 10'000.0;
constexpr std::size_t most_exact = 3;
/// What the search finds for more wires may be off by so much, as a share: it is a packing, not proven the
/// closest.
constexpr double search_error = 0.01;

/// The wires one by one, their diameters at one end of their tolerance or at their nominal value.
std::optional<std::vector<double>> wires(const MethodInput& input, double (*of)(const Amount&)) {
    std::vector<double> diameters;
    for (const MethodRow& row : input.lists[0]) {
        const double count = row[1] ? std::round(of(*row[1])) : 1.0;
        if (!(count >= 0.0) || static_cast<double>(diameters.size()) + count > most_wires)
            return std::nullopt;
        diameters.insert(diameters.end(), static_cast<std::size_t>(count), of(*row[0]));
    }
    return diameters;
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t) {
    std::vector<MethodAnswer> answers(questions.size());
    const auto least = wires(input, [](const Amount& a) { return a.range.low; });
    const auto nominal = wires(input, [](const Amount& a) { return a.nominal; });
    const auto most = wires(input, [](const Amount& a) { return a.range.high; });
    if (!least || !nominal || !most) return answers;
    auto amount = [&](auto&& of) {
        const double middle = of(*nominal);
        const double low = *least == *nominal ? middle : of(*least);
        const double high = *most == *nominal ? middle : of(*most);
        return Amount{{std::min(low, middle), std::max(high, middle)}, middle};
    };
    if (!most->empty()) {
        Amount diameter = amount([](const std::vector<double>& d) { return bundle_diameter(d); });
        if (most->size() > most_exact)
            diameter.range = diameter.range * units::Interval{1.0 - search_error, 1.0 + search_error};
        answers[0] = diameter;
    }
    answers[1] = amount([](const std::vector<double>& d) {
        double sum = 0.0;
        for (const double one : d)
            sum += one * one;
        return sum;
    });
    answers[2] = amount([](const std::vector<double>& d) { return static_cast<double>(d.size()); });
    return answers;
}

}  // namespace

const Method& bundle_method() {
    static const Method method{"bundle of round wires",
                               "the smallest circle that holds wires of these diameters side by side",
                               {},
                               lists,
                               questions,
                               answer};
    return method;
}

}  // namespace packproof::solve
