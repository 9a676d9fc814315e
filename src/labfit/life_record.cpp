#include "heatside/labfit/life_record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/base/constants.hpp"

namespace heatside::labfit {

namespace {

constexpr double kilojoule = 1.0e-3 * molar_gas_constant;  // of a slope of 1 K [kJ/mol]

// Source and grade of everything that the fit says.
struct Origin {
  std::string source, grade;
};

Json number(double value, const char* unit, const Origin& from) {
  return {{"value", value}, {"unit", unit}, {"source", from.source}, {"grade", from.grade}};
}

void check_point(const LifePoint& point) {
  const double energy = in_kilojoule_per_mole(point.energy), degrees = in_celsius(point.temperature);
  const auto refuse = [](const char* what, double value, double low, double high, const char* unit) {
    if (value >= low && value <= high) return;
    throw DomainError(fmt::format("no record: {} {} {} lies outside what a record may hold, {} to {} {}", what,
                                  plain_number(value), unit, plain_number(low), plain_number(high), unit));
  };
  refuse("activation energy", energy, 5.0, 400.0, "kJ/mol");
  refuse("life temperature", degrees, 20.0, 400.0, "Cel");
  refuse("life", point.hours.value(), 1.0, 1.0e7, "h");
}

Json with_limits(double value, double lo, double hi, const char* unit, const Origin& from) {
  Json entry{{"value", value}, {"unit", unit}, {"low", lo}, {"high", hi}};
  entry["source"] = from.source;
  entry["grade"] = from.grade;
  return entry;
}

// About 5 to 95 % of belief, as everywhere in the library.
constexpr double z_ninety = 1.6448536269514722;

Json hours_json(const LifePoint& point, const Origin& from) {
  const double reach = z_ninety * std::sqrt(point.ln_hours_variance), hours = point.hours.value();
  return with_limits(hours, hours * std::exp(-reach), hours * std::exp(reach), "h", from);
}

Json energy_json(const LifePoint& point, const Origin& from) {
  const double energy = in_kilojoule_per_mole(point.energy), sd = std::sqrt(point.energy_variance);
  Json entry = with_limits(energy, std::max(energy - z_ninety * sd, 1.0), energy + z_ninety * sd, "kJ/mol", from);
  entry["sd"] = sd;
  return entry;
}

Json life_json(const LifePoint& point, const Json& like, const Origin& from, const RecordRequest& request) {
  Json life{{"temperature", number(in_celsius(point.temperature), "Cel", from)}, {"hours", hours_json(point, from)}};
  life["end_elongation"] =
      request.end_elongation ? number(*request.end_elongation, "%", from) : like["thermal_life"]["end_elongation"];
  life["basis"] = "measured";
  return life;
}

// The dry path that does most, with the fitted energy; the tests cannot tell several apart.
Json paths_json(const LifePoint& point, const Json& like, const Origin& from) {
  const Json* main = nullptr;
  Json paths = Json::array(), wet = Json::array();
  for (const Json& path : like["paths"]) {
    if (path["kind"] == "hydrolysis") {
      wet.push_back(path);
    } else if (main == nullptr || path["share"]["value"] > (*main)["share"]["value"]) {
      main = &path;
    }
  }
  Json path = *main;
  path.erase("note");
  path["share"] = number(1.0, "1", {"judgement", "judgement"});
  path["share"]["note"] = "One dry path: the test gives one energy.";
  path["activation_energy"] = energy_json(point, from);
  paths.push_back(path);
  for (const Json& other : wet) paths.push_back(other);
  return paths;
}

Json covariance_json(const LifePoint& point, const Origin& from) {
  return {{"ln_hours_variance", number(point.ln_hours_variance, "1", from)},
          {"ln_hours_energy", number(point.ln_hours_energy, "kJ/mol", from)},
          {"energy_variance", number(point.energy_variance, "kJ2/mol2", from)},
          {"note", "Of ln hours and activation energy at the temperature of the life point, together."}};
}

Json lot_json(const Json& like) {
  Json lot{{"median", number(1.0, "1", {"judgement", "judgement"})}, {"ln_sd", like["lot"]["ln_sd"]}};
  lot["median"]["note"] = "The life is a measured one; that the lot tested is a middling one is taken for granted.";
  lot["note"] = "How lots differ is no result of this test; the spread is that of the record it leans on.";
  return lot;
}

std::string note_of(const LifePoint& point, const Json& like, const RecordRequest& request) {
  const std::size_t dry = static_cast<std::size_t>(std::count_if(
      like["paths"].begin(), like["paths"].end(), [](const Json& path) { return path["kind"] != "hydrolysis"; }));
  std::string text = fmt::format(
      "Life point, energy and their covariance: {}, table {} (sha256 {}), {} temperatures from {} to "
      "{} Cel. Everything else is taken from {}, with the grades it has there.",
      point.found_by, request.data_name, request.data_sha256.substr(0, 16), point.tested.size(),
      plain_number(in_celsius(point.tested.front())), plain_number(in_celsius(point.tested.back())),
      like["id"].get<std::string>());
  if (dry > 1)
    text += " That record has several dry paths; this one has a single one, so life far below the ovens may be overstated.";
  if (like.contains("guard_paths"))
    text += " Its separate path for the stabiliser is left out: the fitted energy is that of the whole life.";
  return text;
}

}  // namespace

LifePoint life_point(const LifeModel& model, Kelvin temperature) {
  const LnLife life = ln_life(model, temperature, 0.5);
  const double x = 1.0 / temperature.value() - model.pivot;
  const std::size_t n = model.parameters;
  const auto c = [&](std::size_t row, std::size_t column) { return model.covariance[row * n + column]; };
  // d ln hours = d(level) + x d(slope) + z scale d(ln scale)
  double with_slope = c(0, 1) + x * c(1, 1);
  const double z = standard_quantile(model.distribution, 0.5);
  if (z != 0.0) {
    const auto found = std::find(model.temperatures.begin(), model.temperatures.end(), temperature);
    const std::size_t index = model.scales.size() == 1 ? 0 : static_cast<std::size_t>(found - model.temperatures.begin());
    with_slope += z * model.scales[index] * c(2 + index, 1);
  }
  return {temperature,
          Hours{std::exp(life.value)},
          JoulePerMole{molar_gas_constant * model.slope},
          life.error * life.error,
          kilojoule * with_slope,
          kilojoule * kilojoule * c(1, 1),
          fmt::format("{} fit by maximum likelihood", name_of(model.distribution)),
          model.temperatures};
}

namespace {

LifePoint point_of_crossings(const ReadingStudy& readings) {
  if (!readings.crossing_line || !readings.level_variance) {
    throw DomainError(
        "no record: fewer than two temperatures reached the end point, or nothing tells how sure their line is; repeat "
        "readings or add a temperature");
  }
  const StraightLine& line = *readings.crossing_line;
  const Kelvin temperature = celsius(std::round(1.0 / line.mean_x - ice_point_kelvin));
  const double away = 1.0 / temperature.value() - line.mean_x;
  LifePoint point{temperature,
                  Hours{std::exp(line.level + line.slope * away)},
                  JoulePerMole{molar_gas_constant * line.slope},
                  *readings.level_variance + away * away * *readings.slope_variance,
                  kilojoule * away * *readings.slope_variance,
                  kilojoule * kilojoule * *readings.slope_variance,
                  "line through the hours at which mean readings crossed the end point",
                  {}};
  for (const Crossing& crossing : readings.crossings) {
    if (crossing.hours) point.tested.push_back(crossing.temperature);
  }
  return point;
}

}  // namespace

LifePoint life_point(const Study& study) {
  if (study.preferred) {
    const LifeModel& model = study.models[*study.preferred];
    // A quantile is known everywhere with one scale, else only where it was tested.
    return life_point(model, model.scales.size() == 1 ? middle_temperature(model) : model.temperatures.front());
  }
  if (!study.readings) throw DomainError("no record: there is no fitted line of lives to make one from");
  return point_of_crossings(*study.readings);
}

Kelvin middle_temperature(const LifeModel& model) {
  const double degrees = std::round(1.0 / model.pivot - ice_point_kelvin);
  return celsius(degrees);
}

std::string life_record(const LifePoint& point, const RecordRequest& request) {
  const Json like = read_strict_json(request.like_text, "the record that --like names");
  check_point(point);
  const Origin from{request.source.value_or("fitted-test"), request.source ? "published" : "measured"};

  Json record = like;
  record["id"] = request.id;
  record["name"] = request.name.value_or(like["name"].get<std::string>() + ", oven test");
  record["note"] = note_of(point, like, request);
  record["thermal_life"] = life_json(point, like, from, request);
  record["lot"] = lot_json(like);
  record["paths"] = paths_json(point, like, from);
  record.erase("guard_paths");
  if (request.initial_elongation) record["initial_elongation"] = number(*request.initial_elongation, "%", from);
  // Beside the numbers it belongs to.
  Json ordered = Json::object();
  for (const auto& [key, value] : record.items()) {
    if (key == "fit_covariance") continue;
    ordered[key] = value;
    if (key == "thermal_life") ordered["fit_covariance"] = covariance_json(point, from);
  }
  return ordered.dump(2) + '\n';
}

}  // namespace heatside::labfit
