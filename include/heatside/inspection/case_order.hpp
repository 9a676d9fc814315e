#pragma once

#include <array>
#include <string>
#include <vector>

#include "heatside/base/date.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/inspection/opening_order.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/drawn_estimate.hpp"

/// The opening order of a case: its segments, covers and costs put to `opening_order`.

namespace heatside::inspection {

/// When to look again at a segment that is left closed.
struct LookAgain {
  std::string segment;
  Years after{0.0};  ///< the inspection; a tenth of the draws crack when handled by then; 0: now
};

/// An action of a choice, in words.
struct ActionWords {
  std::string id, name;
  std::vector<std::string> segments;  ///< that it takes in hand; empty where it leaves everything
  bool whole_loom = false;            ///< these are all segments of the choice
};

/// A segment that was found with bare conductor.
struct FoundBare {
  std::string segment;
  std::string seen;  ///< "crumbling, 2014-05-12"
};

/// How a segment has to be handled until it is seen.
struct Handling {
  std::string segment;
  ageing::Condition as{};  ///< the worst that is likely enough
  double chance{};         ///< of that or worse
};

/// What can be learnt before anything is opened.
struct StepZero {
  std::string what;
  bool done = false;  ///< the case has something of the kind
};

struct CaseOrder {
  OpeningQuestion question;  ///< its candidates are the case's segments, in their order
  OpeningOrder order;
  std::string method;    ///< id of the method that an opening is looked at by
  std::string currency;  ///< of all money; empty: minutes of work
  bool consent = false;  ///< the owner agreed to openings
  std::vector<StepZero> step_zero;
  std::vector<LookAgain> look_again;  ///< of the segments that were neither opened nor found bare, airbag circuits apart
  std::vector<FoundBare> found_bare;  ///< in the order of the case
  std::vector<Handling> handling;     ///< of every segment, in the order of the case
  std::vector<std::vector<ActionWords>> actions;  ///< of each choice of the question
  std::size_t opened = 0;                         ///< segments, that count against what the owner allows
  double spent = 0.0;                             ///< [money], for their minutes
  std::vector<casefile::Assumption> assumptions;
};

/// How far to look ahead.
struct OrderOptions {
  std::size_t depth = 3;
};

/// The choice is between the remedies of the case; a loom without any is left or replaced. Where an opening shows bare
/// conductor, what leaves that segment as it is may no longer be chosen.
///
/// @param answer  of the same case
/// @throws DomainError  see `opening_order` and, where the case states remedies, `remedy::remedies`
/// @par Tested by  tests/inspection/case_order_test.cpp
[[nodiscard]] CaseOrder case_order(const casefile::Case& job, const library::Library& library,
                                   const population::DrawnAnswer& answer, OrderOptions options = {});

/// The worst condition that the segment is in, or a worse one, with a chance of 10 in 100 or more.
/// @par Source  the limit is judgement
[[nodiscard]] Handling handling_of(const std::string& segment, const std::array<double, 5>& chance);

/// How to handle a segment of a condition, in plain words.
[[nodiscard]] std::string handling_advice(ageing::Condition condition);

}  // namespace heatside::inspection
