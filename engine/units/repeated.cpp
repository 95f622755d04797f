#include "engine/units/repeated.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/units/coverage_factor.hpp"

namespace packproof::units {

namespace {

std::optional<Unfit> unfit_component(const TypeB& component) {
    if (!std::isfinite(component.value)) return Unfit::not_finite;
    if (component.value < 0.0) return Unfit::negative_uncertainty;
    if (component.form == TypeB::Form::expanded) {
        if (!std::isfinite(component.factor)) return Unfit::not_finite;
        if (component.factor <= 0.0) return Unfit::factor;
    }
    if (!(component.degrees >= 1.0)) return Unfit::degrees;
    return std::nullopt;
}

double standard_of(const TypeB& component) {
    switch (component.form) {
        case TypeB::Form::half_width:
            return component.value / std::numbers::sqrt3;
        case TypeB::Form::standard:
            return component.value;
        case TypeB::Form::expanded:
            return component.value / component.factor;
    }
    return component.value;
}

/// About the first reading, so that readings that differ in their last digits only keep them.
void average(const std::vector<double>& readings, MeanReading& result) {
    const double first = readings.front();
    const auto count = static_cast<double>(readings.size());
    double sum = 0.0;
    for (const double reading : readings)
        sum += reading - first;
    const double shift = sum / count;
    result.mean = first + shift;
    if (readings.size() < 2) return;
    double squares = 0.0;
    for (const double reading : readings) {
        const double off = (reading - first) - shift;
        squares += off * off;
    }
    result.deviation = std::sqrt(squares / (count - 1.0));
    result.mean_deviation = *result.deviation / std::sqrt(count);
}

void list_contributions(const RepeatedReadings& given, MeanReading& result) {
    using Source = Contribution::Source;
    const double infinite = std::numeric_limits<double>::infinity();
    if (result.mean_deviation) {
        const auto degrees = static_cast<double>(given.readings.size() - 1);
        result.contributions.push_back({Source::scatter, 0, *result.mean_deviation, degrees, 0.0});
    }
    if (given.digit_step > 0.0) {
        const double standard = 0.5 * given.digit_step / std::numbers::sqrt3;
        result.contributions.push_back({Source::digit, 0, standard, infinite, 0.0});
    }
    for (std::size_t n = 0; n < given.components.size(); ++n) {
        const TypeB& component = given.components[n];
        result.contributions.push_back(
            {Source::component, n, standard_of(component), component.degrees, 0.0});
    }
}

/// 15.999999999999 of exact 16 by rounding of the sums is 16.
double rounded_down(double degrees) {
    return std::floor(degrees * (1.0 + 1e-12));
}

/// u_c, shares and degrees. Everything is taken relative to the largest, so that no fourth power is lost.
void add_up(MeanReading& result) {
    double largest = 0.0;
    for (const Contribution& one : result.contributions)
        largest = std::max(largest, one.standard);
    double squares = 0.0;
    for (const Contribution& one : result.contributions)
        squares += largest > 0.0 ? (one.standard / largest) * (one.standard / largest) : 0.0;
    result.combined = largest * std::sqrt(squares);
    double fourths = 0.0;
    for (Contribution& one : result.contributions) {
        if (largest == 0.0) continue;
        one.share = (one.standard / largest) * (one.standard / largest) / squares;
        fourths += one.share * one.share / one.degrees;
    }
    result.effective_degrees = fourths > 0.0 ? 1.0 / fourths : std::numeric_limits<double>::infinity();
    result.degrees = rounded_down(result.effective_degrees);
}

std::optional<Unfit> unfit_input(const RepeatedReadings& given) {
    if (given.readings.empty()) return Unfit::no_reading;
    for (const double reading : given.readings)
        if (!std::isfinite(reading)) return Unfit::not_finite;
    for (const TypeB& component : given.components)
        if (const auto why = unfit_component(component)) return why;
    if (!std::isfinite(given.digit_step)) return Unfit::not_finite;
    if (given.digit_step < 0.0) return Unfit::negative_uncertainty;
    if (!(given.coverage > 0.0 && given.coverage < 1.0)) return Unfit::coverage;
    return std::nullopt;
}

MeanReading combined_of(const RepeatedReadings& given) {
    MeanReading result;
    average(given.readings, result);
    list_contributions(given, result);
    add_up(result);
    result.factor = coverage_factor(given.coverage, result.degrees).value_or(0.0);
    result.expanded = result.factor * result.combined;
    return result;
}

bool finite(const MeanReading& result) {
    return std::isfinite(result.mean) && std::isfinite(result.deviation.value_or(0.0)) &&
           std::isfinite(result.expanded);
}

}  // namespace

std::optional<Unfit> unfit(const RepeatedReadings& given) {
    if (const auto why = unfit_input(given)) return why;
    if (!finite(combined_of(given))) return Unfit::not_finite;
    return std::nullopt;
}

std::optional<MeanReading> combine(const RepeatedReadings& given) {
    if (unfit_input(given)) return std::nullopt;
    MeanReading result = combined_of(given);
    if (!finite(result)) return std::nullopt;
    return result;
}

}  // namespace packproof::units
