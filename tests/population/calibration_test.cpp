// Simulation-based calibration of learning: findings made up from draws of the model must give those draws back as often as
// the chances say. Talts, Betancourt, Simpson, Vehtari & Gelman 2018, arXiv:1804.06788. With weighted draws the rank becomes
// the weight of the draws below the true value.
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/random.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "population/cases.hpp"
#include "population/drawn_case.hpp"
#include "population/evidence.hpp"
#include "population/learning.hpp"
#include "population/looked_place.hpp"

using Catch::WithinAbs;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

constexpr std::size_t quantities = 6, scores_among_them = 3;

// Where true values fall among the draws that findings made up from them leave.
struct Calibration {
  std::array<std::vector<double>, quantities> place;       // of each quantity in each case, within (0, 1)
  std::array<double, scores_among_them> mean{}, square{};  // of the normal scores, over all cases and draws
  int tempered = 0;
};

// Two looks at one place years apart, a look and a pulled tail at another; a third place is never seen.
Json scene() {
  Scene scene;
  scene.zones = {"head-cover", "upper-bulkhead", "cabin-bulkhead"};
  Json document = case_of(scene);
  const auto look = [](const char* segment, const char* method, const char* on) {
    return Json{{"segment", segment}, {"seen", "supple"}, {"method", method}, {"cause", "heat"}, {"on", on}};
  };
  document["findings"] = {look("upper-bulkhead", "look-boot", "2006-01-01"),
                          look("upper-bulkhead", "look-touch", "2014-01-01"),
                          look("head-cover", "look-boot", "2014-01-01"),
                          {{"segment", "head-cover"},
                           {"method", "elongation-tail"},
                           {"elongation", {{"percent", 50}, {"standard_error", 25}}},
                           {"cause", "heat"},
                           {"on", "2014-01-01"}}};
  return document;
}

library::Seen seen_of(const library::LookTable& table, ageing::Condition condition, double chance) {
  const auto& row = table.seen[static_cast<std::size_t>(condition)].chance;
  std::size_t seen = 0;
  while (seen < 4 && chance >= row[seen]) chance -= row[seen++];
  return static_cast<library::Seen>(seen);
}

// The case with findings made up from one row of true draws, with the errors of their methods.
class MadeUp {
 public:
  MadeUp(const casefile::Case& job, DrawnCase& drawn, Normals& truth, std::uint64_t seed) : job_{job}, seed_{seed} {
    for (const casefile::Finding& finding : job.findings) {
      const std::size_t segment = finding.segment == "head-cover" ? 0 : 1;
      const SegmentDraws draws = drawn.segment(segment, truth);
      conditions_.push_back(conditions_at(draws, years_between(job.inspected.day, finding.on.day)));
      elongations_.push_back(elongation_left(draws));
    }
  }
  [[nodiscard]] casefile::Case of(std::size_t row) const {
    casefile::Case made_up = job_;
    for (std::size_t i = 0; i < made_up.findings.size(); ++i) {
      casefile::Finding& finding = made_up.findings[i];
      const RandomQuantity quantity = random_quantity(seed_, "seen/" + std::to_string(i));
      if (finding.elongation) {
        finding.elongation->elongation =
            Strain{elongations_[i][row] + finding.elongation->standard_error.value() * normal_draw(quantity, row)};
      } else {
        const auto& table = std::get<library::LookTable>(records().methods.at(finding.method).evidence);
        finding.seen = seen_of(table, conditions_[i][row], uniform_draw(quantity, row));
      }
    }
    return made_up;
  }

 private:
  const casefile::Case& job_;
  std::uint64_t seed_;
  std::vector<std::vector<ageing::Condition>> conditions_;
  std::vector<std::vector<double>> elongations_;
};

double weight_below(const std::vector<double>& weights, const std::vector<double>& values, double truth) {
  double below = 0.0;
  for (std::size_t n = 0; n < weights.size(); ++n)
    below += weights[n] * (values[n] < truth ? 1.0 : values[n] > truth ? 0.0 : 0.5);
  return below;
}

