#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "heatside/base/error.hpp"
#include "heatside/inspection/opening_order.hpp"
#include "population/soft_segments.hpp"

using namespace heatside::inspection;
using namespace heatside::population;
using namespace soft_segments;
using Catch::WithinAbs;
using heatside::DomainError;
using heatside::Minutes;

namespace {

// Four segments with one shared factor, keep or replace, a minute for every look.
OpeningQuestion vector_question() {
  OpeningQuestion question;
  question.knowledge = one_factor_grid({0.5, 0.0, -0.5, -1.0}, 0.4);
  Action keep{"keep", 0.0, {}, {}};
  const std::vector<std::string> names{"U1", "U2", "U3", "U4"};
  for (std::size_t k = 0; k < 4; ++k) {
    keep.segments.push_back({k, {0.0, 0.0, 0.0, 400.0, 400.0}});
    Candidate candidate;
    candidate.id = names[k];
    candidate.segment = k;
    candidate.minutes = Minutes{1.0};
    candidate.table = yes_or_no(0.85, 0.95);
    question.candidates.push_back(candidate);
  }
  question.choices = {{"loom", {keep, {"replace", 700.0, {}, {}}}}};
  return question;
}

OpeningQuestion small_question() {
  OpeningQuestion question = vector_question();
  const std::vector<double> z = heatside::normal_draws(heatside::random_quantity(4, "factor"), 200);
  question.knowledge = {even_belief(200), one_factor({0.5, 0.0, -0.5, -1.0}, 0.4, z)};
  return question;
}

const OpeningValue& value_of(const OpeningOrder& order, std::size_t candidate) {
  const auto found = std::find_if(order.by_value.begin(), order.by_value.end(),
                                  [&](const OpeningValue& value) { return value.candidate == candidate; });
  REQUIRE(found != order.by_value.end());
  return *found;
}

void collect_looks(const TreeNode& node, std::vector<std::size_t>& looks) {
  if (node.look) looks.push_back(*node.look);
  for (const TreeBranch& branch : node.branches) collect_looks(branch.next, looks);
}

bool holds(const std::vector<std::size_t>& list, std::size_t item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

heatside::library::ModelConstants::Opening constants() {
  heatside::library::ModelConstants::Opening opening;
  opening.minutes_to_open.value = 20.0;
  opening.cover_share.value = 0.75;
  opening.break_stiff.value = 0.1;
  opening.break_flex_cracks.value = 0.2;
  opening.break_cracked.value = 0.3;
  opening.break_crumbling.value = 0.4;
  return opening;
}

}  // namespace

TEST_CASE("opening order: one shared factor, against exact integration", "[inspection][opening]") {
  // Savings less one minute at 2 a minute; reference values computed apart from this program on a 4001-point trapezoid.
  // DERIVED (method: Straub & Faber 2005, Structural Safety 27, 335-355). The best look is the second segment, not the one
  // that is most likely cracked.
  OpeningQuestion question = vector_question();
  question.money_per_minute = 2.0;
  const OpeningOrder order = opening_order(question);
  std::vector<std::size_t> by_value;
  for (const OpeningValue& value : order.by_value) by_value.push_back(value.candidate);
  CHECK(by_value == std::vector<std::size_t>{1, 2, 0, 3});
  CHECK(order.by_chance == std::vector<std::size_t>{0, 1, 2, 3});
  CHECK_THAT(value_of(order, 1).saving, WithinAbs(112.608875, 1.0e-6));
  CHECK_THAT(value_of(order, 1).net, WithinAbs(110.608875, 1.0e-6));
  CHECK_THAT(value_of(order, 3).net, WithinAbs(68.380518, 1.0e-6));
  CHECK_THAT(value_of(order, 0).chance_cracked, WithinAbs(0.691462461, 1.0e-6));
  CHECK_THAT(order.now.least, WithinAbs(663.462102, 1.0e-6));
  CHECK_THAT(order.perfect.saving, WithinAbs(178.018775, 1.0e-6));
  CHECK(order.looking == Looking::pays);
  CHECK(order.tree.net_saving >= value_of(order, 1).net);
  CHECK(order.tree.net_saving <= order.perfect.saving);
}

TEST_CASE("opening order: what opening breaks can turn the order round", "[inspection][opening]") {
  // Breaking counts by condition: the second segment is cracked with chance 1/2, the third with 0.308537539. By hand.
  OpeningQuestion question = vector_question();
  for (Candidate& candidate : question.candidates) {
    candidate.break_chance = {0.0, 0.05, 0.2, 0.5, 0.5};
    candidate.break_cost = 200.0;
    candidate.other_harm = 1.5;
  }
  const OpeningOrder order = opening_order(question);
  CHECK_THAT(value_of(order, 1).harm, WithinAbs(0.5 * 0.5 * 200.0 + 1.5, 1.0e-6));
  CHECK_THAT(value_of(order, 2).harm, WithinAbs(0.308537539 * 0.5 * 200.0 + 1.5, 1.0e-6));
  CHECK(order.by_value[0].candidate == 2);
  for (const OpeningValue& value : order.by_value) {
    CHECK_THAT(value.net, WithinAbs(value.saving - value.price - value.harm, 1.0e-12));
  }
}

TEST_CASE("opening order: airbag circuits and what is open are never in it", "[inspection][opening]") {
  // Rule of the trade: airbag circuits are left to the maker's procedure; common practice, no source.
  OpeningQuestion question = small_question();
  question.candidates[1].airbag = true;
  question.candidates[2].opened = true;
  const OpeningOrder order = opening_order(question);
  std::vector<std::size_t> named = order.by_chance;
  for (const OpeningValue& value : order.by_value) named.push_back(value.candidate);
  for (const PairOfOpenings& pair : order.pairs) named.insert(named.end(), {pair.first, pair.second});
  collect_looks(order.tree.root, named);
  CHECK_FALSE(holds(named, 1));
  CHECK_FALSE(holds(named, 2));
  CHECK(holds(named, 0));
  CHECK(holds(named, 3));
  CHECK(order.kept_out == std::vector<std::size_t>{1});
  CHECK(order.pairs.size() == 1);
}

TEST_CASE("opening order: one cover off makes the places below it cheaper", "[inspection][opening]") {
  OpeningQuestion question = small_question();
  question.covers = {{"intake", Minutes{90.0}, false}};
  for (Candidate& candidate : question.candidates) candidate.cover = 0;
  question.candidates[3].cover.reset();
  const OpeningOrder on = opening_order(question);
  question.covers[0].off = true;
  const OpeningOrder off = opening_order(question);
  CHECK(value_of(on, 0).minutes == Minutes{91.0});
  CHECK(value_of(off, 0).minutes == Minutes{1.0});
  CHECK_THAT(value_of(off, 0).net - value_of(on, 0).net, WithinAbs(90.0, 1.0e-9));
  CHECK(value_of(on, 3).net == value_of(off, 3).net);
  CHECK(off.tree.net_saving > on.tree.net_saving);
  CHECK(on.tree.net_saving > off.tree.net_saving - 90.0 - 1.0e-9);  // paid once, if at all
  CHECK(on.by_value[0].candidate == 3);
}

TEST_CASE("opening order: when nothing pays it says why", "[inspection][opening]") {
  OpeningQuestion question = small_question();
  SECTION("dear looks") {
    for (Candidate& candidate : question.candidates) candidate.minutes = Minutes{500.0};
    const OpeningOrder order = opening_order(question);
    CHECK(order.looking == Looking::costs_more);
    CHECK_FALSE(order.tree.root.look.has_value());
    CHECK(order.tree.net_saving == 0.0);
    for (const OpeningValue& value : order.by_value) CHECK(value.net < 0.0);
  }
  SECTION("a choice that no look can change") {
    question.choices[0].actions[1].fixed = 5000.0;
    const OpeningOrder order = opening_order(question);
    CHECK(order.looking == Looking::changes_nothing);
    for (const OpeningValue& value : order.by_value) CHECK(value.saving == 0.0);
    CHECK(order.now.best == std::vector<std::size_t>{0});
  }
  SECTION("nothing left to open") {
    for (Candidate& candidate : question.candidates) candidate.opened = true;
    const OpeningOrder order = opening_order(question);
    CHECK(order.looking == Looking::nothing_left);
    CHECK(order.by_value.empty());
    CHECK(order.pairs.empty());
    CHECK(order.perfect.saving > 0.0);
  }
}

TEST_CASE("opening order: a pair can pay where no single opening does", "[inspection][opening]") {
  // Two sure looks, 60 a crack, 110 to replace: worth 2.5 together and nothing alone (see the value of information); each
  // costs 0.5. After a first look that finds no crack the second is not made: 2.5 - 0.5 - 0.25. By hand.
  OpeningQuestion question = vector_question();
  question.candidates.resize(2);
  question.knowledge = {even_belief(1), {supple_or_cracked({0.5}), supple_or_cracked({0.5})}};
  question.choices[0].actions[0].segments = {{0, {0.0, 0.0, 0.0, 60.0, 60.0}}, {1, {0.0, 0.0, 0.0, 60.0, 60.0}}};
  question.choices[0].actions[1].fixed = 110.0;
  for (Candidate& candidate : question.candidates) {
    candidate.table = yes_or_no(1.0, 1.0);
    candidate.minutes = Minutes{0.5};
  }
  const OpeningOrder order = opening_order(question);
  for (const OpeningValue& value : order.by_value) CHECK_THAT(value.net, WithinAbs(-0.5, 1.0e-12));
  REQUIRE(order.pairs.size() == 1);
  CHECK_THAT(order.pairs[0].net, WithinAbs(1.75, 1.0e-12));
  CHECK(order.looking == Looking::pays);
  question.tree.depth = 1;
  // One look alone changes nothing, but knowing more would: it must not be said that looking changes nothing.
  CHECK(opening_order(question).looking == Looking::costs_more);
}

TEST_CASE("opening order: an opening that is not allowed is no opening that does not pay", "[inspection][opening]") {
  OpeningQuestion question = small_question();
  REQUIRE(opening_order(question).looking == Looking::pays);
  SECTION("none") {
    question.allowed = 0;
    CHECK(opening_order(question).looking == Looking::not_allowed);
  }
  SECTION("none that the money pays for") {
    question.cost_limit = 0.5;  // every look costs a minute at 1
    CHECK(opening_order(question).looking == Looking::not_allowed);
  }
  SECTION("nothing but airbag circuits") {
    for (Candidate& candidate : question.candidates) candidate.airbag = true;
    CHECK(opening_order(question).looking == Looking::nothing_left);
  }
}

TEST_CASE("opening order: what an outcome rules out is not advised after it", "[inspection][opening]") {
  // One segment, cracked with chance 1/2, a sure look at 1. Losses supple / cracked: leave 0 / 60, cover 5 / 55, replace
  // 35 / 35. Without a rule: 17.5 after the look. With `replace` ruled out after a crack: 0 and 55. By hand.
  OpeningQuestion question = vector_question();
  question.candidates.resize(1);
  question.candidates[0].table = yes_or_no(1.0, 1.0);
  question.knowledge = {even_belief(1), {supple_or_cracked({0.5})}};
  const Action leave{"leave", 0.0, {}, {{0, {0.0, 0.0, 0.0, 60.0, 60.0}}}};
  const Action cover{"cover", 5.0, {}, {{0, {0.0, 0.0, 0.0, 50.0, 50.0}}}};
  question.choices = {{"loom", {leave, cover, {"replace", 35.0, {}, {}}}}};
  const auto after_a_crack = [](const OpeningOrder& order) {
    for (const TreeBranch& branch : order.tree.root.branches) {
      if (branch.outcomes == std::vector<std::size_t>{1}) return branch.next.actions;
    }
    return std::vector<std::size_t>{};
  };
  const OpeningOrder free = opening_order(question);
  CHECK(after_a_crack(free) == std::vector<std::size_t>{2});
  CHECK_THAT(free.tree.net_saving, WithinAbs(30.0 - 17.5 - 1.0, 1.0e-12));
  question.candidates[0].ruled_out = {{1, 0, 2}};
  const OpeningOrder ruled = opening_order(question);
  CHECK(after_a_crack(ruled) == std::vector<std::size_t>{1});
  CHECK_THAT(ruled.tree.net_saving, WithinAbs(30.0 - 27.5 - 1.0, 1.0e-12));
  // Where everything is ruled out, nothing is.
  question.candidates[0].ruled_out = {{1, 0, 0}, {1, 0, 1}, {1, 0, 2}};
  CHECK(after_a_crack(opening_order(question)) == std::vector<std::size_t>{2});
}

TEST_CASE("opening order: what the owner allows is kept", "[inspection][opening]") {
  OpeningQuestion question = small_question();
  const auto looks = [](const OpeningOrder& order) {
    std::vector<std::size_t> found;
    collect_looks(order.tree.root, found);
    return found.size();
  };
  question.allowed = 0;
  CHECK(looks(opening_order(question)) == 0);
  question.allowed = 1;
  const OpeningOrder one = opening_order(question);
  CHECK(looks(one) == 1);
  CHECK(one.pairs.empty());
  CHECK_THAT(one.tree.net_saving, WithinAbs(one.by_value[0].net, 1.0e-9));
  question.allowed.reset();
  question.cost_limit = 1.5;
  CHECK(looks(opening_order(question)) == 1);
  question.cost_limit.reset();
  CHECK(looks(opening_order(question)) > 1);
}

TEST_CASE("opening order: the order in which candidates are given decides nothing", "[inspection][opening][property]") {
  const OpeningQuestion question = small_question();
  OpeningQuestion turned = question;
  std::reverse(turned.candidates.begin(), turned.candidates.end());
  // Equal ones: ties go by id.
  OpeningQuestion equal = question;
  equal.knowledge.segments.assign(4, question.knowledge.segments[1]);
  OpeningQuestion equal_turned = equal;
  std::reverse(equal_turned.candidates.begin(), equal_turned.candidates.end());
  const auto ids = [](const OpeningQuestion& asked, const OpeningOrder& order) {
    std::vector<std::string> names;
    for (const OpeningValue& value : order.by_value) names.push_back(asked.candidates[value.candidate].id);
    for (const std::size_t index : order.by_chance) names.push_back(asked.candidates[index].id);
    for (const PairOfOpenings& pair : order.pairs) {
      names.push_back(asked.candidates[pair.first].id + " " + asked.candidates[pair.second].id);
    }
    std::vector<std::size_t> looks;
    collect_looks(order.tree.root, looks);
    for (const std::size_t index : looks) names.push_back(asked.candidates[index].id);
    return names;
  };
  const OpeningOrder a = opening_order(question), b = opening_order(turned);
  CHECK(ids(question, a) == ids(turned, b));
  CHECK(a.tree.net_saving == b.tree.net_saving);
  CHECK(ids(equal, opening_order(equal)) == ids(equal_turned, opening_order(equal_turned)));
  CHECK(opening_order(equal).by_value[0].candidate == 0);
}

TEST_CASE("opening order: a further segment that is not asked about changes nothing", "[inspection][opening][property]") {
  const OpeningQuestion question = small_question();
  OpeningQuestion more = question;
  more.knowledge.segments.push_back(supple_or_cracked(std::vector<double>(200, 0.5)));
  const OpeningOrder a = opening_order(question), b = opening_order(more);
  CHECK(a.tree.net_saving == b.tree.net_saving);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(a.by_value[i].candidate == b.by_value[i].candidate);
    CHECK(a.by_value[i].net == b.by_value[i].net);
  }
}

