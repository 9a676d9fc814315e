#include "report/measured_report.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/layout.hpp"

namespace heatside::report {

namespace {

using exposure::ReadingResidual;
using exposure::RiseSpread;
using exposure::ZoneCorrection;

std::string moved(const RiseSpread& before, const RiseSpread& after) {
  return fmt::format("{:+.0f} K to {:.0f}", (after.mean - before.mean).value(), after.mean.value());
}

std::string narrowed(const RiseSpread& before, const RiseSpread& after) {
  return fmt::format("{:.0f} to {:.0f} K", before.sd.value(), after.sd.value());
}

std::string zone_table(const exposure::ZoneScores& scores) {
  std::vector<std::vector<std::string>> rows;
  for (const ZoneCorrection& zone : scores.corrections) {
    rows.push_back({zone.zone, zone.measured ? "measured" : "moved with it", moved(zone.city_before, zone.city_after),
                    narrowed(zone.city_before, zone.city_after), moved(zone.soak_peak_before, zone.soak_peak_after),
                    narrowed(zone.soak_peak_before, zone.soak_peak_after)});
  }
  return table({"zone", "", "in town", "its sd", "soak peak", "its sd"}, rows);
}

std::string reading_text(const ReadingResidual& residual) {
  return fmt::format("{}, {}: {:.0f} degC at {:.0f} degC outside; {:.0f} +- {:.0f} were expected, {:.0f} are after it",
                     residual.reading.zone, residual.reading.instant, in_celsius(residual.reading.temperature),
                     in_celsius(residual.reading.ambient), in_celsius(residual.expected), residual.expected_sd.value(),
                     in_celsius(residual.expected_after));
}

Json spread_json(const RiseSpread& before, const RiseSpread& after) {
  return {{"before", before.mean.value()},
          {"before_sd", before.sd.value()},
          {"after", after.mean.value()},
          {"after_sd", after.sd.value()}};
}

}  // namespace

std::string measured_text(const exposure::ZoneScores& scores) {
  if (scores.residuals.empty()) return "";
  std::string text =
      "Measured temperatures moved the zones (rise over an ambient of 25 degC; sd: standard deviation). They\n"
      "correct a zone and do not replace it: one day is not the service.\n" +
      zone_table(scores);
  for (const ReadingResidual& residual : scores.residuals) text += wrapped(reading_text(residual) + ".", "  - ");
  for (const std::string& warning : scores.warnings) text += wrapped(warning, "! ");
  return text + '\n';
}

Json measured_json(const exposure::ZoneScores& scores, const casefile::Case& job) {
  Json zones = Json::array(), readings = Json::array();
  for (const ZoneCorrection& zone : scores.corrections) {
    zones.push_back({{"zone", zone.zone},
                     {"measured", zone.measured},
                     {"score", {{"mean", zone.score.mean}, {"sd", zone.score.sd}}},
                     {"city_rise_K", spread_json(zone.city_before, zone.city_after)},
                     {"soak_peak_K", spread_json(zone.soak_peak_before, zone.soak_peak_after)}});
  }
  for (const ReadingResidual& residual : scores.residuals) {
    readings.push_back({{"at", job.measured[residual.reading.measured].pointer},
                        {"zone", residual.reading.zone},
                        {"instant", residual.reading.instant},
                        {"temperature_Cel", in_celsius(residual.reading.temperature)},
                        {"ambient_Cel", in_celsius(residual.reading.ambient)},
                        {"expected_Cel", in_celsius(residual.expected)},
                        {"expected_sd_K", residual.expected_sd.value()},
                        {"expected_after_Cel", in_celsius(residual.expected_after)},
                        {"doubtful", residual.doubtful}});
  }
  return {{"zones", zones}, {"readings", readings}, {"warnings", scores.warnings}};
}

}  // namespace heatside::report
