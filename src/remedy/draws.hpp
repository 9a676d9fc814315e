#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/population/alternative.hpp"
#include "heatside/remedy/faults.hpp"
#include "heatside/remedy/remedies.hpp"

/// Remedies draw by draw. Luck is common to all remedies: a segment that faults early under one does so under another as far
/// as its hazard there lets it.

namespace heatside::remedy {

/// Faults of one segment over the horizon, draw by draw.
struct SegmentFaults {
  std::vector<double> discounted;  ///< expected value, today, of one unit lost at the fault
  std::vector<double> chance;      ///< of a fault
  std::vector<double> at;          ///< [a] of the fault that comes; infinite: none within the horizon
  std::vector<unsigned char> now;  ///< condition at the inspection
  population::ConditionYears years;
  std::vector<double> kept;  ///< share of the hazard that a cover does not prevent; empty: all of it

  /// Years until it cracks when handled, by draw.
  [[nodiscard]] const std::vector<double>& flex() const { return years.until[1]; }
  [[nodiscard]] std::array<RateStep, 4> steps(std::size_t draw, const FaultRates& rates) const;
};

/// What all remedies of a case share.
struct Common {
  const casefile::Case& job;
  const library::Library& library;
  const population::DrawnAnswer& answer;
  Worth worth;
  std::vector<double> fault_score;                 ///< by draw: how often bare insulation really faults
  std::vector<FaultRates> rates;                   ///< by draw
  std::vector<std::optional<double>> stop_share;   ///< of faults, by segment; absent: functions are not known
  std::vector<std::optional<SegmentFaults>> left;  ///< by segment: left as it is

  [[nodiscard]] std::size_t draws() const { return rates.size(); }
  [[nodiscard]] double mean(const std::vector<double>& values) const {
    return population::expected(answer.knowledge.belief, values);
  }
  /// Faults that stop the vehicle; where functions are not known every fault counts.
  [[nodiscard]] double stops(std::size_t segment) const { return stop_share[segment].value_or(1.0); }
};

/// @param segments  those that are asked about
[[nodiscard]] Common common_of(const casefile::Case& job, const library::Library& library,
                               const population::DrawnAnswer& answer, const std::vector<std::size_t>& segments);

/// Share of the bare-wire faults in a segment that stop the vehicle: the mean over the circuits that the case lists there,
/// or over the wires whose function is the id of a consequence record; absent where none is known.
[[nodiscard]] std::optional<double> stopping_share(const casefile::Case& job, const library::Library& library,
                                                   const casefile::Segment& segment);

/// @param kept  as in `SegmentFaults`
[[nodiscard]] SegmentFaults faults_of(const Common& common, std::size_t segment, population::ConditionYears years,
                                      std::vector<double> kept = {});

struct Unit;

/// The first fault of a unit in every draw, as `FirstFault` has it.
struct FirstFaults {
  const Unit* unit;
  std::vector<double> chance, discounted, stops, stop_chance, left;
};

/// One remedy in every draw.
struct RemedyDraws {
  std::vector<double> parts, work;                ///< [money]
  std::vector<double> price_score, minute_score;  ///< empty where the case states them
  std::vector<double> prevents_score;             ///< of what a cover prevents; empty where nothing is covered
  std::vector<SegmentFaults> faults;              ///< of the segments of the question, where they differ from `Common::left`
  std::vector<std::optional<std::size_t>> own;    ///< index into `faults`, by segment of the question
  std::vector<bool> renewed;                      ///< by segment of the question
  std::vector<bool> disturbed;                    ///< left in or covered, and moved by the work
  double disturbs = 0.0;                          ///< share of the harm of an opening
  std::vector<FirstFaults> first;                 ///< of the looms that are renewed after their first fault
  std::vector<bool> one_by_one;                   ///< by segment of the question: its faults are mended and that is all

  [[nodiscard]] const SegmentFaults& of(const Common& common, const Offered& question, std::size_t i) const {
    return own[i] ? faults[*own[i]] : *common.left[question.segments[i]];
  }
};

/// @param new_years  of the covered segments where the remedy renews them, as `years_of_renewals` gives them
[[nodiscard]] RemedyDraws remedy_draws(const Common& common, const Offered& question, const Offer& offer,
                                       std::vector<population::ConditionYears> new_years);

/// [money] of parts and minutes of work, draw by draw: as the case states them, otherwise within the ranges of the kind.
void price(const Common& common, const Offer& offer, RemedyDraws& draws);

/// Chance that the work breaks a segment of that condition.
[[nodiscard]] double harm_chance(const library::ModelConstants::Opening& opening, double disturbs, unsigned char condition);

/// Expected cost of each draw: [money], without the cost of stops, and the expected discounted stops.
struct ExpectedDraws {
  std::vector<double> fixed, stops;
};

[[nodiscard]] ExpectedDraws expected_draws(const Common& common, const Offered& question, const RemedyDraws& draws);

/// Cost of each draw as it turns out [money].
[[nodiscard]] std::vector<double> realised_draws(const Common& common, const Offered& question, const RemedyDraws& draws);

/// The remedy as an action of the opening order: what is left in costs by its condition now. The order needs losses that add
/// up over the segments, and a renewal after the first fault does not: what faults cost is spread over the segments of the
/// loom as if they were mended one by one, times the share that makes the expectation that of the policy.
[[nodiscard]] population::Action action_of(const Common& common, const Offered& question, const Offer& offer,
                                           const RemedyDraws& draws);

}  // namespace heatside::remedy