// A case of its own for each row of prior draws. Quantities: use, the bay and the lot as normal scores; lives of the places
// that were seen, and of the one that was not.
Calibration calibrate(std::size_t cases, std::size_t draws, std::uint64_t seed) {
  const casefile::Case job = read(scene());
  const exposure::ZoneScores zone_scores = exposure::zone_scores(job, records());
  DrawnCase drawn{job, records(), zone_scores, true};
  const std::string lot = lot_quantities(job, job.lots.front(), "short-lived-1990s").batch;
  const auto values = [&](Normals& normals) {
    std::array<std::vector<double>, quantities> all{normals.of(quantity::usage), normals.of(quantity::bay), normals.of(lot)};
    for (std::size_t i = 0; i < 3; ++i) all[scores_among_them + i] = years_until(drawn.segment(i, normals), 1);
    drawn.forget();
    return all;
  };
  Normals truth{seed, cases};
  for (const std::string& name : {quantity::usage, quantity::soak_decay, quantity::bay, quantity::notch})
    truth.replace(name, normal_draws(random_quantity(seed, "plain/" + name), cases));
  const MadeUp made_up{job, drawn, truth, seed};
  const std::array<std::vector<double>, quantities> real = values(truth);
  Calibration calibration;
  for (std::size_t row = 0; row < cases; ++row) {
    const casefile::Case found = made_up.of(row);
    LearntDraws learnt = learn_from(Evidence{found, records()}, drawn, Normals{row, draws}, true);
    drawn.forget();
    calibration.tempered += learnt.stages > 0 ? 1 : 0;
    for (std::size_t i = 0; i < 2; ++i)
      settle(looked_place(found, records(), i, drawn, learnt.normals, learnt.usual, true).heat, learnt.normals);
    drawn.forget();
    const std::array<std::vector<double>, quantities> believed = values(learnt.normals);
    const std::vector<double>& weights = learnt.belief.weights;
    for (std::size_t q = 0; q < quantities; ++q)
      calibration.place[q].push_back(weight_below(weights, believed[q], real[q][row]));
    for (std::size_t q = 0; q < scores_among_them; ++q) {
      for (std::size_t n = 0; n < draws; ++n) {
        calibration.mean[q] += weights[n] * believed[q][n] / static_cast<double>(cases);
        calibration.square[q] += weights[n] * believed[q][n] * believed[q][n] / static_cast<double>(cases);
      }
    }
  }
  return calibration;
}

double chi_square_of(const std::vector<double>& places, std::size_t bins) {
  std::vector<double> count(bins, 0.0);
  for (const double place : places)
    count[std::min(bins - 1, static_cast<std::size_t>(place * static_cast<double>(bins)))] += 1.0;
  const double expected = static_cast<double>(places.size()) / static_cast<double>(bins);
  double sum = 0.0;
  for (const double one : count) sum += (one - expected) * (one - expected) / expected;
  return sum;
}

double chi_square_limit(std::size_t bins, double alarm) {
  return boost::math::quantile(boost::math::complement(boost::math::chi_squared{static_cast<double>(bins - 1)}, alarm));
}

double covered(const Calibration& calibration, double share) {
  double inside = 0.0, all = 0.0;
  for (const std::vector<double>& places : calibration.place) {
    for (const double place : places) inside += std::abs(place - 0.5) <= 0.5 * share ? 1.0 : 0.0;
    all += static_cast<double>(places.size());
  }
  return inside / all;
}

// @param alarm  how often a right program would fail each check of ranks
void check(const Calibration& calibration, std::size_t bins, double alarm) {
  const auto cases = static_cast<double>(calibration.place.front().size());
  CHECK(calibration.tempered > 0);
  for (std::size_t q = 0; q < quantities; ++q) {
    CAPTURE(q);
    CHECK(chi_square_of(calibration.place[q], bins) < chi_square_limit(bins, alarm));
  }
  // The average over the data of what is believed after them is what was believed before: standard normal scores. Their
  // means have a standard error of at most 1 / sqrt(cases), their squares one of at most sqrt(2 / cases): four of them.
  for (std::size_t q = 0; q < scores_among_them; ++q) {
    CAPTURE(q);
    CHECK_THAT(calibration.mean[q], WithinAbs(0.0, 4.0 / std::sqrt(cases)));
    CHECK_THAT(calibration.square[q], WithinAbs(1.0, 4.0 * std::sqrt(2.0 / cases)));
  }
}

}  // namespace

TEST_CASE("calibration: ranks of true values are uniform in two hundred cases", "[population][learning][calibration]") {
  const Calibration calibration = calibrate(200, 600, 11);
  check(calibration, 10, 1e-4);
  // Nine in ten, with four standard errors of 200 cases for quantities that go together.
  CHECK(covered(calibration, 0.9) > 0.84);
  CHECK(covered(calibration, 0.9) < 0.96);
}

TEST_CASE("calibration: nine tenths cover nine in ten of a thousand cases",
          "[.nightly][population][learning][calibration]") {
  const Calibration calibration = calibrate(1000, 2000, 6788);
  check(calibration, 20, 1e-4);
  CHECK(covered(calibration, 0.9) > 0.88);
  CHECK(covered(calibration, 0.9) < 0.92);
}