TEST_CASE("opening order: minutes of a cover group are shared out", "[inspection][opening][access]") {
  // Three quarters of the least minutes of a group are the cover's; by hand.
  const SharedAccess shared = shared_access({{Minutes{40.0}, "intake"},
                                             {Minutes{10.0}, ""},
                                             {Minutes{60.0}, "intake"},
                                             {std::nullopt, "trim"},
                                             {std::nullopt, ""}},
                                            constants());
  REQUIRE(shared.covers.size() == 2);
  CHECK(shared.covers[0].id == "intake");
  CHECK(shared.covers[0].minutes == Minutes{30.0});
  CHECK(shared.covers[1].minutes == Minutes{15.0});
  CHECK_FALSE(shared.covers[0].off);
  CHECK(shared.minutes == std::vector<Minutes>{Minutes{10.0}, Minutes{10.0}, Minutes{30.0}, Minutes{5.0}, Minutes{20.0}});
  CHECK(shared.cover[0] == 0u);
  CHECK_FALSE(shared.cover[1].has_value());
  CHECK(shared.cover[2] == 0u);
  CHECK(shared.cover[3] == 1u);
  CHECK_THROWS_AS(shared_access({{Minutes{-1.0}, ""}}, constants()), DomainError);
}

TEST_CASE("opening order: chances of breaking come from the model record", "[inspection][opening][access]") {
  CHECK(break_chances(constants()) == ConditionRow{0.0, 0.1, 0.2, 0.3, 0.4});
}

