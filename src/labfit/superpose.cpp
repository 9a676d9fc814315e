#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/labfit/distribution.hpp"
#include "labfit/curves.hpp"
#include "labfit/two_paths.hpp"

/// Time-temperature superposition. At levels of the property the curves are cut; at each level the ln times of all curves
/// are a master time plus the shift of the curve. Shifts and master times follow together from least squares of the
/// horizontal distances, each weighed by how steeply its curve runs there.

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t level_count = 12;

// Where a curve comes to a level of the property.
struct Cut {
  std::size_t curve, level;
  double ln_hours, weight;
};

// Means that turn back are pooled with their neighbours until none does.
std::vector<CurvePoint> one_way(const std::vector<CurvePoint>& points, const Ending& ending) {
  struct Block {
    double sum, count;
    std::size_t members;
  };
  std::vector<Block> blocks;
  for (const CurvePoint& point : points) {
    blocks.push_back({point.count * point.mean, point.count, 1});
    while (blocks.size() > 1) {
      const Block& last = blocks.back();
      Block& before = blocks[blocks.size() - 2];
      if (ending.left(before.sum / before.count) >= ending.left(last.sum / last.count)) break;
      before = {before.sum + last.sum, before.count + last.count, before.members + last.members};
      blocks.pop_back();
    }
  }
  std::vector<CurvePoint> smooth = points;
  std::size_t at = 0;
  for (const Block& block : blocks) {
    for (std::size_t i = 0; i < block.members; ++i) smooth[at++].mean = block.sum / block.count;
  }
  return smooth;
}

// Evenly between a tenth of the way and the furthest that two curves come.
std::vector<double> levels_for(const std::vector<std::vector<CurvePoint>>& curves, const Ending& ending) {
  std::vector<double> reached;
  double start = -HUGE_VAL;
  for (const auto& points : curves) {
    reached.push_back(ending.left(points.back().mean));
    start = std::max(start, ending.left(points.front().mean));
  }
  std::sort(reached.begin(), reached.end());
  const double end = reached.size() > 1 ? reached[1] : reached[0];
  std::vector<double> levels;
  for (std::size_t i = 0; i < level_count; ++i) {
    const double share = 0.1 + 0.88 * static_cast<double>(i) / static_cast<double>(level_count - 1);
    levels.push_back(start + share * (end - start));
  }
  return levels;
}

std::optional<Cut> cut(const std::vector<CurvePoint>& points, const Ending& ending, double level) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double before = ending.left(points[i].mean), after = ending.left(points[i + 1].mean);
    if (!(before > level && after <= level)) continue;
    const double gap = points[i + 1].hours - points[i].hours;
    const double hours = points[i].hours + (before - level) / (before - after) * gap;
    const double steepness = hours * (before - after) / gap;  // by ln time
    return Cut{0, 0, std::log(hours), steepness * steepness};
  }
  return std::nullopt;
}

std::vector<Cut> cuts_of(const std::vector<std::vector<CurvePoint>>& curves, const Ending& ending,
                         const std::vector<double>& levels) {
  std::vector<Cut> cuts;
  for (std::size_t level = 0; level < levels.size(); ++level) {
    std::vector<Cut> across;
    for (std::size_t curve = 0; curve < curves.size(); ++curve) {
      if (const auto found = cut(curves[curve], ending, levels[level]))
        across.push_back({curve, level, found->ln_hours, found->weight});
    }
    // A level that one curve alone comes to says nothing of distances.
    if (across.size() > 1) cuts.insert(cuts.end(), across.begin(), across.end());
  }
  double mean = 0.0;
  for (const Cut& one : cuts) mean += one.weight / static_cast<double>(cuts.size());
  for (Cut& one : cuts) one.weight /= mean;
  return cuts;
}

// Numbers the curves or levels that appear in the cuts.
template <class Member>
std::vector<std::size_t> used(const std::vector<Cut>& cuts, Member member) {
  std::vector<std::size_t> list;
  for (const Cut& one : cuts) list.push_back(one.*member);
  std::sort(list.begin(), list.end());
  list.erase(std::unique(list.begin(), list.end()), list.end());
  return list;
}

