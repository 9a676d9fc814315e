#include "inspection/order_choices.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/text.hpp"
#include "heatside/remedy/default_losses.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/remedy/rules.hpp"
#include "heatside/remedy/wired.hpp"

namespace heatside::inspection {

namespace {

using casefile::Case;
using library::Library;

std::vector<std::string> ids_at(const Case& job, const std::vector<std::size_t>& numbers) {
  std::vector<std::string> ids;
  for (const std::size_t number : numbers) ids.push_back(job.segments[number].id);
  return ids;
}

void erase_action(WordedChoice& worded, std::size_t action) {
  const auto at = static_cast<std::ptrdiff_t>(action);
  worded.choice.actions.erase(worded.choice.actions.begin() + at);
  worded.words.erase(worded.words.begin() + at);
  worded.mends.erase(worded.mends.begin() + at);
}

// A loom is left or replaced.
WordedChoice default_choice(const Case& job, const Library& library, const std::string& loom, const remedy::Worth& worth) {
  WordedChoice worded;
  bool bare = false;
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    if (job.segments[i].loom != loom) continue;
    worded.segments.push_back(i);
    bare = bare || remedy::bare_conductor_seen(job, job.segments[i]).has_value();
  }
  library::ModelConstants::Opening opening = library.model.opening;
  opening.fault_cost.value = worth.stop / worth.per_minute;
  worded.choice = remedy::leave_or_replace(loom, worded.segments, opening, worth.per_minute);
  worded.words = {{"leave", "leave it and watch", {}, false},
                  {"replace", "another loom in its place", ids_at(job, worded.segments), true}};
  worded.mends = {{}, worded.segments};
  if (bare) erase_action(worded, 0);
  return worded;
}

// Where bare conductor does not stay as it is: what is renewed, and what is covered if no price speaks for its circuits.
std::vector<std::size_t> mended(const Case& job, const Library& library, const remedy::Offer& offer,
                                const std::vector<std::size_t>& covered) {
  if (remedy::renews(offer.act)) return covered;
  std::vector<std::size_t> list;
  std::copy_if(covered.begin(), covered.end(), std::back_inserter(list),
               [&](std::size_t number) { return remedy::untraded_functions(job, library, job.segments[number]).empty(); });
  return list;
}

WordedChoice stated_choice(const Case& job, const Library& library, remedy::Question question) {
  WordedChoice worded;
  worded.segments = question.offered.segments;
  worded.choice = std::move(question.choice);
  for (const population::Action& action : worded.choice.actions) {
    const auto offer = std::find_if(question.offered.offers.begin(), question.offered.offers.end(),
                                    [&](const remedy::Offer& one) { return one.remedy.id == action.id; });
    const std::vector<std::size_t> covered = remedy::covered_segments(job, offer->remedy);
    worded.words.push_back({action.id, offer->remedy.name, ids_at(job, covered), covered == worded.segments});
    worded.mends.push_back(mended(job, library, *offer, covered));
  }
  return worded;
}

// Looms that no remedy of the case covers.
std::vector<std::string> without_remedies(const Case& job) {
  std::vector<std::string> looms;
  for (const casefile::Loom& loom : job.looms) {
    const bool stated = std::any_of(job.remedies.begin(), job.remedies.end(), [&](const casefile::Remedy& remedy) {
      return std::any_of(remedy.segments.begin(), remedy.segments.end(),
                         [&](const std::string& id) { return casefile::find_by_id(job.segments, id)->loom == loom.id; });
    });
    if (!stated) looms.push_back(loom.id);
  }
  return looms;
}

}  // namespace

std::vector<WordedChoice> choices_of(const Case& job, const Library& library, const population::DrawnAnswer& answer) {
  std::vector<WordedChoice> choices;
  std::vector<std::string> stated;
  if (!job.remedies.empty()) {
    for (remedy::Question& question : remedy::remedies(job, library, answer, {false, false}).questions) {
      stated.insert(stated.end(), question.offered.looms.begin(), question.offered.looms.end());
      choices.push_back(stated_choice(job, library, std::move(question)));
    }
  }
  for (const casefile::Loom& loom : job.looms) {
    const bool has_segments = std::any_of(job.segments.begin(), job.segments.end(),
                                          [&](const casefile::Segment& segment) { return segment.loom == loom.id; });
    if (has_segments && std::find(stated.begin(), stated.end(), loom.id) == stated.end())
      choices.push_back(default_choice(job, library, loom.id, remedy::worth_of(job, library)));
  }
  return choices;
}

std::vector<population::RuledOut> ruled_out(const std::vector<WordedChoice>& choices, std::size_t segment) {
  std::vector<population::RuledOut> rules;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const std::vector<std::size_t>& here = choices[i].segments;
    if (std::find(here.begin(), here.end(), segment) == here.end()) continue;
    for (std::size_t a = 0; a < choices[i].mends.size(); ++a) {
      if (std::binary_search(choices[i].mends[a].begin(), choices[i].mends[a].end(), segment)) continue;
      for (const library::Seen seen : {library::Seen::cracked, library::Seen::crumbling})
        rules.push_back({static_cast<std::size_t>(seen), i, a});
    }
  }
  return rules;
}

std::vector<casefile::Assumption> assumptions_of_choices(const Case& job, const Library& library) {
  const library::ModelConstants::Opening& opening = library.model.opening;
  const remedy::Worth worth = remedy::worth_of(job, library);
  const auto money = [&](double amount) { return plain_number(std::round(amount)) + " " + worth.unit; };
  std::vector<casefile::Assumption> list;
  const std::vector<std::string> without = without_remedies(job);
  if (without.size() < job.looms.size())
    list.push_back({"/remedies",
                    fmt::format("the remedies of the case cost what `heatside remedies` says of the next {} years",
                                plain_number(worth.horizon.value())),
                    Grade::judgement});
  if (!without.empty())
    list.push_back({"/remedies",
                    fmt::format("no remedies are stated{}: each loom is left or replaced, and nothing between (write "
                                "remedies into the case for finer choices); a "
                                "replacement costs {}, a bare-wire fault on the road {}{}",
                                without.size() < job.looms.size() ? " for " + join(without) : "",
                                money(opening.loom_cost.value * worth.per_minute), money(worth.stop),
                                worth.stop_stated ? " as stated" : ""),
                    opening.loom_cost.from.grade});
  list.push_back(
      {"",
       fmt::format("left alone for {} years, bare-wire faults come to {} in 100 segments that are stiff, {} that crack when "
                   "handled, {} that are cracked, {} that crumble",
                   plain_number(opening.fault_years.value), plain_number(100.0 * opening.fault_stiff.value),
                   plain_number(100.0 * opening.fault_flex_cracks.value), plain_number(100.0 * opening.fault_cracked.value),
                   plain_number(100.0 * opening.fault_crumbling.value)),
       opening.fault_cracked.from.grade});
  if (!worth.rate_stated)
    list.push_back({"/costs/per_minute",
                    fmt::format("a minute of work costs {} {}", plain_number(opening.minute_rate.value), worth.unit),
                    opening.minute_rate.from.grade});
  return list;
}

}  // namespace heatside::inspection
