#include "population/spread.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "base/four_doubles.hpp"
#include "population/lot_draws.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Segment;

bool begins_with(const std::string& text, const std::string& start) { return text.rfind(start, 0) == 0; }

// Words for the group of a quantity; empty when it does not touch the segment.
class Grouping {
 public:
  Grouping(const Case& job, const Segment& segment) : segment_{segment} {
    zones_.insert(quantity::bay);
    for (const casefile::Stretch& stretch : segment.stretches) zones_.insert(quantity::zone(stretch.zone));
    for (const casefile::WireGroup& group : segment.groups) {
      const casefile::Lot& lot = *casefile::find_by_id(job.lots, group.lot);
      lots_.insert("lot/" + lot.id + "/");
      for (const casefile::InsulationCandidate& candidate : lot.candidates) {
        const LotQuantities names = lot_quantities(job, lot, candidate.insulation);
        shared_.insert(names.batch);
        compounds_[names.initial] = candidate.weight;
      }
    }
  }

  [[nodiscard]] std::string group_of(const std::string& name) const {
    if (name == quantity::usage) return "use";
    if (name == quantity::soak_decay) return "how slowly the bay cools";
    if (name == quantity::notch) return "notches";
    if (begins_with(name, "zone/")) return zones_.contains(name) ? "zone temperature" : "";
    if (begins_with(name, "stretch/")) return begins_with(name, "stretch/" + segment_.id + "/") ? "place" : "";
    if (begins_with(name, "bend/")) return name == quantity::bend(segment_.id) ? "bend" : "";
    if (begins_with(name, "lot/")) return of_lots(name) ? "lot" : "";
    if (shared_.contains(name)) return "lot";
    return compound_group(name);
  }

  // Chance that the quantity matters at all: that its compound is the one.
  [[nodiscard]] double weight_of(const std::string& name) const {
    for (const auto& [start, weight] : compounds_) {
      if (name == start || begins_with(name, start + "/")) return weight;
    }
    return 1.0;
  }

 private:
  [[nodiscard]] bool of_lots(const std::string& name) const {
    return std::any_of(lots_.begin(), lots_.end(), [&](const std::string& lot) { return begins_with(name, lot); });
  }
  [[nodiscard]] std::string compound_group(const std::string& name) const {
    for (const auto& [start, weight] : compounds_) {
      if (name == start) return "elongation when new";
      if (begins_with(name, start + "/energy/")) return "activation energy";
      if (name == start + "/fitted-hours") return "fit";
      if (begins_with(name, start + "/share/")) return "activation energy";
    }
    return "";
  }

  const Segment& segment_;
  std::set<std::string> lots_, shared_, zones_;
  std::map<std::string, double> compounds_;
};

struct Weighted {
  const std::vector<double>& weights;
  const std::vector<double>& values;
  double mean = 0.0, variance = 0.0;
  std::vector<double> pull{};  // weight times distance from the mean

  Weighted(const std::vector<double>& some_weights, const std::vector<double>& some_values)
      : weights{some_weights}, values{some_values}, pull(some_values.size()) {
    for (std::size_t n = 0; n < values.size(); ++n) mean += weights[n] * values[n];
    for (std::size_t n = 0; n < values.size(); ++n) {
      pull[n] = weights[n] * (values[n] - mean);
      variance += pull[n] * (values[n] - mean);
    }
  }
};

// Sums over draws of weight and of pull times powers of x.
struct PowerSums {
  std::array<double, 7> weight{};
  std::array<double, 4> pull{};
};

double sum_of(const FourDoubles& lanes) { return (lanes[0] + lanes[1]) + (lanes[2] + lanes[3]); }

// Written out, because arrays of registers are kept in memory. `count` is a multiple of 4.
HEATSIDE_INLINE_ALWAYS void add_powers(const double* x, const double* weight, const double* pull, std::size_t count,
                                       PowerSums& sums) {
  FourDoubles w0{}, w1{}, w2{}, w3{}, w4{}, w5{}, w6{}, p0{}, p1{}, p2{}, p3{};
  for (std::size_t n = 0; n < count; n += 4) {
    FourDoubles at, share, towards;
    load(at, x + n);
    load(share, weight + n);
    load(towards, pull + n);
    const FourDoubles square = at * at, cube = square * at, once = share * at, thrice = share * cube;
    w0 += share;
    w1 += once;
    w2 += share * square;
    w3 += thrice;
    w4 += thrice * at;
    w5 += thrice * square;
    w6 += thrice * cube;
    p0 += towards;
    p1 += towards * at;
    p2 += towards * square;
    p3 += towards * cube;
  }
  const std::array<double, 7> weights{sum_of(w0), sum_of(w1), sum_of(w2), sum_of(w3), sum_of(w4), sum_of(w5), sum_of(w6)};
  const std::array<double, 4> pulls{sum_of(p0), sum_of(p1), sum_of(p2), sum_of(p3)};
  for (std::size_t i = 0; i < weights.size(); ++i) sums.weight[i] += weights[i];
  for (std::size_t i = 0; i < pulls.size(); ++i) sums.pull[i] += pulls[i];
}