TEST_CASE("opening order: bad questions are refused", "[inspection][opening][error]") {
  const OpeningQuestion good = small_question();
  const auto refused = [&](auto&& spoil) {
    OpeningQuestion bad = good;
    spoil(bad);
    CHECK_THROWS_AS(opening_order(bad), DomainError);
  };
  refused([](OpeningQuestion& q) { q.candidates[0].segment = 9; });
  refused([](OpeningQuestion& q) { q.candidates[0].segment = 1; });
  refused([](OpeningQuestion& q) { q.candidates[0].cover = 0; });
  refused([](OpeningQuestion& q) { q.candidates[0].minutes = Minutes{-1.0}; });
  refused([](OpeningQuestion& q) { q.candidates[0].break_chance[2] = 1.01; });
  refused([](OpeningQuestion& q) { q.candidates[0].break_cost = std::numeric_limits<double>::infinity(); });
  refused([](OpeningQuestion& q) { q.candidates[0].other_harm = -0.1; });
  refused([](OpeningQuestion& q) { q.candidates[0].table.outcomes.clear(); });
  refused([](OpeningQuestion& q) { q.money_per_minute = -1.0; });
  refused([](OpeningQuestion& q) { q.covers = {{"x", Minutes{std::nan("")}, false}}; });
  refused([](OpeningQuestion& q) { q.choices[0].actions.clear(); });
}
