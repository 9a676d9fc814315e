#include "heatside/report/wire_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/ageing/arrhenius.hpp"
#include "heatside/report/cautions.hpp"
#include "report/json_parts.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

KelvinRise margin(const WireAnswer& answer) { return answer.limit - answer.temperatures.hottest_insulation(); }

KelvinRise rise(const WireAnswer& answer) { return answer.temperatures.conductor - answer.air; }

// One decimal, and no sign before a zero.
std::string tenths(double value) {
  const std::string text = fmt::format("{:.1f}", value);
  return text == "-0.0" ? "0.0" : text;
}

std::string degrees(Kelvin temperature) { return tenths(in_celsius(temperature)) + " degC"; }

// Three significant figures: more would claim what the method cannot give.
std::string amperes(Amperes current) { return plain_number(current.value(), 3) + " A"; }

std::string margin_text(const WireAnswer& answer) {
  const double kelvin = margin(answer).value();
  const std::string size = tenths(std::abs(kelvin));
  std::string text =
      size == "0.0" ? "0.0 K, at the limit" : size + (kelvin < 0.0 ? " K above the limit" : " K below the limit");
  const double current = answer.current.value(), allowed = answer.allowed.value();
  if (answer.bundle.loaded == 0 || current <= 0.0) return text + "; no current stated";
  if (allowed <= 0.0) return text + "; the surroundings alone reach the limit";
  return text + fmt::format("; the current is {:.0f} % of the allowed one", 100.0 * current / allowed);
}

bool has_wet_path(const library::Insulation& insulation) {
  return std::any_of(insulation.paths.begin(), insulation.paths.end(),
                     [](const library::AgeingPath& path) { return path.kind == library::PathKind::hydrolysis; });
}

// Two significant figures below ten, whole numbers above.
std::string rough(double value) { return value < 10.0 ? plain_number(value, 2) : fmt::format("{:.0f}", value); }

std::string counted(const std::string& number, const std::string& unit) {
  return fmt::format("about {} {}{}", number, unit, number == "1" ? "" : "s");
}

// "about 0.31 years (2710 h)", "about 20 days (480 h)"
std::string life_span(Hours life, Years cap) {
  const double in_years = years(life).value();
  if (in_years > cap.value()) return fmt::format("over {:.0f} years by heat alone, other causes come first", cap.value());
  constexpr double hours_per_day = 24.0;
  std::string text;
  if (in_years < 0.1) {
    text = counted(rough(life.value() / hours_per_day), "day");
  } else {
    text = counted(in_years < 1.0 ? plain_number(in_years, 2) : fmt::format("{:.0f}", in_years), "year");
  }
  return text + fmt::format(" ({} h)", rough(life.value()));
}

std::string life_text(const WireAnswer& answer, Years cap) {
  if (answer.insulation == nullptr) return "not known: no insulation was named";
  const library::Insulation& insulation = *answer.insulation;
  std::string text = fmt::format(
      "{}. Until {} % elongation at break is left, held there without a break; likely lot, line through "
      "{} h at {} degC [{}]",
      life_span(likely_dry_life(insulation, answer.temperatures.hottest_insulation()), cap),
      plain_number(insulation.end_elongation.value), plain_number(insulation.life_hours.value),
      plain_number(insulation.life_temperature.value), name_of(library::weakest_grade(insulation)));
  return has_wet_path(insulation) ? text + "; damp, which shortens it, is not counted" : text;
}

std::string line(std::string_view label, std::string_view value) { return wrapped(value, fitted(label, 24)); }

