#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/ageing/arrhenius.hpp"
#include "heatside/labfit/iec60216.hpp"
#include "heatside/labfit/straight_line.hpp"
#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Life life(double degrees, double hours, std::size_t count = 1) {
  return {celsius(degrees), Hours{hours}, Hours{hours}, count, 0};
}

}  // namespace

// Class-H motorettes of Nelson 1990 through the steps of IEC 60216-3 (formulas from memory of the standard). The numbers
// were computed in R and Python from the formulas; the limit is Fieller's, found there again as a root of the lower band.
TEST_CASE("IEC 60216-3: every step for class-H motorettes", "[labfit][iec]") {
  const Iec60216 chain = iec60216(life_data("class-h-motorettes.csv"));
  const std::vector<double> means{9.07126546, 7.86328412, 7.35436131, 6.9481457};
  const std::vector<double> variances{0.02071024, 0.03323514, 0.02722066, 0.15413623};
  REQUIRE(chain.groups.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(chain.groups[i].specimens == 10);
    CHECK_THAT(chain.groups[i].mean_ln, WithinAbs(means[i], 5.0e-9));
    CHECK_THAT(*chain.groups[i].variance_ln, WithinAbs(variances[i], 5.0e-9));
  }
  CHECK_THAT(chain.mean_x, WithinRel(0.0020028252472207584, 1.0e-8));
  CHECK_THAT(chain.spread_x, WithinRel(1.1038116099689683e-08, 1.0e-8));
  CHECK_THAT(chain.mean_ln, WithinRel(7.809264148949934, 1.0e-8));
  CHECK_THAT(chain.intercept, WithinRel(-7.2834112052168685, 1.0e-8));
  CHECK_THAT(chain.slope, WithinRel(7535.692579824582, 1.0e-8));
  CHECK_THAT(in_kilojoule_per_mole(activation_energy_from_slope(KelvinRise{chain.slope})),
             WithinRel(62.655234256846, 1.0e-8));
  CHECK_THAT(chain.within_variance, WithinRel(0.058825569875211, 1.0e-8));
  CHECK_THAT(*chain.about_variance, WithinRel(0.183779693803684, 1.0e-8));
  CHECK_THAT(chain.linearity->statistic, WithinRel(3.12414642465, 1.0e-8));
  CHECK_THAT(chain.linearity->limit, WithinRel(3.25944630614, 1.0e-8));
  CHECK_THAT(chain.linearity->probability, WithinAbs(0.056089, 1.0e-6));
  CHECK(chain.linearity->accepted());
  CHECK_THAT(chain.dispersion_correction, WithinRel(1.0462962962963, 1.0e-8));
  CHECK_THAT(chain.dispersion->statistic, WithinRel(12.2339280362, 1.0e-8));
  CHECK_THAT(chain.dispersion->limit, WithinRel(7.81472790325, 1.0e-8));
  CHECK_THAT(chain.dispersion->probability, WithinAbs(0.006623309, 1.0e-9));
  CHECK_FALSE(chain.dispersion->accepted());
  CHECK_THAT(chain.variance, WithinRel(0.0654021027135517, 1.0e-8));
  CHECK_THAT(chain.student_t, WithinRel(1.685954457643814, 1.0e-8));
  CHECK_THAT(in_celsius(*chain.index), WithinRel(165.305633330896, 1.0e-8));
  CHECK_THAT(chain.halving->value(), WithinRel(18.426025432818, 1.0e-8));
  CHECK_THAT(in_celsius(*chain.lower_limit), WithinRel(160.018508331533, 1.0e-8));
  CHECK_THAT(*chain.dispersion_ratio, WithinRel(0.286937897630, 1.0e-8));
  CHECK_FALSE(chain.adjusted_index);
}

