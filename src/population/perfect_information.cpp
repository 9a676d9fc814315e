#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

#include "heatside/population/value_of_information.hpp"
#include "population/looking.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;
constexpr std::size_t most_combinations = 1u << 19u;
constexpr double most_visits = 2.0e7;  // combinations times draws
constexpr std::size_t exact_cells = 1024;
constexpr std::size_t spread_cells = 256;

// Loss of every action of one choice, within draws.
struct Losses {
  std::vector<std::vector<double>> alone;                     ///< by action and draw: what depends on the draw alone
  std::vector<std::size_t> segments;                          ///< those that cost something
  std::vector<std::vector<ConditionRow>> by_segment;          ///< by action and place in `segments`
  std::vector<std::vector<double>> expected;                  ///< by action and draw, conditions averaged
  std::vector<std::array<std::size_t, conditions>> class_of;  ///< by place: conditions that cost the same share a class
  std::vector<std::size_t> classes;
};

void join_segments(Losses& losses, const Choice& choice, std::size_t segments) {
  std::vector<std::vector<ConditionRow>> full(choice.actions.size(), std::vector<ConditionRow>(segments));
  std::vector<bool> costs(segments, false);
  for (std::size_t a = 0; a < choice.actions.size(); ++a) {
    for (const SegmentLoss& part : choice.actions[a].segments) {
      costs[part.segment] = true;
      for (std::size_t c = 0; c < conditions; ++c) full[a][part.segment][c] += part.by_condition[c];
    }
  }
  losses.by_segment.resize(choice.actions.size());
  for (std::size_t k = 0; k < segments; ++k) {
    if (!costs[k]) continue;
    losses.segments.push_back(k);
    for (std::size_t a = 0; a < choice.actions.size(); ++a) losses.by_segment[a].push_back(full[a][k]);
  }
}

void find_classes(Losses& losses) {
  for (std::size_t j = 0; j < losses.segments.size(); ++j) {
    auto& of = losses.class_of.emplace_back();
    std::size_t classes = 0;
    for (std::size_t c = 0; c < conditions; ++c) {
      of[c] = classes;
      for (std::size_t before = 0; before < c; ++before) {
        const bool same = std::all_of(losses.by_segment.begin(), losses.by_segment.end(),
                                      [&](const auto& rows) { return rows[j][c] == rows[j][before]; });
        if (same) of[c] = of[before];
      }
      if (of[c] == classes) ++classes;
    }
    losses.classes.push_back(classes);
  }
}

Losses losses_of(const Knowledge& knowledge, const Choice& choice) {
  Losses losses;
  join_segments(losses, choice, knowledge.segments.size());
  find_classes(losses);
  const std::size_t draws = knowledge.belief.weights.size();
  for (std::size_t a = 0; a < choice.actions.size(); ++a) {
    const Action& action = choice.actions[a];
    std::vector<double>& alone = losses.alone.emplace_back(draws, action.fixed);
    for (std::size_t n = 0; n < action.by_draw.size(); ++n) alone[n] += action.by_draw[n];
    std::vector<double>& mean = losses.expected.emplace_back(alone);
    for (std::size_t j = 0; j < losses.segments.size(); ++j) {
      const auto& chance = knowledge.segments[losses.segments[j]].by_condition;
      for (std::size_t c = 0; c < conditions; ++c) {
        for (std::size_t n = 0; n < draws; ++n) mean[n] += chance[c][n] * losses.by_segment[a][j][c];
      }
    }
  }
  return losses;
}

// Exact: every combination of classes of every draw.
class Enumeration {
 public:
  Enumeration(const Knowledge& knowledge, const Losses& losses) : knowledge_{knowledge}, losses_{losses} {}

  static bool fits(const Losses& losses, std::size_t draws) {
    double combinations = 1.0;
    for (const std::size_t classes : losses.classes) combinations *= static_cast<double>(classes);
    return combinations <= static_cast<double>(most_combinations) &&
           combinations * static_cast<double>(draws) <= most_visits;
  }

  double least_loss() {
    double sum = 0.0;
    for (std::size_t n = 0; n < knowledge_.belief.weights.size(); ++n) {
      std::vector<double> loss;
      for (const std::vector<double>& alone : losses_.alone) loss.push_back(alone[n]);
      sum += knowledge_.belief.weights[n] * within(n, 0, loss);
    }
    return sum;
  }

