#pragma once

#include <cstddef>
#include <optional>
#include <vector>

/// Orders of search that are known to be best in simple settings: the yardstick for the opening order, which has to handle
/// looks that are not independent. Costs are of any one unit, for example minutes or money.

namespace heatside::inspection {

/// One place to search.
struct SearchAction {
  double chance{};         ///< that it is the fault or has one, within [0, 1]
  double detection = 1.0;  ///< that a look finds it if it is there, within [0, 1]
  double cost{};           ///< of the look, > 0
  [[nodiscard]] double finding() const { return chance * detection; }  ///< that a look finds one
};

/// Exactly one place has the fault (or none): the order of least expected cost until it is found is by falling
/// chance * detection / cost. Ties keep their order.
/// @throws DomainError  a chance outside [0, 1], a cost that is not above 0
/// @par Source     Kadane & Simon 1977, J. Am. Stat. Assoc. 72 (one fault); Blackwell's search rule, in Matula 1964
/// (detection,
///                 from memory)
/// @par Tested by  tests/inspection/search_order_test.cpp, against all permutations
[[nodiscard]] std::vector<std::size_t> order_for_one_fault(const std::vector<SearchAction>& actions);

/// Expected cost of going through the places in this order until the fault is found.
[[nodiscard]] double expected_cost_for_one_fault(const std::vector<SearchAction>& actions,
                                                 const std::vector<std::size_t>& order);

/// Where to look for the n-th time: the same place may be looked at again, each look finding independently. Chances of the
/// looks are chance * detection * (1 - detection)^(looks before), so the index falls from look to look.
/// @return  the places of the first `looks` looks
/// @par Source  Blackwell's search rule (from memory)
[[nodiscard]] std::vector<std::size_t> order_with_repeats(const std::vector<SearchAction>& actions, std::size_t looks);

/// Independent faults, stop at the first that is found: by falling chance * detection / cost.
/// @par Source  Unluyurt 2004, Discrete Appl. Math. 142, 189-205 (review of sequential testing)
[[nodiscard]] std::vector<std::size_t> order_until_first_find(const std::vector<SearchAction>& actions);
[[nodiscard]] double expected_cost_until_first_find(const std::vector<SearchAction>& actions,
                                                    const std::vector<std::size_t>& order);

/// Independent faults, stop at the first place where none is found: by rising cost / (1 - chance * detection).
/// @par Source  Unluyurt 2004, as above
[[nodiscard]] std::vector<std::size_t> order_until_first_sound(const std::vector<SearchAction>& actions);
[[nodiscard]] double expected_cost_until_first_sound(const std::vector<SearchAction>& actions,
                                                     const std::vector<std::size_t>& order);

/// A cover with places below it, and covers below it.
struct Cover {
  double cost = 0.0;                 ///< of taking it off, once, >= 0
  std::vector<std::size_t> actions;  ///< indices of the places that come free
  std::vector<Cover> inside;
};

/// One fault below covers that stay off once they are: order of least expected cost, covers paid where first needed.
/// Bottom up, the places below a cover are sorted by chance per cost; those that together have the best chance per cost, the
/// cover's included, become one block.
///
/// @param root  its own cost is usually 0
/// @throws DomainError  as above, an index that is not there, or one place below two covers
/// @par Source     Ottosen & Jensen 2010, arXiv:1203.3502 (bottom-up P-over-C)
/// @par Tested by  tests/inspection/search_order_test.cpp, against all permutations
[[nodiscard]] std::vector<std::size_t> order_below_covers(const std::vector<SearchAction>& actions, const Cover& root);
[[nodiscard]] double expected_cost_below_covers(const std::vector<SearchAction>& actions, const Cover& root,
                                                const std::vector<std::size_t>& order);

}  // namespace heatside::inspection
