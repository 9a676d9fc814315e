#include "population/learning.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>
#include <variant>

#include "heatside/base/random.hpp"

namespace heatside::population {

namespace {

constexpr double enough = 0.1;  // share of the draws that must still count for weights alone
constexpr double half = 0.5;    // effective share that each step of tempering keeps
constexpr int moves_a_stage = 4;
constexpr int most_stages = 30;
constexpr double surprising = 1.0e-2;  // chance of a finding, given the others, over the most that any
                                       // condition gives it, below which it contradicts the model: errors
                                       // of looks alone give about that
constexpr double nothing = -std::numeric_limits<double>::infinity();

std::vector<std::vector<double>> lists_of(const std::vector<FindingEvidence>& evidence) {
  std::vector<std::vector<double>> lists;
  for (const FindingEvidence& one : evidence) lists.push_back(one.likelihood);
  return lists;
}

std::vector<double> ln_likelihoods(const std::vector<FindingEvidence>& evidence, std::size_t draws) {
  std::vector<double> sum(draws, 0.0);
  for (const FindingEvidence& one : evidence) {
    for (std::size_t n = 0; n < draws; ++n) sum[n] += one.likelihood[n] > 0.0 ? std::log(one.likelihood[n]) : nothing;
  }
  return sum;
}

double share_left(const std::vector<double>& ln_likelihood, double power) {
  const double top = *std::max_element(ln_likelihood.begin(), ln_likelihood.end());
  double sum = 0.0, squares = 0.0;
  for (const double one : ln_likelihood) {
    const double weight = std::exp(power * (one - top));
    sum += weight;
    squares += weight * weight;
  }
  return sum * sum / squares / static_cast<double>(ln_likelihood.size());
}

// The largest further power of the likelihood that keeps half of the draws, by
// bisection.
double next_power(const std::vector<double>& ln_likelihood, double left) {
  if (share_left(ln_likelihood, left) >= half) return left;
  double low = 0.0, high = left;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    (share_left(ln_likelihood, middle) >= half ? low : high) = middle;
  }
  return low > 0.0 ? low : high;
}

// Systematic resampling: each draw is taken as often as its weight says, give
// or take one.
std::vector<std::size_t> resampled(const std::vector<double>& ln_likelihood, double power, double offset) {
  const double top = *std::max_element(ln_likelihood.begin(), ln_likelihood.end());
  std::vector<double> weights;
  double sum = 0.0;
  for (const double one : ln_likelihood) {
    weights.push_back(std::exp(power * (one - top)));
    sum += weights.back();
  }
  const auto count = static_cast<double>(weights.size());
  std::vector<std::size_t> taken;
  double reached = 0.0, next = offset;
  for (std::size_t n = 0; n < weights.size(); ++n) {
    reached += weights[n] / sum * count;
    for (; next < reached && taken.size() < weights.size(); next += 1.0) taken.push_back(n);
  }
  while (taken.size() < weights.size()) taken.push_back(weights.size() - 1);
  return taken;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const auto count = static_cast<double>(a.size());
  double mean_a = 0.0, mean_b = 0.0;
  for (std::size_t n = 0; n < a.size(); ++n) {
    mean_a += a[n] / count;
    mean_b += b[n] / count;
  }
  double both = 0.0, of_a = 0.0, of_b = 0.0;
  for (std::size_t n = 0; n < a.size(); ++n) {
    both += (a[n] - mean_a) * (b[n] - mean_b);
    of_a += (a[n] - mean_a) * (a[n] - mean_a);
    of_b += (b[n] - mean_b) * (b[n] - mean_b);
  }
  return of_a > 0.0 && of_b > 0.0 ? both / std::sqrt(of_a * of_b) : 1.0;
}

// Nothing may depend on how many segments there are.
bool of_one_segment(const std::string& quantity) {
  return quantity.rfind("stretch/", 0) == 0 || quantity.rfind("bend/", 0) == 0;
}

using Columns = std::map<std::string, std::vector<double>>;

// Which draws are of one family since each step, and how alike the moves since then left them.
class Families {
 public:
  // Draws are taken anew; all moves until the next time belong to this step.
  void resample(const std::vector<std::size_t>& taken, const Columns& columns) {
    for (std::vector<std::size_t>& ancestors : ancestors_) {
      std::vector<std::size_t> now;
      for (const std::size_t draw : taken) now.push_back(ancestors[draw]);
      ancestors = std::move(now);
    }
    ancestors_.push_back(taken);
    start_ = columns;
  }
  void moved(const Columns& columns) {
    std::map<std::string, double> likeness;
    for (const auto& [quantity, column] : columns) {
      if (of_one_segment(quantity)) continue;
      const double alike = correlation(start_.at(quantity), column);
      likeness[quantity] = alike * alike;
    }
    likeness_.push_back(std::move(likeness));
  }
  // Of the quantity that was moved least.
  [[nodiscard]] double effective_sample() const {
    const auto draws = static_cast<double>(ancestors_.front().size());
    std::vector<double> pairs;  // ordered ones of a draw and another of its family, since each step
    for (const std::vector<std::size_t>& ancestors : ancestors_) pairs.push_back(related(ancestors) - draws);
    double least = draws;
    for (const auto& [quantity, last] : likeness_.back()) {
      double sum = draws, alike = 1.0, counted = 0.0;
      for (std::size_t step = likeness_.size(); step-- > 0;) {
        alike *= likeness_[step].at(quantity);
        sum += alike * (pairs[step] - counted);
        counted = pairs[step];
      }
      least = std::min(least, draws * draws / sum);
    }
    return least;
  }

