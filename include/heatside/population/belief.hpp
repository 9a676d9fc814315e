#pragma once

#include <array>
#include <cstddef>
#include <variant>
#include <vector>

#include "heatside/ageing/condition.hpp"

/// What is believed about draws of everything that is not known, and what findings make of it.
///
/// A draw fixes the shared unknowns of a case. Given a draw the conditions of different segments are independent, so a
/// finding speaks about other segments only through the weights of the draws.

namespace heatside::population {

/// How likely each of N draws is held to be.
struct Belief {
  std::vector<double> weights;  ///< >= 0, sum 1
};

/// All draws alike.  @throws DomainError  no draws
[[nodiscard]] Belief even_belief(std::size_t draws);

/// Chance of each condition of one segment given each draw, in the order of ageing::Condition. For a draw the five sum to 1.
/// They are soft: what differs from stretch to stretch has been integrated out.
struct ConditionChances {
  std::array<std::vector<double>, 5> by_condition;  ///< five times N
};

/// One number a condition: the chance of what was seen if that is the condition, or what that condition costs.
using ConditionRow = std::array<double, 5>;

/// Chance of a finding under each draw: the sum over conditions c of P(seen | c) P(c | draw).
///
/// @param row  P(seen | condition), each within [0, 1]
/// @throws DomainError  a number outside [0, 1], or conditions with unequal numbers of draws
[[nodiscard]] std::vector<double> likelihood(const ConditionRow& row, const ConditionChances& chances);

/// Row of a finding whose cause may not have been heat: heat_share P(seen | c) + (1 - heat_share) otherwise.
///
/// @param heat_share  chance, before looking at the draws, that heat was the cause; 0 makes the row say nothing
/// @param otherwise   chance of seeing this where heat was not the cause. Take the expected likelihood of the finding
///                    before any finding: then the finding itself does not move the share.
/// @throws DomainError  a number outside [0, 1]
/// @par Source  mixture of two explanations, elementary probability
[[nodiscard]] ConditionRow perhaps_not_heat(const ConditionRow& row, double heat_share, double otherwise);

/// Weighted mean over the draws.  @throws DomainError  unequal numbers of draws
[[nodiscard]] double expected(const Belief& belief, const std::vector<double>& values);

/// A belief after findings.
struct Learnt {
  Belief belief;
  double ln_evidence{};  ///< ln of the chance of these findings before they were made
};

/// No draw with any weight can give the findings up to and including this one: they contradict the model.
struct Contradiction {
  std::size_t finding{};  ///< counted from 0, in the order given
};

using Learning = std::variant<Learnt, Contradiction>;

/// Weights after findings that are independent given the draw: w'_n ~ w_n times the product of the likelihoods.
/// Worked in logarithms, so that many or very unlikely findings do not underflow.
///
/// @param likelihoods  one list of N chances a finding, each finite and >= 0; no list: the belief stays as it is
/// @throws DomainError  a negative or not finite likelihood, or another number of draws
/// @par Source     Bayes's theorem; inspection planning with correlated elements: Straub & Faber 2005, Structural Safety
///                 27, 335-355
/// @par Tested by  tests/population/belief_test.cpp
[[nodiscard]] Learning learn(const Belief& prior, const std::vector<std::vector<double>>& likelihoods);

/// 1 / sum of squared weights: how many equally weighted draws would be as good; between 1 and N.
/// @par Source  Kong, Liu & Wong 1994, J. Am. Stat. Assoc. 89, 278-288
[[nodiscard]] double effective_sample(const Belief& belief);

/// Chance of each condition of a segment; sums to 1. For a segment that was itself seen give it `after_seeing`.
[[nodiscard]] ConditionRow mean_chances(const Belief& belief, const ConditionChances& chances);

/// What a look at the segment itself makes of its chances within each draw: P(c | draw, seen) ~ P(seen | c) P(c | draw).
/// A draw that cannot give the finding keeps its chances; `learn` takes its weight away.
/// @throws DomainError  a number outside [0, 1]
[[nodiscard]] ConditionChances after_seeing(const ConditionChances& chances, const ConditionRow& row);

/// Draws and segments together.
struct Knowledge {
  Belief belief;
  std::vector<ConditionChances> segments;
};

/// A finding at a segment. What was not seen is no finding: leave it out.
struct Seen {
  std::size_t segment{};
  ConditionRow row{};  ///< P(seen | condition)
};

/// Knowledge after findings.
struct Informed {
  Knowledge knowledge;
  double ln_evidence{};
};

/// Both steps for a list of findings, several at one segment included: weights of the draws, and chances of the segments
/// that were seen.
/// @throws DomainError  a segment that is not there, or as in `likelihood`
[[nodiscard]] std::variant<Informed, Contradiction> after_findings(Knowledge knowledge, const std::vector<Seen>& findings);

/// Smallest value at or below which at least that share of the weight lies, for each share. No interpolation, so infinite
/// values are allowed.
///
/// @param shares  within [0, 1], in rising order
/// @throws DomainError  a share outside, not rising, a value that is not a number, or unequal numbers of draws
/// @par Source     inverse of the weighted distribution function (definition 1 of Hyndman & Fan 1996, Am. Stat. 50, 361-365)
/// @par Tested by  tests/population/belief_test.cpp
[[nodiscard]] std::vector<double> quantiles(const Belief& belief, const std::vector<double>& values,
                                            const std::vector<double>& shares);

}  // namespace heatside::population
