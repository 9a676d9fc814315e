#pragma once

#include <array>
#include <span>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

/// Faults by bare wire over the years to come.
///
/// In every condition a segment has a constant hazard [1/a]; as it worsens it runs through one after the other. A segment
/// faults at most once: then it is mended.

namespace heatside::remedy {

/// Hazard of a bare-wire fault in each condition [1/a], in the order of ageing::Condition; none where it is supple.
using FaultRates = std::array<double, 5>;

/// The model's chances over the model's years as hazards: h = -ln(1 - p) / years.
///
/// @param score  how often such insulation really faults, as a standard normal score: every chance moves within its own
///               range, of which low and high lie at -1.645 and 1.645
/// @throws DomainError  a chance of 1 or more at score 0, or years that are not above 0
/// @par Source     constant hazard, elementary; the chances are judgement, see materials/model.json
/// @par Tested by  tests/remedy/faults_test.cpp
[[nodiscard]] FaultRates fault_rates(const library::ModelConstants::Opening& opening, double score = 0.0);

/// A hazard from a time on, until the next step begins.
struct RateStep {
  double from{};      ///< [a] after the inspection; steps stand in rising order
  double per_year{};  ///< [1/a], >= 0
};

struct FaultRisk {
  double chance{};            ///< of a fault within the horizon
  double discounted{};        ///< expected value, today, of one unit of money lost at the fault
  double years_without{0.0};  ///< expected time without a fault within the horizon [a]
};

/// Before the first step there is no hazard; a step that began before the inspection counts from the inspection on.
///
///     chance = 1 - exp(-L(H))    discounted = int_0^H exp(-d t) h(t) exp(-L(t)) dt    years_without = int_0^H exp(-L(t)) dt
///
/// with L(t) the integral of h from 0 to t and d = ln(1 + discount).
/// @param horizon            H, >= 0
/// @param discount_per_year  >= 0
/// @par Source     Barlow & Proschan 1965, Mathematical Theory of Reliability (from memory)
/// @par Tested by  tests/remedy/faults_test.cpp, against closed forms for Weibull lives and age replacement
[[nodiscard]] FaultRisk fault_risk(std::span<const RateStep> steps, Years horizon, double discount_per_year);

/// The steps of a segment of one draw.
/// @param until  years from the inspection until stiff, flex_cracks, cracked, crumbling; not falling
[[nodiscard]] std::array<RateStep, 4> steps_of(const std::array<double, 4>& until, const FaultRates& rates);

/// A segment beside others, of which the first to fault is asked for.
struct RunningRisk {
  std::array<RateStep, 4> steps;
  double stops{};       ///< share of its faults that counts as a stop where money is counted
  double told_stops{};  ///< share of its faults that is known to stop the vehicle
};

/// The first fault of several segments.
struct FirstFault {
  double chance{};       ///< of a fault within the horizon
  double discounted{};   ///< expected value, today, of one unit of money lost at it
  double stops{};        ///< the same of a fault that counts as a stop
  double stop_chance{};  ///< that it comes within the horizon and is known to stop the vehicle
  double left{};         ///< as `discounted`, of a unit for each horizon that is left after it
};

/// Segments fault independently of each other, given their hazards h_i; h is their sum, L its integral from 0, H the
/// horizon:
///
///     discounted = int_0^H exp(-d t) h exp(-L) dt              stops = int_0^H exp(-d t) sum(s_i h_i) exp(-L) dt
///     left = int_0^H (1 - t/H) exp(-d t) h exp(-L) dt          chance = 1 - exp(-L(H))
///
/// @param horizon            H, > 0
/// @param discount_per_year  >= 0; d = ln(1 + discount)
/// @par Source     competing risks with exponential lives: Barlow & Proschan 1965 (from memory)
/// @par Tested by  tests/remedy/policy_test.cpp, against closed forms of exponential lives
[[nodiscard]] FirstFault first_fault(std::span<const RunningRisk> segments, Years horizon, double discount_per_year);

/// When the hazard has added up to `exponential`, a draw of the standard exponential distribution [a]; infinite: never.
[[nodiscard]] double fault_time(std::span<const RateStep> steps, double exponential);

/// What money at a time is worth today.
[[nodiscard]] double discount_factor(double years, double discount_per_year);

}  // namespace heatside::remedy
