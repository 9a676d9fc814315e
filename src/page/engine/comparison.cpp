#include <algorithm>
#include <optional>

#include "base/strict_json.hpp"
#include "heatside/base/date.hpp"
#include "heatside/base/error.hpp"
#include "heatside/remedy/compare.hpp"
#include "heatside/report/compare_report.hpp"
#include "page/engine/asks.hpp"

namespace heatside::page {

namespace {

remedy::PlacedId change_of(const Request& request, const char* key, const std::string& words, const char* usual) {
  const std::optional<remedy::PlacedId> change = remedy::placed_id(words, usual);
  if (!change) request.refuse(key, "\"" + words + "\" is not SEGMENT=ID or SEGMENT/STRETCH=ID");
  return *change;
}

std::optional<Date> date_of(const Request& request) {
  if (!request.has("date")) return std::nullopt;
  const std::optional<Date> date = parse_date(request.text("date"));
  if (!date) request.refuse("date", "a date such as 2030 or 2030-06-01 is needed");
  return date;
}

remedy::CompareRequest wanted_of(const Request& request, const library::Library& library) {
  remedy::CompareRequest wanted;
  wanted.insulations = request.flag("all") ? library::ids_of(library.insulations) : request.texts("insulations");
  wanted.looms = request.texts("looms");
  wanted.made = date_of(request);
  wanted.wanted = Years{request.number("years", 0.1, 200.0).value_or(15.0)};
  wanted.chance = 0.01 * request.number("chance", 1.0, 99.0).value_or(50.0);
  wanted.what_if.ambient = KelvinRise{request.number("ambient", -30.0, 30.0).value_or(0.0)};
  wanted.what_if.duty = request.text_or("duty", "");
  for (const std::string& words : request.texts("sleeve")) {
    auto [spot, covering] = change_of(request, "sleeve", words, remedy::usual_sleeve);
    wanted.what_if.sleeves.push_back({std::move(spot), std::move(covering)});
  }
  for (const std::string& words : request.texts("reroute")) {
    auto [spot, zone] = change_of(request, "reroute", words, nullptr);
    wanted.what_if.reroutes.push_back({std::move(spot), std::move(zone)});
  }
  if (wanted.insulations.empty() && !wanted.what_if.any())
    request.refuse("insulations", "nothing to compare: name insulations, or a change of covering, zone, ambient or duty");
  return wanted;
}

}  // namespace

std::string compared(const Request& request, Memory& memory) {
  const remedy::CompareRequest wanted = wanted_of(request, memory.library());
  const Drawn& drawn = memory.drawn(request.case_text(), request.draw_choice());
  const casefile::Case& job = drawn.opened->job;
  std::vector<Problem> problems;
  for (std::string& problem : remedy::problems_of(wanted, job, memory.library()))
    problems.push_back({"request", "", std::move(problem)});
  if (!problems.empty()) throw InputError(std::move(problems));
  const remedy::Comparison comparison = remedy::compare(job, memory.library(), drawn.answer, wanted);
  return report::compare_json(comparison, drawn.answer.estimate, job, memory.library(),
                              certificate_for(drawn.opened->from, drawn.choice.seed));
}

}  // namespace heatside::page
