#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <memory>

#include "ageing/kinetics_case.hpp"
#include "heatside/ageing/integrate.hpp"

/// The GNU Scientific Library as an integrator that shares nothing with ours: Prince and Dormand's method of order 8 with
/// errors of 1e-12, on equations that are written out here once more.

using namespace heatside;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<KineticsCase> kinetics_cases() {
  std::ifstream file{HEATSIDE_SOURCE_DIR "/tests/ageing/kinetics_cases.json"};
  std::vector<KineticsCase> cases;
  for (const nlohmann::json& json : nlohmann::json::parse(file)) cases.push_back(kinetics_case(json));
  return cases;
}

struct Equations {
  bool guarded;
  double rate, guard_rate;
  double extent_clock, guard_clock;
};

int derivatives(double, const double y[], double dydt[], void* parameters) {
  const Equations& equations = *static_cast<const Equations*>(parameters);
  const double x = y[0];
  const double opening = equations.guarded ? std::exp(-8.0 * y[1]) * (0.02 + x) : 1.0;
  dydt[0] = equations.rate * equations.extent_clock * opening * (1.0 - x);
  dydt[1] = equations.guarded ? -equations.guard_rate * equations.guard_clock * y[1] : 0.0;
  return GSL_SUCCESS;
}

// State after one more period.
std::array<double, 2> integrate_with_gsl(const ageing::Kinetics& kinetics, const ageing::ClockSpan& period,
                                         std::array<double, 2> y) {
  Equations equations{kinetics.law == library::KineticsLaw::guarded, kinetics.rate, kinetics.guard_rate, period.rates.extent,
                      period.rates.guard};
  gsl_odeiv2_system system{derivatives, nullptr, 2, &equations};
  const double end = period.length.value();
  const std::unique_ptr<gsl_odeiv2_driver, void (*)(gsl_odeiv2_driver*)> driver{
      gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1.0e-3 * end, 1.0e-13, 1.0e-12), gsl_odeiv2_driver_free};
  double t = 0.0;
  REQUIRE(gsl_odeiv2_driver_apply(driver.get(), &t, end, y.data()) == GSL_SUCCESS);
  return y;
}

}  // namespace

TEST_CASE("kinetics: both solutions agree with the GNU Scientific Library", "[ageing][kinetics][oracle][gsl]") {
  const std::vector<KineticsCase> cases = kinetics_cases();
  REQUIRE(cases.size() == 5);
  for (const KineticsCase& each : cases) {
    CAPTURE(each.name);
    std::array<double, 2> by_gsl{0.0, 1.0};
    ageing::AgeingState closed;
    ageing::LawState integrated;
    for (const ageing::ClockSpan& period : each.periods) {
      by_gsl = integrate_with_gsl(each.kinetics, period, by_gsl);
      closed = ageing::aged(each.kinetics, closed, period.rates, period.length);
      integrated = ageing::integrate_law(ageing::rate_law(each.kinetics, period.rates), integrated, period.length);
      CHECK_THAT(ageing::extent_of(each.kinetics, closed), WithinAbs(by_gsl[0], 1e-8));
      CHECK_THAT(integrated.extent, WithinAbs(by_gsl[0], 1e-8));
      CHECK_THAT(ageing::extent_of(each.kinetics, closed), WithinRel(by_gsl[0], 1e-7));  // the very slow one, too
      CHECK_THAT(std::exp(closed.ln_guard), WithinAbs(by_gsl[1], 1e-8));
    }
    CHECK(by_gsl[0] > 0.0);
  }
}
