#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "heatside/base/error.hpp"
#include "heatside/base/random.hpp"
#include "heatside/inspection/search_order.hpp"

using namespace heatside::inspection;
using Catch::WithinAbs;
using heatside::DomainError;

namespace {

using Order = std::vector<std::size_t>;

// Least cost over all permutations.
template <class Cost>
double least_of_all_orders(std::size_t count, Cost cost) {
  Order order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  double least = cost(order);
  while (std::next_permutation(order.begin(), order.end())) least = std::min(least, cost(order));
  return least;
}

// Chances of one fault sum to less than 1.
std::vector<SearchAction> random_actions(std::uint64_t seed, std::size_t count) {
  const auto numbers = heatside::uniform_draws(heatside::random_quantity(seed, "search"), 3 * count);
  std::vector<SearchAction> actions;
  for (std::size_t i = 0; i < count; ++i) {
    actions.push_back({numbers[3 * i] / static_cast<double>(count), numbers[3 * i + 1], 1.0 + 9.0 * numbers[3 * i + 2]});
  }
  return actions;
}

const std::vector<SearchAction> published{{0.4, 0.9, 30.0}, {0.3, 0.5, 10.0}, {0.2, 0.95, 15.0}, {0.1, 0.8, 5.0}};

}  // namespace

TEST_CASE("search order: one fault, imperfect looks", "[inspection][search]") {
  // Rule p d / c: Kadane & Simon 1977, J. Am. Stat. Assoc. 72; numbers DERIVED, computed apart from this program.
  const Order order = order_for_one_fault(published);
  CHECK(order == Order{3, 1, 2, 0});
  CHECK_THAT(expected_cost_for_one_fault(published, order), WithinAbs(43.15, 1.0e-12));
}

TEST_CASE("search order: independent faults, stop at the first find", "[inspection][search]") {
  // Rule q / c: Unluyurt 2004, Discrete Appl. Math. 142, 189-205; numbers DERIVED, computed apart from this program.
  const std::vector<SearchAction> actions{{0.45, 1.0, 30.0}, {0.24, 1.0, 10.0}, {0.42, 1.0, 15.0}, {0.095, 1.0, 5.0}};
  const Order order = order_until_first_find(actions);
  CHECK(order == Order{2, 1, 3, 0});
  CHECK_THAT(expected_cost_until_first_find(actions, order), WithinAbs(34.97172, 1.0e-9));
}

TEST_CASE("search order: the rules are the best of all orders", "[inspection][search]") {
  // Every permutation of up to seven places; own arithmetic of the test.
  const auto seed = GENERATE(range(1u, 11u));
  const std::size_t count = 2 + seed % 6;
  const std::vector<SearchAction> actions = random_actions(seed, count);
  CAPTURE(seed, count);
  const auto one = [&](const Order& order) { return expected_cost_for_one_fault(actions, order); };
  const auto find = [&](const Order& order) { return expected_cost_until_first_find(actions, order); };
  const auto sound = [&](const Order& order) { return expected_cost_until_first_sound(actions, order); };
  CHECK_THAT(one(order_for_one_fault(actions)), WithinAbs(least_of_all_orders(count, one), 1.0e-10));
  CHECK_THAT(find(order_until_first_find(actions)), WithinAbs(least_of_all_orders(count, find), 1.0e-10));
  CHECK_THAT(sound(order_until_first_sound(actions)), WithinAbs(least_of_all_orders(count, sound), 1.0e-10));
}

TEST_CASE("search order: costs of a search by hand", "[inspection][search]") {
  const std::vector<SearchAction> actions{{0.5, 0.8, 10.0}, {0.25, 1.0, 4.0}};
  // 10 + 4 (1 - 0.4); 10 + 4 * 0.6; 10 + 4 * 0.4.
  CHECK_THAT(expected_cost_for_one_fault(actions, {0, 1}), WithinAbs(12.4, 1.0e-12));
  CHECK_THAT(expected_cost_until_first_find(actions, {0, 1}), WithinAbs(12.4, 1.0e-12));
  CHECK_THAT(expected_cost_until_first_sound(actions, {0, 1}), WithinAbs(11.6, 1.0e-12));
}

