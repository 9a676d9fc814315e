#include "heatside/remedy/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <iterator>
#include <map>
#include <set>
#include <tuple>

#include "base/fields.hpp"
#include "remedy/compare_build.hpp"
#include "remedy/compare_mixed.hpp"
#include "remedy/compare_outcomes.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Segment;
using library::Library;
using population::StretchHeat;

int year_of(const Date& date) { return static_cast<int>(std::chrono::year_month_day{date.day}.year()); }

std::vector<std::string> looms_of(const Case& job, const CompareRequest& request) {
  std::vector<std::string> ids;
  for (const casefile::Loom& loom : job.looms) {
    const bool has_segments = std::any_of(job.segments.begin(), job.segments.end(),
                                          [&](const Segment& segment) { return segment.loom == loom.id; });
    if (has_segments && (request.looms.empty() || contains(request.looms, loom.id))) ids.push_back(loom.id);
  }
  return ids;
}

// The case as it lies, or as it would after the changes, and how hot it gets there.
struct Arrangement {
  const Case& job;
  const Library& library;
  std::vector<std::vector<StretchHeat>> heat;
};

// All that the runs of a comparison share.
class Bench {
 public:
  Bench(const Case& job, const Library& library, const population::DrawnAnswer& answer, const CompareRequest& request)
      : population_{answer.population},
        looms_{looms_of(job, request)},
        made_{request.made.value_or(job.inspected)},
        changed_{changed_setting(job, library, request.what_if)},
        yardstick_{population_.belief, request.wanted, request.chance, Years{library.model.report.plain_words_cap.value}} {
    for (std::size_t i = 0; i < job.segments.size(); ++i) {
      if (contains(looms_, job.segments[i].loom)) segments_.push_back(i);
    }
    after_.emplace(arrange(changed_.job, changed_.library));
    if (request.what_if.any()) before_.emplace(arrange(job, changed_.library));
  }

  [[nodiscard]] Candidate of_insulation(const std::string& id) const {
    const library::Insulation& insulation = after_->library.insulations.at(id);
    const InsulationOf all_of_it = [&id](const Segment&) -> const std::string& { return id; };
    const auto run = [&](const Arrangement& arrangement) {
      const Case job = rewired(arrangement.job, looms_, made_, all_of_it);
      return years(job, job);
    };
    const std::vector<Kelvin> limits(segments_.size(), rated(insulation).temperature);
    Candidate candidate = measured(run(*after_), before_ ? run(*before_) : Lives{}, limits);
    candidate.insulation = id;
    candidate.name = insulation.head.name;
    candidate.of_class = rated(insulation).of_class;
    candidate.limit = rated(insulation).temperature;
    candidate.weakest_grade = library::weakest_grade(insulation);
    candidate.obsolete = insulation.in_use_to && *insulation.in_use_to < year_of(made_);
    candidate.insulation_kg = insulation_mass(after_->job, looms_, insulation);
    return candidate;
  }

  // The wires that are in now: their past is that of the case as it is.
  [[nodiscard]] Candidate as_fitted() const {
    std::vector<Kelvin> limits;
    for (const std::size_t number : segments_) limits.push_back(limit_of(after_->job.segments[number]));
    Candidate candidate = before_ ? measured(years(before_->job, after_->job), years(before_->job, before_->job), limits)
                                  : measured(years(after_->job, after_->job), {}, limits);
    candidate.name = "the wires that are in now";
    candidate.limit = *std::min_element(limits.begin(), limits.end());
    for (const std::size_t number : segments_) candidate.insulation_kg += mass_of(after_->job.segments[number]);
    return candidate;
  }

  [[nodiscard]] MixedBuild mixed(const std::vector<Candidate>& candidates) const {
    const std::vector<const Candidate*> assigned = assign_lowest_class(candidates);
    const InsulationOf chosen = [&](const Segment& segment) -> const std::string& {
      return assigned[position(segment.id)]->insulation;
    };
    const Case job = rewired(after_->job, looms_, made_, chosen);
    std::vector<Kelvin> limits;
    double mass = 0.0;
    for (std::size_t k = 0; k < segments_.size(); ++k) {
      limits.push_back(assigned[k]->limit);
      mass += insulation_mass(job.segments[segments_[k]], after_->library.insulations.at(assigned[k]->insulation));
    }
    const Candidate outcome = measured(years(job, job), {}, limits);
    MixedBuild build = described(assigned, outcome, after_->job);
    build.insulation_kg = mass;
    return build;
  }