TEST_CASE("IEC 60216-3: other lives, the lower band, the halving interval", "[labfit][iec]") {
  const LifeTest test = life_data("class-h-motorettes.csv");
  CHECK_THAT(in_celsius(*iec60216(test, Hours{5000.0}).index), WithinRel(203.774324580289, 1.0e-8));
  const Iec60216 chain = iec60216(test);
  // Nelson's figure for 180 Cel, two ways: median life and its one-sided lower 95 % limit (R, offset 273.15).
  const double mean_ln = chain.mean_ln + chain.slope * (1.0 / 453.15 - chain.mean_x);
  CHECK_THAT(std::exp(mean_ln), WithinRel(11454.8130, 1.0e-8));
  CHECK_THAT(std::exp(lower_limit_ln(chain, celsius(180.0))), WithinRel(9870.4357, 1.0e-8));
  // At the lower limit of the temperature the lower band reaches the hours.
  CHECK_THAT(lower_limit_ln(chain, *chain.lower_limit), WithinRel(std::log(20000.0), 1.0e-10));
  // The same halving interval from the closed form HIC = R ln2 T^2/(Ea - R ln2 T).
  const auto closed = ageing::halving_interval(*chain.index, activation_energy_from_slope(KelvinRise{chain.slope}));
  CHECK_THAT(chain.halving->value(), WithinRel(closed.value(), 1.0e-9));
}

TEST_CASE("IEC 60216-3: a bent line fails and widens the limit", "[labfit][iec]") {
  // Own arithmetic: means on a curve, the same small scatter everywhere.
  std::vector<Life> lives;
  for (const auto& [degrees, mean] :
       std::vector<std::pair<double, double>>{{150, 9.2}, {170, 8.9}, {190, 8.0}, {210, 6.3}}) {
    for (const double off : {-0.05, -0.02, 0.0, 0.02, 0.05}) lives.push_back(life(degrees, std::exp(mean + off)));
  }
  const Iec60216 chain = iec60216(life_test(lives));
  REQUIRE(chain.linearity);
  CHECK_FALSE(chain.linearity->accepted());
  CHECK(chain.dispersion->accepted());
  const double inflated = chain.within_variance * chain.linearity->statistic / chain.linearity->limit;
  CHECK_THAT(chain.variance, WithinRel((16.0 * inflated + 2.0 * *chain.about_variance) / 18.0, 1.0e-12));
}

TEST_CASE("IEC 60216-3: two temperatures have no linearity test", "[labfit][iec]") {
  const Iec60216 chain = iec60216(life_test({life(150, 4000), life(150, 5000), life(180, 900), life(180, 1100)}));
  CHECK_FALSE(chain.linearity);
  CHECK_FALSE(chain.about_variance);
  CHECK(chain.index);
}

TEST_CASE("IEC 60216-3: a single specimen is left out of the test of spread", "[labfit][iec]") {
  const Iec60216 chain =
      iec60216(life_test({life(150, 4000), life(150, 5000), life(165, 2100), life(180, 900), life(180, 1100)}));
  CHECK_FALSE(chain.groups[1].variance_ln);
  CHECK(chain.dispersion);
  CHECK_THAT(chain.dispersion_note, Contains("one specimen only at 165 Cel"));
}

TEST_CASE("IEC 60216-3: equal lives at one temperature have no test of spread", "[labfit][iec]") {
  const Iec60216 chain = iec60216(life_test({life(150, 4000), life(150, 5000), life(180, 1000, 3)}));
  CHECK_FALSE(chain.dispersion);
  CHECK_THAT(chain.dispersion_note, Contains("180 Cel") && Contains("cannot be tested"));
}

TEST_CASE("IEC 60216-3: what is no complete test is refused with a reason", "[labfit][iec][error]") {
  CHECK_THROWS_WITH(iec60216(life_data("three-cells.csv")), Contains("complete data"));
  CHECK_THROWS_WITH(iec60216(life_test({life(150, 4000), life(150, 5000)})), Contains("at least two temperatures"));
  CHECK_THROWS_WITH(iec60216(life_test({life(150, 4000), life(180, 1000)})), Contains("one specimen only"));
  CHECK_THROWS_WITH(iec60216(life_test({life(150, 4000, 2), life(180, 1000, 2)})), Contains("are equal"));
  CHECK_THROWS_AS(iec60216(life_data("class-h-motorettes.csv"), Hours{0.0}), DomainError);
}

TEST_CASE("IEC 60216-3: lives that rise with temperature have no index", "[labfit][iec]") {
  const Iec60216 chain = iec60216(life_test({life(150, 900), life(150, 1100), life(180, 4000), life(180, 5000)}));
  CHECK(chain.slope < 0.0);
  CHECK_FALSE(chain.index);
  CHECK_FALSE(chain.lower_limit);
}