 private:
  // Mean of the least loss over the conditions of segments j and after, those before being fixed.
  double within(std::size_t n, std::size_t j, const std::vector<double>& loss) {
    if (j == losses_.segments.size()) return *std::min_element(loss.begin(), loss.end());
    const auto& chance = knowledge_.segments[losses_.segments[j]].by_condition;
    double mean = 0.0;
    for (std::size_t k = 0; k < losses_.classes[j]; ++k) {
      double of_class = 0.0;
      std::size_t member = 0;
      for (std::size_t c = 0; c < conditions; ++c) {
        if (losses_.class_of[j][c] != k) continue;
        of_class += chance[c][n];
        member = c;
      }
      if (of_class == 0.0) continue;
      std::vector<double> further = loss;
      for (std::size_t a = 0; a < further.size(); ++a) further[a] += losses_.by_segment[a][j][member];
      mean += of_class * within(n, j + 1, further);
    }
    return mean;
  }

  const Knowledge& knowledge_;
  const Losses& losses_;
};

// Largest number of which all values are whole multiples, within rounding; 0 if there is none but rounding.
double common_step(const std::vector<double>& values) {
  double largest = 0.0;
  for (const double value : values) largest = std::max(largest, std::abs(value));
  double step = 0.0;
  for (double value : values) {
    value = std::abs(value);
    while (value > 1.0e-9 * largest) {  // Euclid's algorithm
      const double rest = std::abs(std::remainder(step, value));
      step = value;
      value = rest;
    }
  }
  return step;
}

// One segment's loss difference as steps on a lattice, each with the chances that lead there.
struct Steps {
  std::vector<std::size_t> shift;
  std::vector<ConditionRow> share;  ///< of each condition
};

// The difference loss(better) - loss(other) of two actions as a lattice variable, draw by draw.
class Lattice {
 public:
  Lattice(const Knowledge& knowledge, const Losses& losses, std::size_t better, std::size_t other)
      : knowledge_{knowledge}, losses_{losses}, better_{better}, other_{other} {
    choose_step();
    for (std::size_t j = 0; j < losses_.segments.size(); ++j) lay_out(j);
    cells_ = 1;
    for (const Steps& steps : steps_) cells_ += *std::max_element(steps.shift.begin(), steps.shift.end());
    now_.resize(cells_);
    next_.resize(cells_);
  }

  [[nodiscard]] bool exact() const { return exact_; }

  // Mean of max(0, loss(better) - loss(other)) in draw n: what the other action would save where it is the better one.
  double mean_excess(std::size_t n) {
    spread(n);
    const double offset = losses_.alone[better_][n] - losses_.alone[other_][n] + lowest_;
    double mean = 0.0;
    for (std::size_t i = 0; i < used_; ++i) mean += now_[i] * std::max(0.0, offset + step_ * static_cast<double>(i));
    return mean;
  }

 private:
  [[nodiscard]] double difference(std::size_t j, std::size_t c) const {
    return losses_.by_segment[better_][j][c] - losses_.by_segment[other_][j][c];
  }
  [[nodiscard]] double least_difference(std::size_t j) const {
    double least = difference(j, 0);
    for (std::size_t c = 1; c < conditions; ++c) least = std::min(least, difference(j, c));
    return least;
  }

  void choose_step() {
    std::vector<double> above;
    double range = 0.0;
    for (std::size_t j = 0; j < losses_.segments.size(); ++j) {
      double most = 0.0;
      for (std::size_t c = 0; c < conditions; ++c) {
        above.push_back(difference(j, c) - least_difference(j));
        most = std::max(most, above.back());
      }
      range += most;
    }
    step_ = common_step(above);
    exact_ = range <= step_ * static_cast<double>(exact_cells);
    if (!exact_) step_ = range / static_cast<double>(spread_cells);
    if (step_ == 0.0) step_ = 1.0;  // the segments make no difference
  }

  void lay_out(std::size_t j) {
    Steps& steps = steps_.emplace_back();
    const double least = least_difference(j);
    lowest_ += least;
    for (std::size_t c = 0; c < conditions; ++c) {
      const double place = (difference(j, c) - least) / step_;
      const double low = std::floor(place + 1.0e-6);  // a value on the lattice but for rounding is on the lattice
      const double rest = std::max(0.0, place - low);
      add(steps, static_cast<std::size_t>(low), c, 1.0 - rest);
      if (rest > 0.0) add(steps, static_cast<std::size_t>(low) + 1, c, rest);
    }
  }

