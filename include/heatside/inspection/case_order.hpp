#pragma once

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
  std::vector<LookAgain> look_again;  ///< of the segments that were not opened, soonest first
  std::vector<casefile::Assumption> assumptions;
};

/// How far to look ahead.
struct OrderOptions {
  std::size_t depth = 3;
};

/// @param answer  of the same case
/// @throws DomainError  see `opening_order`
/// @par Tested by  tests/inspection/case_order_test.cpp
[[nodiscard]] CaseOrder case_order(const casefile::Case& job, const library::Library& library,
                                   const population::DrawnAnswer& answer, OrderOptions options = {});

/// How to handle a segment of a condition, in plain words.
[[nodiscard]] std::string handling_advice(ageing::Condition condition);

}  // namespace heatside::inspection
