#include "heatside/remedy/default_losses.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/error.hpp"
#include "heatside/library/library.hpp"

using namespace heatside;
using Catch::WithinAbs;

TEST_CASE("default losses: leave costs the faults it leads to, replace costs a loom", "[remedy][losses]") {
  // By hand: 1000 min a fault, 500 min a loom, 1.5 money a minute.
  library::ModelConstants::Opening opening;
  opening.loom_cost.value = 500.0;
  opening.fault_cost.value = 1000.0;
  opening.fault_stiff.value = 0.01;
  opening.fault_flex_cracks.value = 0.1;
  opening.fault_cracked.value = 0.3;
  opening.fault_crumbling.value = 0.6;
  const population::Choice choice = remedy::leave_or_replace("top", {2, 5}, opening, 1.5);
  CHECK(choice.id == "top");
  REQUIRE(choice.actions.size() == 2);
  CHECK(choice.actions[0].id == "leave");
  CHECK(choice.actions[0].fixed == 0.0);
  REQUIRE(choice.actions[0].segments.size() == 2);
  CHECK(choice.actions[0].segments[1].segment == 5);
  const population::ConditionRow expected{0.0, 15.0, 150.0, 450.0, 900.0};
  for (std::size_t c = 0; c < 5; ++c) {
    CHECK_THAT(choice.actions[0].segments[0].by_condition[c], WithinAbs(expected[c], 1.0e-12));
  }
  CHECK(choice.actions[1].id == "replace");
  CHECK_THAT(choice.actions[1].fixed, WithinAbs(750.0, 1.0e-12));
  CHECK(choice.actions[1].segments.empty());
  CHECK_THROWS_AS(remedy::leave_or_replace("top", {0}, opening, 0.0), DomainError);
  CHECK_THROWS_AS(remedy::leave_or_replace("top", {0}, opening, std::nan("")), DomainError);
}

TEST_CASE("default losses: the model record makes worse conditions dearer", "[remedy][losses]") {
  // Handling is what finishes brittle insulation, and bare conductors are what ends a journey: common practice, no source.
  const library::ModelConstants::Opening opening = library::built_in_library().model.opening;
  const std::vector<double> fault{opening.fault_stiff.value, opening.fault_flex_cracks.value, opening.fault_cracked.value,
                                  opening.fault_crumbling.value};
  const std::vector<double> breaks{opening.break_stiff.value, opening.break_flex_cracks.value, opening.break_cracked.value,
                                   opening.break_crumbling.value};
  for (std::size_t i = 0; i + 1 < fault.size(); ++i) {
    CHECK(fault[i] < fault[i + 1]);
    CHECK(breaks[i] < breaks[i + 1]);
  }
  CHECK(fault.back() <= 1.0);
  CHECK(breaks.back() <= 1.0);
  CHECK(opening.loom_cost.value > 120.0);  // about two hours of work on top of an engine, and the part
  CHECK(opening.fault_cost.from.grade == Grade::judgement);
}