TEST_CASE("search order: the same place again when its index is best once more", "[inspection][search]") {
  // Blackwell's rule p d (1 - d)^n / c, from memory. Indices 0.2, 0.1, 0.05, ... and 0.12, 0.012, ...
  const std::vector<SearchAction> actions{{0.4, 0.5, 1.0}, {0.4 / 3.0, 0.9, 1.0}};
  CHECK(order_with_repeats(actions, 5) == Order{0, 1, 0, 0, 0});
  CHECK(order_with_repeats(actions, 0).empty());
  CHECK(order_with_repeats({}, 3).empty());
}

TEST_CASE("search order: covers, against all orders", "[inspection][search][covers]") {
  // Bottom-up P-over-C is optimal where a cover need not be closed again: Ottosen & Jensen 2010, arXiv:1203.3502.
  const auto seed = GENERATE(range(1u, 13u));
  CAPTURE(seed);
  const std::vector<SearchAction> actions = random_actions(seed, 7);
  const std::vector<double> cost = heatside::uniform_draws(heatside::random_quantity(seed, "covers"), 3);
  Cover root;
  root.actions = {0, 4};
  root.inside.push_back({10.0 * cost[0], {1, 2}, {}});
  root.inside.push_back({10.0 * cost[1], {3}, {{10.0 * cost[2], {5, 6}, {}}}});
  const auto expected = [&](const Order& order) { return expected_cost_below_covers(actions, root, order); };
  const Order order = order_below_covers(actions, root);
  REQUIRE(order.size() == 7);
  CHECK_THAT(expected(order), WithinAbs(least_of_all_orders(7, expected), 1.0e-10));
}

TEST_CASE("search order: a cover by hand", "[inspection][search][covers]") {
  // Behind the cover (6): 0.3/1 and 0.3/1, together 0.6/8 = 0.075; in the open 0.1/1 = 0.1 and 0.05/1. Alone neither behind
  // the cover would come before the last: 0.3/7 = 0.043.
  const std::vector<SearchAction> actions{{0.3, 1.0, 1.0}, {0.3, 1.0, 1.0}, {0.1, 1.0, 1.0}, {0.05, 1.0, 1.0}};
  const Cover root{0.0, {2, 3}, {{6.0, {0, 1}, {}}}};
  const Order order = order_below_covers(actions, root);
  CHECK(order == Order{2, 0, 1, 3});
  // 1 + 0.9 * 7 + 0.6 + 0.3
  CHECK_THAT(expected_cost_below_covers(actions, root, order), WithinAbs(8.2, 1.0e-12));
  // Without covers it is the plain rule.
  CHECK(order_below_covers(published, {0.0, {0, 1, 2, 3}, {}}) == order_for_one_fault(published));
}

TEST_CASE("search order: bad numbers are refused", "[inspection][search][error]") {
  CHECK_THROWS_AS(order_for_one_fault({{1.5, 1.0, 1.0}}), DomainError);
  CHECK_THROWS_AS(order_for_one_fault({{0.5, -0.1, 1.0}}), DomainError);
  CHECK_THROWS_AS(order_until_first_find({{0.5, 1.0, 0.0}}), DomainError);
  CHECK_THROWS_AS(order_until_first_sound({{0.5, 1.0, std::nan("")}}), DomainError);
  CHECK_THROWS_AS(expected_cost_for_one_fault(published, {4}), DomainError);
  CHECK_THROWS_AS(order_below_covers(published, {-1.0, {0}, {}}), DomainError);
  CHECK_THROWS_AS(order_below_covers(published, {0.0, {7}, {}}), DomainError);
  CHECK_THROWS_AS(order_below_covers(published, {0.0, {0}, {{1.0, {0}, {}}}}), DomainError);
  CHECK_THROWS_AS(expected_cost_below_covers(published, {0.0, {7}, {}}, {0}), DomainError);
}