Index place(const std::vector<std::size_t>& list, std::size_t item) {
  return std::lower_bound(list.begin(), list.end(), item) - list.begin();
}

struct Shifts {
  std::vector<std::size_t> curves, levels;
  VectorXd at;          // master ln times, then shifts of all curves but the first
  MatrixXd covariance;  // of `at`
  double sd;
};

Shifts solve(const std::vector<Cut>& cuts, double independent) {
  Shifts shifts{used(cuts, &Cut::curve), used(cuts, &Cut::level), {}, {}, 0.0};
  const auto rows = static_cast<Index>(cuts.size()), masters = static_cast<Index>(shifts.levels.size());
  const Index columns = masters + static_cast<Index>(shifts.curves.size()) - 1;
  MatrixXd design = MatrixXd::Zero(rows, columns);
  VectorXd right(rows);
  for (Index row = 0; row < rows; ++row) {
    const Cut& one = cuts[static_cast<std::size_t>(row)];
    const double root = std::sqrt(one.weight);
    design(row, place(shifts.levels, one.level)) = root;
    const Index curve = place(shifts.curves, one.curve);
    if (curve > 0) design(row, masters + curve - 1) = root;
    right(row) = root * one.ln_hours;
  }
  const Eigen::ColPivHouseholderQR<MatrixXd> factor{design};
  if (factor.rank() < columns) throw DomainError("the curves fall into parts that share no values of the property");
  shifts.at = factor.solve(right);
  const double squares = (design * shifts.at - right).squaredNorm();
  const auto freedom = static_cast<double>(rows - columns);
  shifts.sd = freedom > 0.0 ? std::sqrt(squares / freedom) : 0.0;
  // Cuts between the same two readings are one piece of knowledge, not several.
  const double repeated = std::max(1.0, static_cast<double>(rows) / independent);
  shifts.covariance = shifts.sd * shifts.sd * repeated * (design.transpose() * design).inverse();
  return shifts;
}

void fit_line(Superposition& result) {
  std::vector<LinePoint> points;
  for (const ShiftFactor& factor : result.factors) points.push_back({1.0 / factor.temperature.value(), factor.ln_factor});
  result.line = straight_line(points);
  const double unit = 1.0e-3 * molar_gas_constant;
  result.energy = unit * result.line.slope;
  if (!result.line.slope_error) return;
  const double reach = student_t_quantile(0.975, static_cast<double>(result.line.degrees)) * *result.line.slope_error;
  result.energy_lo = unit * (result.line.slope - reach);
  result.energy_hi = unit * (result.line.slope + reach);
}

}  // namespace

Superposition superpose(const std::vector<Curve>& curves, const Ending& ending) {
  std::vector<std::vector<CurvePoint>> smooth;
  double independent = 0.0;
  for (const Curve& curve : curves) {
    smooth.push_back(one_way(curve.points, ending));
    independent += static_cast<double>(curve.points.size() - 1);
  }
  const std::vector<double> levels = levels_for(smooth, ending);
  const std::vector<Cut> cuts = cuts_of(smooth, ending, levels);
  if (cuts.empty()) throw DomainError("no two curves share values of the property");
  const Shifts shifts = solve(cuts, independent);

  Superposition result;
  result.reference = curves[shifts.curves.front()].temperature;
  result.residual_sd = shifts.sd;
  const auto masters = static_cast<Index>(shifts.levels.size());
  for (Index i = 0; i < masters; ++i) {
    const double left = levels[shifts.levels[static_cast<std::size_t>(i)]];
    result.levels.push_back(ending.falling ? ending.value + left : ending.value - left);
    result.master.emplace_back(std::exp(shifts.at(i)));
  }
  for (std::size_t i = 0; i < shifts.curves.size(); ++i) {
    ShiftFactor factor{curves[shifts.curves[i]].temperature, 0.0, {}};
    if (i > 0) {
      const Index column = masters + static_cast<Index>(i) - 1;
      factor.ln_factor = shifts.at(column);
      if (shifts.sd > 0.0) factor.ln_error = std::sqrt(shifts.covariance(column, column));
    }
    result.factors.push_back(factor);
  }
  fit_line(result);
  judge_curvature(result);
  return result;
}

}  // namespace heatside::labfit