  static void add(Steps& steps, std::size_t shift, std::size_t condition, double share) {
    const auto found = std::find(steps.shift.begin(), steps.shift.end(), shift);
    const auto place = static_cast<std::size_t>(found - steps.shift.begin());
    if (found == steps.shift.end()) {
      steps.shift.push_back(shift);
      steps.share.push_back({});
    }
    steps.share[place][condition] = share;
  }

  // Distribution of the lattice variable in draw n: the steps of the segments one after the other.
  void spread(std::size_t n) {
    now_[0] = 1.0;
    used_ = 1;
    for (std::size_t j = 0; j < steps_.size(); ++j) add_segment(n, j);
  }

  void add_segment(std::size_t n, std::size_t j) {
    const Steps& steps = steps_[j];
    const auto& chance = knowledge_.segments[losses_.segments[j]].by_condition;
    const std::size_t reach = used_ + *std::max_element(steps.shift.begin(), steps.shift.end());
    std::fill(next_.begin(), next_.begin() + static_cast<std::ptrdiff_t>(reach), 0.0);
    for (std::size_t s = 0; s < steps.shift.size(); ++s) {
      double taken = 0.0;
      for (std::size_t c = 0; c < conditions; ++c) taken += steps.share[s][c] * chance[c][n];
      if (taken == 0.0) continue;
      double* to = next_.data() + steps.shift[s];
      for (std::size_t i = 0; i < used_; ++i) to[i] += taken * now_[i];
    }
    used_ = reach;
    std::swap(now_, next_);
  }

  const Knowledge& knowledge_;
  const Losses& losses_;
  std::size_t better_, other_;
  bool exact_ = false;
  double step_ = 0.0, lowest_ = 0.0;
  std::vector<Steps> steps_;
  std::size_t cells_ = 0, used_ = 0;
  std::vector<double> now_, next_;
};

// Expected loss of who knows everything, or a lower bound of it.
struct LeastLoss {
  double loss = 0.0;
  bool exact = true;
};

LeastLoss bounded_loss(const Knowledge& knowledge, const Losses& losses) {
  const std::size_t actions = losses.alone.size();
  LeastLoss least;
  least.exact = actions <= 2;
  std::vector<std::optional<Lattice>> lattices(actions * actions);
  for (std::size_t n = 0; n < knowledge.belief.weights.size(); ++n) {
    if (knowledge.belief.weights[n] == 0.0) continue;
    std::size_t best = 0;
    for (std::size_t a = 1; a < actions; ++a) {
      if (losses.expected[a][n] < losses.expected[best][n]) best = a;
    }
    double loss = losses.expected[best][n];
    for (std::size_t other = 0; other < actions; ++other) {
      if (other == best) continue;
      std::optional<Lattice>& lattice = lattices[best * actions + other];
      if (!lattice) lattice.emplace(knowledge, losses, best, other);
      loss -= lattice->mean_excess(n);
      least.exact = least.exact && lattice->exact();
    }
    least.loss += knowledge.belief.weights[n] * loss;
  }
  return least;
}

LeastLoss least_loss(const Knowledge& knowledge, const Losses& losses) {
  if (Enumeration::fits(losses, knowledge.belief.weights.size())) return {Enumeration{knowledge, losses}.least_loss(), true};
  return bounded_loss(knowledge, losses);
}

}  // namespace

PerfectInformation perfect_information(const Knowledge& knowledge, const std::vector<Choice>& choices) {
  expect_question(knowledge, choices);
  PerfectInformation perfect{0.0, true};
  for (const Choice& choice : choices) {
    const Losses losses = losses_of(knowledge, choice);
    double now = std::numeric_limits<double>::infinity();
    for (const std::vector<double>& list : losses.expected) now = std::min(now, expected(knowledge.belief, list));
    const LeastLoss least = least_loss(knowledge, losses);
    perfect.saving += std::max(0.0, now - least.loss);
    perfect.exact = perfect.exact && least.exact;
  }
  return perfect;
}

}  // namespace heatside::population