void add_powers_baseline(const double* x, const double* weight, const double* pull, std::size_t count, PowerSums& sums) {
  add_powers(x, weight, pull, count, sums);
}

HEATSIDE_WIDE_REGISTERS void add_powers_wide(const double* x, const double* weight, const double* pull, std::size_t count,
                                             PowerSums& sums) {
  add_powers(x, weight, pull, count, sums);
}

PowerSums power_sums(const Weighted& life, const std::vector<double>& column) {
  PowerSums sums;
  const std::size_t whole = column.size() / 4 * 4;
  (wide_registers() ? add_powers_wide : add_powers_baseline)(column.data(), life.weights.data(), life.pull.data(), whole,
                                                             sums);
  std::array<double, 4> x{}, weight{}, pull{};
  for (std::size_t n = whole; n < column.size(); ++n) {
    x[n - whole] = column[n];
    weight[n - whole] = life.weights[n];
    pull[n - whole] = life.pull[n];
  }
  add_powers_baseline(x.data(), weight.data(), pull.data(), x.size(), sums);
  return sums;
}

// Variance that Hermite polynomials of one column up to degree three explain, less what chance alone would: of
// 1, x, x^2 - 1 and x^3 - 3 x.
double explained(const Weighted& life, const std::vector<double>& column, double effective) {
  constexpr int terms = 3;
  const PowerSums sums = power_sums(life, column);
  const std::array<double, 7>& m = sums.weight;
  const std::array<double, 4>& p = sums.pull;
  Eigen::Matrix<double, terms + 1, terms + 1> gram;
  gram << m[0], m[1], m[2] - m[0], m[3] - 3.0 * m[1],                                      //
      m[1], m[2], m[3] - m[1], m[4] - 3.0 * m[2],                                          //
      m[2] - m[0], m[3] - m[1], m[4] - 2.0 * m[2] + m[0], m[5] - 4.0 * m[3] + 3.0 * m[1],  //
      m[3] - 3.0 * m[1], m[4] - 3.0 * m[2], m[5] - 4.0 * m[3] + 3.0 * m[1], m[6] - 6.0 * m[4] + 9.0 * m[2];
  const Eigen::Matrix<double, terms + 1, 1> right(p[0], p[1], p[2] - p[0], p[3] - 3.0 * p[1]);
  const double part = right.dot(gram.ldlt().solve(right));
  return std::max(0.0, part - terms * life.variance / effective);
}

// Variance of the candidates' means where the compound is not known.
double between_compounds(const Weighted& life, const casefile::Lot& lot, const std::vector<double>& scores) {
  std::vector<double> weight(lot.candidates.size(), 0.0), sum(lot.candidates.size(), 0.0);
  const std::vector<std::size_t> drawn = candidates_drawn(lot, scores);
  for (std::size_t n = 0; n < drawn.size(); ++n) {
    weight[drawn[n]] += life.weights[n];
    sum[drawn[n]] += life.weights[n] * life.values[n];
  }
  double variance = 0.0;
  for (std::size_t i = 0; i < weight.size(); ++i) {
    if (weight[i] <= 0.0) continue;
    const double off = sum[i] / weight[i] - life.mean;
    variance += weight[i] * off * off;
  }
  return variance;
}

}  // namespace

std::vector<SpreadShare> spread_shares(const Case& job, const Segment& segment, const Normals& normals, const Belief& belief,
                                       const std::vector<double>& ln_life) {
  const Weighted life{belief.weights, ln_life};
  if (!(life.variance > 0.0)) return {};
  const Grouping grouping{job, segment};
  const double effective = effective_sample(belief);
  std::map<std::string, double> shares;
  for (const auto& [name, column] : normals.columns()) {
    const std::string group = grouping.group_of(name);
    if (group.empty()) continue;
    // A quantity of one candidate moves only the draws of that candidate.
    shares[group] += explained(life, column, effective) / (life.variance * grouping.weight_of(name));
  }
  std::set<std::string> asked;
  for (const casefile::WireGroup& group : segment.groups) {
    const casefile::Lot& lot = *casefile::find_by_id(job.lots, group.lot);
    const std::string name = lot_quantities(job, lot, "").compound;
    if (lot.candidates.size() < 2 || !asked.insert(name).second) continue;
    shares["compound"] += between_compounds(life, lot, normals.columns().at(name)) / life.variance;
  }
  std::vector<SpreadShare> list;
  double sum = 0.0;
  for (const auto& [group, share] : shares) sum += share;
  for (const auto& [group, share] : shares) list.push_back({group, sum > 1.0 ? share / sum : share});
  std::stable_sort(list.begin(), list.end(), [](const SpreadShare& a, const SpreadShare& b) { return a.share > b.share; });
  list.push_back({"together", std::max(0.0, 1.0 - sum)});
  return list;
}

}  // namespace heatside::population