 private:
  // Ordered pairs of one ancestor, each draw with itself included.
  static double related(const std::vector<std::size_t>& ancestors) {
    std::vector<double> children(ancestors.size(), 0.0);
    for (const std::size_t ancestor : ancestors) children[ancestor] += 1.0;
    double pairs = 0.0;
    for (const double count : children) pairs += count * count;
    return pairs;
  }

  std::vector<std::vector<std::size_t>> ancestors_;  // by step, then of each draw of now
  std::vector<std::map<std::string, double>> likeness_;
  Columns start_;
};

class Tempering {
 public:
  Tempering(const Evidence& evidence, DrawnCase& drawn, Normals normals, std::vector<double> ln_likelihood, Usual& usual)
      : evidence_{evidence},
        drawn_{drawn},
        normals_{std::move(normals)},
        ln_likelihood_{std::move(ln_likelihood)},
        usual_{usual} {}

  // Number of stages it took.
  int run() {
    double& power = power_;
    int stage = 0;
    while (power < 1.0 && stage < most_stages) {
      const double step = next_power(ln_likelihood_, 1.0 - power);
      const std::vector<std::size_t> taken =
          resampled(ln_likelihood_, step, uniform_draw(random_quantity(normals_.seed(), name("resample", stage, 0)), 0));
      take(taken);
      power = std::min(1.0, power + step);
      families_.resample(taken, normals_.columns());
      for (int move = 0; move < moves_a_stage; ++move) move_all(power, stage, move);
      families_.moved(normals_.columns());
      ++stage;
    }
    return stage;
  }

  [[nodiscard]] const Normals& normals() const { return normals_; }
  [[nodiscard]] bool finished() const { return power_ >= 1.0; }
  [[nodiscard]] double effective_sample() const { return families_.effective_sample(); }

 private:
  static std::string name(const char* what, int stage, int move) {
    return std::string{what} + "/" + std::to_string(stage) + "/" + std::to_string(move);
  }

  void take(const std::vector<std::size_t>& draws) {
    const auto columns = normals_.columns();
    for (const auto& [quantity, column] : columns) {
      std::vector<double> some;
      some.reserve(draws.size());
      for (const std::size_t draw : draws) some.push_back(column[draw]);
      normals_.replace(quantity, std::move(some));
    }
    std::vector<double> likelihood;
    for (const std::size_t draw : draws) likelihood.push_back(ln_likelihood_[draw]);
    ln_likelihood_ = std::move(likelihood);
    drawn_.forget();
  }

