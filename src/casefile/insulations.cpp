#include "casefile/insulations.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"

namespace heatside::casefile {

namespace {

int year_of(const Date& date) { return static_cast<int>(std::chrono::year_month_day{date.day}.year()); }

void sort_heaviest_first(Candidates& candidates) {
  std::sort(candidates.begin(), candidates.end(), [](const InsulationCandidate& a, const InsulationCandidate& b) {
    return a.weight != b.weight ? a.weight > b.weight : a.insulation < b.insulation;
  });
}

std::string in_words(const Candidates& candidates) {
  std::vector<std::string> words;
  for (const InsulationCandidate& candidate : candidates) {
    words.push_back(fmt::format("{} {} %", candidate.insulation, plain_number(100.0 * candidate.weight, 3)));
  }
  return join(words);
}

void expect_insulations(const Candidates& candidates, const std::string& pointer, Reading& reading) {
  for (const InsulationCandidate& candidate : candidates) {
    if (reading.library.insulations.count(candidate.insulation) == 1) continue;
    reading.complain(child_pointer(pointer, candidate.insulation),
                     unknown_word("insulation", candidate.insulation, library::ids_of(reading.library.insulations)));
  }
}

// Keys are ids of records, so there is no list of known keys to refuse others by.
Candidates read_weights(Fields weights, const Json& value, Reading& reading) {
  const std::size_t before = reading.problems.size();
  Candidates candidates;
  std::vector<double> parts;
  for (const auto& member : value.items()) {
    candidates.push_back({member.key(), 0.0});
    parts.push_back(read_share(weights, member.key()));
  }
  expect_insulations(candidates, weights.pointer(), reading);
  if (reading.problems.size() != before) return {};
  expect_whole(parts, weights.pointer(), "the weights of the candidates", reading);
  for (std::size_t i = 0; i < parts.size(); ++i) candidates[i].weight = parts[i];
  sort_heaviest_first(candidates);
  return candidates;
}

Candidates read_stated_candidates(Fields insulation, Reading& reading) {
  const Json* value = insulation.find("candidates");
  Fields weights = insulation.object("candidates");
  insulation.refuse_unknown();
  if (value == nullptr || !value->is_object()) return {};
  return read_weights(weights, *value, reading);
}

}  // namespace

Candidates candidates_of_era(const Origin& origin, const std::string& pointer, Reading& reading) {
  const int year = year_of(origin.made);
  Candidates candidates;
  for (const library::EraCandidate& candidate : library::era_candidates(reading.library, origin.region, year)) {
    candidates.push_back({candidate.insulation, candidate.weight});
  }
  sort_heaviest_first(candidates);
  if (candidates.empty()) {
    reading.complain(pointer, fmt::format("nothing is known of the insulations fitted in {} in {}; name the insulation or "
                                          "give candidates with weights",
                                          origin.region, year));
  } else {
    reading.assume(pointer, fmt::format("one of those fitted in {} around {}: {}; write what the print on the jacket says",
                                        origin.region, year, in_words(candidates)));
  }
  return candidates;
}

Candidates read_insulation(Fields& fields, const std::optional<Origin>& origin, Reading& reading) {
  const Json* insulation = fields.require("insulation");
  if (insulation == nullptr) return {};
  if (insulation->is_object()) return read_stated_candidates(fields.object("insulation"), reading);
  if (*insulation == "unknown") {
    return origin ? candidates_of_era(*origin, fields.pointer("insulation"), reading) : Candidates{};
  }
  if (!insulation->is_string()) {
    fields.complain("insulation", fmt::format("expected the id of an insulation, \"unknown\" or an object with "
                                              "\"candidates\", found {}",
                                              describe_type(*insulation)));
    return {};
  }
  return {{read_record_id(fields, "insulation", "insulation", reading.library.insulations), 1.0}};
}

}  // namespace heatside::casefile
