#include "heatside/inspection/search_order.hpp"

#include <algorithm>
#include <numeric>
#include <string>

#include "heatside/base/error.hpp"

namespace heatside::inspection {

namespace {

void expect_actions(const std::vector<SearchAction>& actions) {
  const auto chance = [](double value) { return value >= 0.0 && value <= 1.0; };
  for (const SearchAction& action : actions) {
    if (!chance(action.chance) || !chance(action.detection)) throw DomainError("a chance of a search is not within 0 and 1");
    if (!(action.cost > 0.0)) throw DomainError("a search costs " + std::to_string(action.cost) + ", which is not above 0");
  }
}

const SearchAction& action_at(const std::vector<SearchAction>& actions, std::size_t index) {
  if (index >= actions.size()) throw DomainError("place " + std::to_string(index) + " of a search is not there");
  return actions[index];
}

// By falling index, ties in the order given.
template <class Index>
std::vector<std::size_t> by_falling(const std::vector<SearchAction>& actions, Index index) {
  expect_actions(actions);
  std::vector<std::size_t> order(actions.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return index(actions[a]) > index(actions[b]); });
  return order;
}

double by_finding(const SearchAction& action) { return action.finding() / action.cost; }

// Places that are searched one after the other, with the covers that come off on the way.
struct Block {
  std::vector<std::size_t> actions;
  double chance{}, cost{};
};

bool denser(const Block& a, const Block& b) { return a.chance * b.cost > b.chance * a.cost; }

// Takes the best prefix of sorted blocks together with the cover into one.
std::vector<Block> below_cover(const std::vector<Block>& sorted, double cover) {
  Block so_far{{}, 0.0, cover}, best;
  std::size_t taken = 0;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    so_far.actions.insert(so_far.actions.end(), sorted[i].actions.begin(), sorted[i].actions.end());
    so_far.chance += sorted[i].chance;
    so_far.cost += sorted[i].cost;
    if (i > 0 && !denser(so_far, best)) continue;
    best = so_far;
    taken = i + 1;
  }
  std::vector<Block> blocks{best};
  blocks.insert(blocks.end(), sorted.begin() + static_cast<std::ptrdiff_t>(taken), sorted.end());
  return blocks;
}

std::vector<Block> blocks_of(const std::vector<SearchAction>& actions, const Cover& cover, std::vector<bool>& used) {
  if (!(cover.cost >= 0.0)) throw DomainError("a cover costs less than 0");
  std::vector<Block> blocks;
  for (const std::size_t index : cover.actions) {
    const SearchAction& action = action_at(actions, index);
    if (used[index]) throw DomainError("place " + std::to_string(index) + " lies below two covers");
    used[index] = true;
    blocks.push_back({{index}, action.finding(), action.cost});
  }
  for (const Cover& inner : cover.inside) {
    const std::vector<Block> further = blocks_of(actions, inner, used);
    blocks.insert(blocks.end(), further.begin(), further.end());
  }
  std::stable_sort(blocks.begin(), blocks.end(), denser);
  return cover.cost > 0.0 && !blocks.empty() ? below_cover(blocks, cover.cost) : blocks;
}

// Covers on the way to each place, outermost first.
void find_covers(const Cover& cover, std::vector<const Cover*>& above, std::vector<std::vector<const Cover*>>& found) {
  above.push_back(&cover);
  for (const std::size_t index : cover.actions) {
    if (index >= found.size()) throw DomainError("place " + std::to_string(index) + " of a search is not there");
    found[index] = above;
  }
  for (const Cover& inner : cover.inside) find_covers(inner, above, found);
  above.pop_back();
}

}  // namespace

std::vector<std::size_t> order_for_one_fault(const std::vector<SearchAction>& actions) {
  return by_falling(actions, by_finding);
}

double expected_cost_for_one_fault(const std::vector<SearchAction>& actions, const std::vector<std::size_t>& order) {
  double cost = 0.0, open = 1.0;
  for (const std::size_t index : order) {
    const SearchAction& action = action_at(actions, index);
    cost += open * action.cost;
    open -= action.finding();
  }
  return cost;
}

std::vector<std::size_t> order_with_repeats(const std::vector<SearchAction>& actions, std::size_t looks) {
  expect_actions(actions);
  std::vector<double> index;
  for (const SearchAction& action : actions) index.push_back(by_finding(action));
  std::vector<std::size_t> order;
  for (std::size_t look = 0; look < looks && !actions.empty(); ++look) {
    const auto best = static_cast<std::size_t>(std::max_element(index.begin(), index.end()) - index.begin());
    order.push_back(best);
    index[best] *= 1.0 - actions[best].detection;
  }
  return order;
}

std::vector<std::size_t> order_until_first_find(const std::vector<SearchAction>& actions) {
  return by_falling(actions, by_finding);
}

double expected_cost_until_first_find(const std::vector<SearchAction>& actions, const std::vector<std::size_t>& order) {
  double cost = 0.0, open = 1.0;
  for (const std::size_t index : order) {
    const SearchAction& action = action_at(actions, index);
    cost += open * action.cost;
    open *= 1.0 - action.finding();
  }
  return cost;
}

std::vector<std::size_t> order_until_first_sound(const std::vector<SearchAction>& actions) {
  return by_falling(actions, [](const SearchAction& action) { return (1.0 - action.finding()) / action.cost; });
}

double expected_cost_until_first_sound(const std::vector<SearchAction>& actions, const std::vector<std::size_t>& order) {
  double cost = 0.0, open = 1.0;
  for (const std::size_t index : order) {
    const SearchAction& action = action_at(actions, index);
    cost += open * action.cost;
    open *= action.finding();
  }
  return cost;
}

std::vector<std::size_t> order_below_covers(const std::vector<SearchAction>& actions, const Cover& root) {
  expect_actions(actions);
  std::vector<bool> used(actions.size(), false);
  std::vector<std::size_t> order;
  for (const Block& block : blocks_of(actions, root, used)) {
    order.insert(order.end(), block.actions.begin(), block.actions.end());
  }
  return order;
}

double expected_cost_below_covers(const std::vector<SearchAction>& actions, const Cover& root,
                                  const std::vector<std::size_t>& order) {
  std::vector<std::vector<const Cover*>> covers(actions.size());
  std::vector<const Cover*> above, off;
  find_covers(root, above, covers);
  double cost = 0.0, open = 1.0;
  for (const std::size_t index : order) {
    const SearchAction& action = action_at(actions, index);
    for (const Cover* cover : covers[index]) {
      if (std::find(off.begin(), off.end(), cover) != off.end()) continue;
      off.push_back(cover);
      cost += open * cover->cost;
    }
    cost += open * action.cost;
    open -= action.finding();
  }
  return cost;
}

}  // namespace heatside::inspection