std::string results_text(const WireAnswer& answer, Years cap) {
  const exposure::WireTemperatures& at = answer.temperatures;
  std::string text = line("conductor", degrees(at.conductor));
  text += line("insulation, inside", degrees(at.insulation_inner));
  text += line("insulation, outside", degrees(at.insulation_outer));
  text += line(answer.bundle.wires > 1 ? "surface of the bundle" : "surface", degrees(at.surface));
  text += line("rise over the air", tenths(rise(answer).value()) + " K, of the conductor");
  text += line("own heat", plain_number(at.own_heat.value(), 3) + " W/m, of all loaded wires");
  text += line("limit", fmt::format("{} ({})", degrees(answer.limit), answer.limit_from));
  text += line("allowed current", amperes(answer.allowed) + (answer.bundle.loaded > 1 ? " in each loaded wire" : "") +
                                      ", steady; not the rating of a fuse");
  text += line("margin", margin_text(answer));
  text += line("ages as if held at", degrees(at.hottest_insulation()) + ", the hottest insulation");
  return text + line("life at that", life_text(answer, cap));
}

// What tests against published tables and handbook examples showed.
std::string tolerance_text(const WireAnswer& answer) {
  std::string text = wrapped(
      "How near this comes: +-5 % in current against tables made from a heat balance; the tables of rules lie 5 to 20 % "
      "lower, because they keep a reserve. Count on +-10 % in current and +-20 % in rise for a single wire in still air. "
      "Not for wires that touch a surface.",
      "");
  if (answer.bundle.wires > 1) {
    text += wrapped(
        "A bundle is taken as one round body with the heat spread over it: indicative, the more so with few loaded wires.",
        "");
  }
  return text;
}

std::string reliance_text(const WireAnswer& answer) {
  std::string text;
  for (std::size_t grade = grade_names.size(); grade-- > 0;) {
    std::vector<std::string> parts;
    for (const library::Reliance& part : answer.rests_on) {
      if (part.weakest == static_cast<Grade>(grade))
        parts.push_back(fmt::format("{} {} ({})", part.kind, part.id, part.name));
    }
    if (!parts.empty()) text += wrapped(join(parts, "; ") + ".", fmt::format("Rests on {}: ", grade_names[grade]));
  }
  return text;
}

}  // namespace

Hours likely_dry_life(const library::Insulation& insulation, Kelvin temperature) {
  const Kelvin reference = celsius(insulation.life_temperature.value);
  double faster = 0.0;
  for (const library::AgeingPath& path : insulation.paths) {
    if (path.kind == library::PathKind::hydrolysis) continue;
    faster += path.share.value *
              ageing::acceleration_factor({reference, temperature}, kilojoule_per_mole(path.activation_energy.value));
  }
  return Hours{insulation.life_hours.value * insulation.lot_median.value / faster};
}

std::string wire_text(const WireAnswer& answer, Years plain_words_cap, const std::string& engine) {
  std::string text = wrapped(answer.question, "") + '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n' + results_text(answer, plain_words_cap) + '\n' + tolerance_text(answer) + '\n' + reliance_text(answer);
  return text + "\n" + engine + '\n';
}

std::string wire_json(const WireAnswer& answer, const std::string& engine) {
  const exposure::WireTemperatures& at = answer.temperatures;
  Json life;
  if (answer.insulation != nullptr) life = likely_dry_life(*answer.insulation, at.hottest_insulation()).value();
  const Json document{{"format", "heatside-wire"},
                      {"version", 1},
                      {"engine", engine},
                      {"conductor_Cel", in_celsius(at.conductor)},
                      {"insulation_inner_Cel", in_celsius(at.insulation_inner)},
                      {"insulation_outer_Cel", in_celsius(at.insulation_outer)},
                      {"surface_Cel", in_celsius(at.surface)},
                      {"rise_K", rise(answer).value()},
                      {"limit_Cel", in_celsius(answer.limit)},
                      {"allowed_current_A", answer.allowed.value()},
                      {"margin_K", margin(answer).value()},
                      {"own_heat_W_per_m", at.own_heat.value()},
                      {"equivalent_temperature_Cel", in_celsius(at.hottest_insulation())},
                      {"life_hours", life},
                      {"rests_on", reliance_json(answer.rests_on)},
                      {"cautions", cautions()}};
  return document_text(document);
}

}  // namespace heatside::report
