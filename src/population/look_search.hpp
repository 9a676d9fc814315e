#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "heatside/population/decision_tree.hpp"
#include "population/looking.hpp"
#include "population/moments.hpp"

namespace heatside::population {

/// An outcome that was seen: look and outcome.
using Step = std::pair<std::size_t, std::size_t>;

/// Where a way through the tree has led. Its steps are sorted: it does not matter in which order they were taken.
struct SearchState {
  Standing standing;
  std::vector<Step> way;
};

/// The search for the best next look. Values are expected losses times the chance of the place, without column 0, which no
/// look changes on average; costs of looks are in them.
class LookSearch {
 public:
  LookSearch(const LookingProblem& problem, const TreeOptions& options);

  [[nodiscard]] SearchState root() const { return {start_.standing, {}}; }
  [[nodiscard]] const Columns& columns() const { return start_.columns; }

  /// Value with at most `depth` more looks.
  double value(const SearchState& place, std::size_t depth);

  /// The look that `value` found best, if any pays.
  [[nodiscard]] std::optional<std::size_t> advice(const SearchState& place, std::size_t depth) const;

  /// The look's cost and its outcomes. Outcomes too unlikely to matter have no place.
  [[nodiscard]] double cost(const SearchState& place, std::size_t look) const;
  [[nodiscard]] std::optional<SearchState> outcome(const SearchState& place, std::size_t look, std::size_t outcome) const;

  /// net[first][second]: values of two looks, the second only where it pays; absent for two at one segment.
  [[nodiscard]] std::vector<std::vector<std::optional<double>>> pair_values() const;

  [[nodiscard]] bool all_looks_kept() const { return all_kept_; }

 private:
  struct Ranked {
    double value;
    std::size_t look;
  };

  [[nodiscard]] bool open_to(const SearchState& place, std::size_t look) const;
  [[nodiscard]] double price(const SearchState& place, std::size_t look) const;
  [[nodiscard]] double spent(const SearchState& place) const;
  [[nodiscard]] double value_if_last(const SearchState& place, std::size_t look, const SegmentMoments& moments) const;
  [[nodiscard]] double value_with_last(const SearchState& place, const std::vector<SegmentMoments>& moments,
                                       std::optional<std::size_t>& best) const;
  [[nodiscard]] double value_of_stopping(const SearchState& place) const;
  [[nodiscard]] std::vector<SegmentMoments> moments(const SearchState& place) const;
  [[nodiscard]] std::vector<std::vector<SegmentMoments>> moments(const std::vector<SearchState>& places) const;
  [[nodiscard]] std::vector<SearchState> outcomes(const SearchState& place, std::size_t look) const;
  [[nodiscard]] std::vector<Ranked> ranked(const SearchState& place, const std::vector<SegmentMoments>& moments) const;
  double search(const SearchState& place, const std::vector<SegmentMoments>& moments, std::size_t depth);
  double value_of_looking(const SearchState& place, std::size_t look, std::size_t depth);

  const LookingProblem& problem_;
  TreeOptions options_;
  Start start_;
  std::vector<std::size_t> segments_;       // that looks are at, each once
  std::vector<std::size_t> place_of_look_;  // in segments_
  double margin_;                           // a look must bring more than this: rounding
  bool all_kept_ = true;

  struct Found {
    double value;
    std::optional<std::size_t> look;
  };
  std::map<std::pair<std::size_t, std::vector<Step>>, Found> found_;  // by depth and way
};

}  // namespace heatside::population