  [[nodiscard]] std::vector<ZoneNeed> zones() const {
    std::vector<std::string> ids;
    for (const std::size_t number : segments_) ids.push_back(after_->job.segments[number].id);
    return zone_needs(ids, after_->heat);
  }

  [[nodiscard]] const std::vector<std::string>& looms() const { return looms_; }
  [[nodiscard]] const Date& made() const { return made_; }
  [[nodiscard]] const Case& job() const { return after_->job; }

 private:
  using Lives = std::vector<population::SegmentYears>;

  [[nodiscard]] Arrangement arrange(const Case& job, const Library& library) const {
    return {job, library, population::service_heat(job, library, population_, segments_)};
  }

  [[nodiscard]] Lives years(const Case& past, const Case& to_come) const {
    return population::years_by_stretch(past, to_come, after_->library, population_, segments_);
  }

  [[nodiscard]] Candidate measured(Lives after, Lives before, const std::vector<Kelvin>& limits) const {
    const Build now{after_->job, segments_, std::move(after), after_->heat, limits};
    Candidate candidate = outcome_of(now, yardstick_);
    if (!before.empty())
      add_change({before_->job, segments_, std::move(before), before_->heat, limits}, now, yardstick_, candidate);
    return candidate;
  }

  [[nodiscard]] const library::Insulation& likely_insulation(const casefile::WireGroup& group) const {
    const casefile::Lot& lot = *casefile::find_by_id(after_->job.lots, group.lot);
    return after_->library.insulations.at(lot.candidates.front().insulation);
  }

  [[nodiscard]] Kelvin limit_of(const Segment& segment) const {
    Kelvin least = rated(likely_insulation(segment.groups.front())).temperature;
    for (const casefile::WireGroup& group : segment.groups)
      least = std::min(least, rated(likely_insulation(group)).temperature);
    return least;
  }

  [[nodiscard]] double mass_of(const Segment& segment) const {
    double mass = 0.0;
    for (const casefile::WireGroup& group : segment.groups) {
      Segment alone = segment;
      alone.groups = {group};
      mass += insulation_mass(alone, likely_insulation(group));
    }
    return mass;
  }

  // Of a segment among the compared ones; the first where it is none of them, and then nobody looks.
  [[nodiscard]] std::size_t position(const std::string& id) const {
    for (std::size_t k = 0; k < segments_.size(); ++k) {
      if (after_->job.segments[segments_[k]].id == id) return k;
    }
    return 0;
  }

  const population::Population& population_;
  std::vector<std::string> looms_;
  Date made_;
  Setting changed_;
  Yardstick yardstick_;
  std::vector<std::size_t> segments_;
  std::optional<Arrangement> after_, before_;
};

void rank(std::vector<Candidate>& candidates) {
  const auto key = [](const Candidate& one) {
    return std::tuple(-one.whole.lasts, -one.whole.flex_cracks.p10.value(), one.insulation);
  };
  std::sort(candidates.begin(), candidates.end(), [&](const Candidate& a, const Candidate& b) { return key(a) < key(b); });
}

void add_lowest(const std::vector<Candidate>& candidates, std::vector<ZoneNeed>& zones) {
  for (ZoneNeed& need : zones) {
    for (const Candidate* candidate : lowest_class_first(candidates)) {
      const auto zone = std::find_if(candidate->zones.begin(), candidate->zones.end(),
                                     [&](const ZoneOutcome& one) { return one.zone == need.zone; });
      if (zone == candidate->zones.end() || !zone->serves) continue;
      need.lowest = candidate->insulation;
      break;
    }
  }
}

std::vector<casefile::Assumption> assumptions_of(const CompareRequest& request, const Case& job, const Library& library,
                                                 const std::vector<std::string>& looms) {
  std::vector<casefile::Assumption> list;
  const auto add = [&](std::string pointer, std::string text, Grade grade = Grade::judgement) {
    list.push_back({std::move(pointer), std::move(text), grade});
  };
  if (!request.insulations.empty()) {
    add("/looms",
        "a new loom has the copper, sizes, walls, lengths, bends and coverings of the one that is in now; all of it is "
        "made and fitted on one day, and what is made of one compound is one make");
    const bool leaks = std::any_of(job.segments.begin(), job.segments.end(), [&](const Segment& segment) {
      return contains(looms, segment.loom) && !segment.leaks.empty();
    });
    if (leaks) add("/segments", "the leaks go on and reach the new wires too; mend them first");
    add("/lots",
        "no record holds a price, so no cost is given; the lowest class stands for the cheapest insulation, and within a "
        "class the one that lasts longest is taken");
    add("/segments", "masses are nominal, of insulation and copper alone; copper has 8.89 g/cm3", Grade::memory);
  }
  add("/segments",
      "the hottest temperature is that of a hot day of the hottest month, with a warm engine in the hottest running state "
      "of the duty; its three figures come from what is believed of the zones alone");
  for (casefile::Assumption& one : assumptions_of(request.what_if, job, library)) list.push_back(std::move(one));
  return list;
}

