// Costs of a stop at which a choice changes, and what it is worth to know more.
#include "heatside/remedy/worth_knowing.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "heatside/base/error.hpp"
#include "heatside/base/random.hpp"

using namespace heatside;
using namespace heatside::remedy;
using Catch::WithinAbs;

namespace {

std::size_t brute_force(const std::vector<CostLine>& lines, double stop) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    if (lines[i].at_nothing + stop * lines[i].stops < lines[best].at_nothing + stop * lines[best].stops) best = i;
  }
  return best;
}

std::size_t from_envelope(const std::vector<BreakEven>& envelope, double stop) {
  std::size_t line = envelope.front().line;
  for (const BreakEven& piece : envelope) {
    if (piece.from_stop <= stop) line = piece.line;
  }
  return line;
}

}  // namespace

TEST_CASE("break-even: leave or replace, by hand", "[remedy][knowing]") {
  // Leaving: 2 stops for nothing else; a new part: 480 and no stop. It pays from 240 a stop on.
  const auto envelope = cheapest_by_stop({{0.0, 2.0}, {480.0, 0.0}});
  REQUIRE(envelope.size() == 2);
  CHECK(envelope[0].line == 0);
  CHECK(envelope[1].line == 1);
  CHECK_THAT(envelope[1].from_stop, WithinAbs(240.0, 1e-12));
  CHECK(cheapest_by_stop({{5.0, 0.0}, {5.0, 0.0}}).size() == 1);
  CHECK_THROWS_AS(cheapest_by_stop({}), DomainError);
}

TEST_CASE("break-even: the lowest of many lines, against brute force", "[remedy][knowing]") {
  const auto seed = static_cast<std::uint64_t>(GENERATE(range(0, 40)));
  std::vector<CostLine> lines;
  const std::vector<double> u = uniform_draws(random_quantity(seed, "lines"), 16);
  for (std::size_t i = 0; i < 8; ++i) lines.push_back({1000.0 * u[2 * i], 3.0 * u[2 * i + 1]});
  const auto envelope = cheapest_by_stop(lines);
  for (std::size_t i = 1; i < envelope.size(); ++i) CHECK(envelope[i].from_stop >= envelope[i - 1].from_stop);
  for (int stop = 0; stop < 4000; stop += 7) {
    CAPTURE(seed, stop);
    CHECK(from_envelope(envelope, stop) == brute_force(lines, stop));
  }
}

TEST_CASE("worth of knowing: a normal unknown against the closed form", "[remedy][knowing][published]") {
  // Two choices, the second costs a + b z + noise, the first costs 0. Knowing z saves s (phi(k) - k (1 - Phi(k))) with
  // s = b, k = a / b for a > 0: the unit normal loss of Raiffa & Schlaifer 1961 (from memory).
  constexpr std::size_t draws = 40000;
  constexpr double a = 30.0, b = 100.0;
  const std::vector<double> z = normal_draws(random_quantity(1, "z"), draws);
  const std::vector<double> noise = normal_draws(random_quantity(1, "noise"), draws);
  std::vector<std::vector<double>> costs(2, std::vector<double>(draws, 0.0));
  for (std::size_t n = 0; n < draws; ++n) costs[1][n] = a + b * z[n] + 200.0 * noise[n];
  const population::Belief belief = population::even_belief(draws);
  const double k = a / b;
  const double phi = std::exp(-0.5 * k * k) / std::sqrt(2.0 * std::numbers::pi),
               above = 0.5 * std::erfc(k / std::numbers::sqrt2);
  const WorthKnowing worth = worth_of_knowing(belief, costs, 0, {"z", {z}, false});
  CHECK_THAT(worth.saving, WithinAbs(b * (phi - k * above), 4.0 * worth.standard_error));
  CHECK(worth.standard_error < 2.0);
  CHECK_THAT(worth.changes, WithinAbs(above, 0.02));
  CHECK(worth.instead == 1);
}

TEST_CASE("worth of knowing: noise is worth nothing", "[remedy][knowing]") {
  constexpr std::size_t draws = 20000;
  const std::vector<double> noise = normal_draws(random_quantity(2, "noise"), draws);
  std::vector<std::vector<double>> columns, costs(2, std::vector<double>(draws, 0.0));
  for (int i = 0; i < 6; ++i) columns.push_back(normal_draws(random_quantity(2, "column" + std::to_string(i)), draws));
  for (std::size_t n = 0; n < draws; ++n) costs[1][n] = 40.0 + 300.0 * noise[n];
  const WorthKnowing worth = worth_of_knowing(population::even_belief(draws), costs, 0, {"nothing", columns, false});
  CHECK(worth.saving <= 3.0 * worth.standard_error);
  CHECK(worth.saving < 1.0);
}

TEST_CASE("worth of knowing: two compounds, by hand", "[remedy][knowing]") {
  // One draw in four is of the compound for which leaving costs 1000, otherwise 0; replacing costs 300. Without knowing:
  // leave, 250. Knowing: 0.25 * 300 = 75. Worth 175.
  constexpr std::size_t draws = 8000;
  std::vector<double> compound;
  std::vector<std::vector<double>> costs(2, std::vector<double>(draws, 300.0));
  for (std::size_t n = 0; n < draws; ++n) {
    compound.push_back((n / 2) % 4 == 0 ? 1.0 : 0.0);
    costs[0][n] = compound.back() == 1.0 ? 1000.0 : 0.0;
  }
  const WorthKnowing worth = worth_of_knowing(population::even_belief(draws), costs, 0, {"compound", {compound}, true});
  CHECK_THAT(worth.saving, WithinAbs(175.0, 1e-6));
  CHECK_THAT(worth.changes, WithinAbs(0.25, 1e-9));
  CHECK_THROWS_AS(worth_of_knowing(population::even_belief(10), costs, 0, {"compound", {compound}, true}), DomainError);
}