  void move_all(double power, int stage, int move) {
    Normals proposal = normals_;
    const double kept = std::sqrt(1.0 - step_ * step_);
    for (const auto& [quantity, column] : normals_.columns()) {
      const std::vector<double> fresh =
          normal_draws(random_quantity(normals_.seed(), name("move", stage, move) + "/" + quantity), column.size());
      std::vector<double> moved(column.size());
      for (std::size_t n = 0; n < column.size(); ++n) moved[n] = kept * column[n] + step_ * fresh[n];
      proposal.replace(quantity, std::move(moved));
    }
    drawn_.forget();
    const std::vector<double> proposed = ln_likelihoods(evidence_.weigh(drawn_, proposal, usual_), proposal.draws());
    const std::vector<double> chance =
        uniform_draws(random_quantity(normals_.seed(), name("accept", stage, move)), proposal.draws());
    std::vector<bool> accepted(chance.size());
    double rate = 0.0;
    for (std::size_t n = 0; n < chance.size(); ++n) {
      accepted[n] = std::log(chance[n]) < power * (proposed[n] - ln_likelihood_[n]);
      if (!accepted[n]) continue;
      ln_likelihood_[n] = proposed[n];
      rate += 1.0 / static_cast<double>(chance.size());
    }
    const auto columns = normals_.columns();
    for (const auto& [quantity, column] : columns) {
      std::vector<double> next = column;
      const std::vector<double>& other = proposal.of(quantity);
      for (std::size_t n = 0; n < next.size(); ++n) {
        if (accepted[n]) next[n] = other[n];
      }
      normals_.replace(quantity, std::move(next));
    }
    // Long steps while they are taken, short ones where they are not.
    step_ = std::clamp(step_ * (rate > 0.35 ? 1.4 : rate < 0.2 ? 0.6 : 1.0), 0.02, 0.9);
    drawn_.forget();
  }

  const Evidence& evidence_;
  DrawnCase& drawn_;
  Normals normals_;
  std::vector<double> ln_likelihood_;
  Usual& usual_;
  Families families_;
  double power_ = 0.0;
  double step_ = 0.5;
};

// Findings that are most unlikely once the others are believed; by themselves where the others are impossible already.
std::vector<std::size_t> surprises(const std::vector<FindingEvidence>& evidence, std::size_t draws) {
  std::vector<std::size_t> list;
  for (std::size_t i = 0; i < evidence.size(); ++i) {
    std::vector<std::vector<double>> others;
    for (std::size_t j = 0; j < evidence.size(); ++j) {
      if (j != i) others.push_back(evidence[j].likelihood);
    }
    const Learning learning = learn(even_belief(draws), others);
    const auto* learnt = std::get_if<Learnt>(&learning);
    const double chance = expected(learnt != nullptr ? learnt->belief : even_belief(draws), evidence[i].likelihood);
    if (chance < surprising * evidence[i].most) list.push_back(evidence[i].finding);
  }
  return list;
}

}  // namespace

LearntDraws learn_from(const Evidence& evidence, DrawnCase& drawn, Normals prior, bool may_move) {
  const std::size_t draws = prior.draws();
  Usual usual;
  const std::vector<FindingEvidence> weighed = evidence.weigh(drawn, prior, usual);
  const Learning learning = learn(even_belief(draws), lists_of(weighed));
  LearntDraws answer{std::move(prior), even_belief(draws), 0.0, 0.0, 0.0, 0, {}, false, std::move(usual), false};
  answer.contradicted = surprises(weighed, draws);
  const auto* learnt = std::get_if<Learnt>(&learning);
  if (learnt == nullptr) {
    answer.impossible = true;
    answer.effective_sample = static_cast<double>(draws);
    return answer;
  }
  answer.ln_evidence = learnt->ln_evidence;
  answer.prior_sample = effective_sample(learnt->belief);
  if (!may_move || answer.prior_sample >= enough * static_cast<double>(draws)) {
    answer.belief = learnt->belief;
    answer.effective_sample = answer.prior_sample;
    return answer;
  }
  Tempering tempering{evidence, drawn, answer.normals, ln_likelihoods(weighed, draws), answer.usual};
  answer.stages = tempering.run();
  answer.unfinished = !tempering.finished();
  answer.normals = tempering.normals();
  answer.effective_sample = tempering.effective_sample();
  return answer;
}

}  // namespace heatside::population