template <class Record>
void add_reliance(const char* kind, const std::string& id, const std::map<std::string, Record>& records,
                  std::vector<library::Reliance>& list) {
  const auto same = [&](const library::Reliance& one) { return one.kind == kind && one.id == id; };
  if (std::any_of(list.begin(), list.end(), same)) return;
  const Record& record = records.at(id);
  list.push_back({kind, id, record.head.name, library::weakest_grade(record)});
}

// What the estimate of the case rests on, with the compared insulations in the place of those that are in.
std::vector<library::Reliance> reliances_of(const population::Estimate& estimate, const CompareRequest& request,
                                            const Library& library) {
  static const std::set<std::string> of_old_wires{"insulation", "era", "method", "clue"};
  std::vector<library::Reliance> list;
  for (const std::string& id : request.insulations) add_reliance("insulation", id, library.insulations, list);
  std::copy_if(
      estimate.relies_on.begin(), estimate.relies_on.end(), std::back_inserter(list),
      [&](const library::Reliance& one) { return request.insulations.empty() || !of_old_wires.contains(one.kind); });
  for (const CoverChange& change : request.what_if.sleeves)
    add_reliance("covering", change.covering, library.coverings, list);
  for (const RouteChange& change : request.what_if.reroutes) add_reliance("zone", change.zone, library.zones, list);
  if (!request.what_if.duty.empty()) add_reliance("duty", request.what_if.duty, library.duties, list);
  std::stable_sort(list.begin(), list.end(),
                   [](const library::Reliance& a, const library::Reliance& b) { return a.kind < b.kind; });
  return list;
}

}  // namespace

std::vector<std::string> problems_of(const CompareRequest& request, const Case& job, const Library& library) {
  std::vector<std::string> problems;
  std::set<std::string> seen;
  for (const std::string& id : request.insulations) {
    if (!library.insulations.contains(id)) {
      problems.push_back(unknown_word("insulation", id, library::ids_of(library.insulations)));
    } else if (!seen.insert(id).second) {
      problems.push_back(fmt::format("insulation {} is named twice; name each once", id));
    }
  }
  std::vector<std::string> looms;
  for (const casefile::Loom& loom : job.looms) looms.push_back(loom.id);
  for (const std::string& id : request.looms) {
    if (!contains(looms, id)) problems.push_back(unknown_word("loom", id, looms));
  }
  if (!request.looms.empty() && problems.empty() && looms_of(job, request).empty())
    problems.emplace_back("the looms that are named have no segments");
  if (request.made && request.made->day < job.inspected.day)
    problems.push_back(fmt::format("date {} lies before the inspection; allowed: {} or later",
                                   format_date_as_known(*request.made), format_date(job.inspected)));
  for (std::string& problem : problems_of(request.what_if, job, library)) problems.push_back(std::move(problem));
  return problems;
}

Comparison compare(const Case& job, const Library& library, const population::DrawnAnswer& answer,
                   const CompareRequest& request) {
  const Bench bench{job, library, answer, request};
  Comparison comparison;
  comparison.request = request;
  comparison.looms = bench.looms();
  comparison.from = request.insulations.empty() ? job.inspected : bench.made();
  comparison.changes = changes_in_words(request.what_if);
  for (const std::string& id : request.insulations) comparison.candidates.push_back(bench.of_insulation(id));
  if (request.insulations.empty()) comparison.candidates.push_back(bench.as_fitted());
  rank(comparison.candidates);
  comparison.zones = bench.zones();
  if (!request.insulations.empty()) add_lowest(comparison.candidates, comparison.zones);
  if (request.insulations.size() > 1) comparison.mixed = bench.mixed(comparison.candidates);
  comparison.copper_kg = copper_mass(bench.job(), bench.looms(), library);
  comparison.assumptions = assumptions_of(request, job, library, bench.looms());
  comparison.rests_on = reliances_of(answer.estimate, request, library);
  return comparison;
}

}  // namespace heatside::remedy
