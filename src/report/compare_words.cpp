#include "report/compare_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace heatside::report {

namespace {

using remedy::Candidate;
using remedy::HotMoment;

// Never "-0".
double whole(double value) { return std::round(value) + 0.0; }

}  // namespace

std::string_view name_of(HotMoment moment) {
  constexpr std::array<std::string_view, 3> names{"running", "soak", "parked"};
  return names[static_cast<std::size_t>(moment)];
}

std::string_view words_of(HotMoment moment) {
  constexpr std::array<std::string_view, 3> words{"while running", "after key-off", "while parked"};
  return words[static_cast<std::size_t>(moment)];
}

std::string name_of(const Candidate& candidate) { return candidate.insulation.empty() ? "as fitted" : candidate.insulation; }

std::string class_of(const Candidate& candidate) {
  if (candidate.insulation.empty()) return "";
  return candidate.of_class ? std::string{candidate.of_class->letter} : "below A";
}

std::string needed_class(const std::optional<remedy::TemperatureClass>& needed) {
  return needed ? fmt::format("{} ({})", needed->letter, needed->celsius) : "above H";
}

std::string years_in_column(Years years, double cap) {
  if (years.value() > cap) return fmt::format("> {:.0f}", cap);
  if (years.value() < -cap) return fmt::format("< -{:.0f}", cap);
  if (std::abs(years.value()) < 9.95) return fmt::format("{:.1f}", whole(10.0 * years.value()) / 10.0);
  return fmt::format("{:.0f}", whole(years.value()));
}

std::string after_in_words(Years years, double cap) {
  const double size = std::abs(years.value());
  const bool ago = years.value() < 0.0;
  if (size > cap) return ago ? fmt::format("over {:.0f} years ago", cap) : fmt::format("after more than {:.0f} years", cap);
  const std::string count = size < 0.95 ? "less than a year" : fmt::format("{:.0f} year{}", size, size < 1.5 ? "" : "s");
  return ago ? count + " ago" : "after " + count;
}

std::string chance_in_column(double chance) {
  if (chance > 0.99 && chance < 1.0) return "over 99 %";
  if (chance > 0.0 && chance < 0.01) return "under 1 %";
  return fmt::format("{:.0f} %", 100.0 * chance);
}

std::string chance_in_words(double chance) {
  if (chance >= 1.0) return "all draws";
  if (chance > 0.99) return "over 99 of 100 draws";
  if (chance <= 0.0) return "none of the draws";
  if (chance < 0.01) return "under 1 of 100 draws";
  return fmt::format("{:.0f} of 100 draws", 100.0 * chance);
}

std::string margin_in_column(const population::Quantiles<KelvinRise>& margin) {
  return fmt::format("{:.0f} ({:.0f} to {:.0f})", whole(margin.p50.value()), whole(margin.p10.value()),
                     whole(margin.p90.value()));
}

std::string heat_in_column(const population::Quantiles<Kelvin>& hottest) {
  return fmt::format("{:.0f} ({:.0f} to {:.0f})", whole(in_celsius(hottest.p50)), whole(in_celsius(hottest.p10)),
                     whole(in_celsius(hottest.p90)));
}

const remedy::ZoneOutcome& tightest_zone(const Candidate& candidate) {
  return *std::min_element(
      candidate.zones.begin(), candidate.zones.end(),
      [](const remedy::ZoneOutcome& a, const remedy::ZoneOutcome& b) { return a.heat.margin().p50 < b.heat.margin().p50; });
}

}  // namespace heatside::report
