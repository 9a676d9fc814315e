#include "heatside/ageing/history.hpp"

#include <limits>

#include "heatside/ageing/integrate.hpp"

namespace heatside::ageing {

namespace {

// The two solutions behind one set of names: a state, what a time does to it, and when it reaches an extent.
struct ClosedForm {
  const Kinetics* law;
  AgeingState state{};

  void age(const ClockSpan& span) { state = aged(*law, state, span.rates, span.length); }
  [[nodiscard]] double extent() const { return extent_of(*law, state); }
  [[nodiscard]] Hours until(const ClockRates& rates, double goal) const { return time_until(*law, state, rates, goal); }
};

struct Integrated {
  const Kinetics* law;
  LawState state{};

  void age(const ClockSpan& span) { state = integrate_law(rate_law(*law, span.rates), state, span.length); }
  [[nodiscard]] double extent() const { return state.extent; }
  [[nodiscard]] Hours until(const ClockRates& rates, double goal) const {
    if (state.extent < goal && rates.extent <= 0.0) return Hours{std::numeric_limits<double>::infinity()};
    return integrate_until(rate_law(*law, rates), state, goal);
  }
};

template <class Solver>
double extent_after(Solver solver, const std::vector<ClockSpan>& past) {
  for (const ClockSpan& span : past) solver.age(span);
  return solver.extent();
}

template <class Solver>
Years crossing(Solver solver, const std::vector<ClockSpan>& past, const ClockRates& future, double goal) {
  Hours to_end{0.0};
  for (const ClockSpan& span : past) to_end = to_end + span.length;
  if (goal <= 0.0) return years(-to_end);
  for (const ClockSpan& span : past) {
    Solver after = solver;
    after.age(span);
    if (after.extent() >= goal) return years(solver.until(span.rates, goal) - to_end);
    solver = std::move(after);
    to_end = to_end - span.length;
  }
  return years(solver.until(future, goal));
}

}  // namespace

Strain elongation_after(const Kinetics& kinetics, const std::vector<ClockSpan>& past, Solution solution) {
  const double extent = solution == Solution::closed_form ? extent_after(ClosedForm{&kinetics}, past)
                                                          : extent_after(Integrated{&kinetics}, past);
  return elongation_at(kinetics, extent);
}

Years years_until(const Kinetics& kinetics, const std::vector<ClockSpan>& past, const ClockRates& future, Strain threshold,
                  Solution solution) {
  const double goal = extent_at(kinetics, threshold);
  return solution == Solution::closed_form ? crossing(ClosedForm{&kinetics}, past, future, goal)
                                           : crossing(Integrated{&kinetics}, past, future, goal);
}

}  // namespace heatside::ageing
