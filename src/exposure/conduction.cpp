#include "heatside/exposure/conduction.hpp"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "base/text.hpp"

namespace heatside::exposure {

namespace {

constexpr double copper_conductivity = 393.0;  // [W/(m K)] at 400 K, Incropera table A.1 (from memory)
constexpr double fewest_cells = 4.0;
constexpr double most_cells = 1.0e6;
constexpr double least_weight = 1.0e-6;

void check_positive(double value, const std::string& what, const char* unit) {
  if (!(value > 0.0) || !std::isfinite(value)) {
    throw DomainError(what + " of " + plain_number(value) + " " + unit + " is not finite and above 0");
  }
}

void check_node(std::size_t node, std::size_t nodes, const std::string& what) {
  if (node >= nodes) {
    throw DomainError(what + " is node " + std::to_string(node) + ", but there are only " + std::to_string(nodes) +
                      " nodes, counted from 0");
  }
}

void check_stretch(const FinStretch& stretch, const std::string& name, const FinNetwork& network) {
  check_positive(stretch.length.value(), name + "the length", "m");
  check_positive(stretch.copper_area.value(), name + "the copper area", "m2");
  check_positive(stretch.loss.value(), name + "the heat loss", "W/(m K)");
  check_node(stretch.from_node, network.nodes, name + "the start");
  check_node(stretch.to_node, network.nodes, name + "the end");
}

void check_stretches(const FinNetwork& network, Metres cell_length) {
  double cells = 0.0;
  for (std::size_t i = 0; i < network.stretches.size(); ++i) {
    const FinStretch& stretch = network.stretches[i];
    const std::string name = "stretch " + std::to_string(i) + ": ";
    check_stretch(stretch, name, network);
    cells += std::max(fewest_cells, stretch.length / cell_length);
    if (!(cells <= most_cells)) {
      throw DomainError(name + "the length of " + plain_number(stretch.length.value()) +
                        " m takes the loom beyond a million cells of " + plain_number(in_millimetres(cell_length)) + " mm");
    }
  }
}

void check(const FinNetwork& network, Metres cell_length) {
  check_positive(cell_length.value(), "the cell length", "m");
  check_stretches(network, cell_length);
  std::vector<bool> fixed(network.nodes, false);
  for (const std::size_t node : network.fixed_nodes) {
    check_node(node, network.nodes, "a fixed terminal");
    if (fixed[node]) throw DomainError("the temperature of node " + std::to_string(node) + " is fixed twice");
    fixed[node] = true;
  }
}

std::size_t cells_of(const FinStretch& stretch, Metres cell_length) {
  return static_cast<std::size_t>(std::max(fewest_cells, std::round(stretch.length / cell_length)));
}

// Heat flow per kelvin into one unknown from a source [W/K].
struct Inflow {
  int unknown;
  double conductance;
};

// Heat balances of all cells and of the nodes that are neither fixed nor untouched: matrix * T = sum of inflow * source.
class Balances {
 public:
  explicit Balances(const FinNetwork& network)
      : stretches_{network.stretches.size()},
        fixed_(network.nodes),
        free_(network.nodes),
        inflows_(stretches_ + network.fixed_nodes.size()) {
    for (std::size_t i = 0; i < network.fixed_nodes.size(); ++i) fixed_[network.fixed_nodes[i]] = stretches_ + i;
  }

  // Unknowns of a stretch's cells follow one another.
  void add(const FinStretch& stretch, std::size_t number, std::size_t cells) {
    const double cell = stretch.length.value() / static_cast<double>(cells);
    const double conductance = copper_conductivity * stretch.copper_area.value() / cell;
    const int first = unknowns_;
    unknowns_ += static_cast<int>(cells);
    for (int i = first; i < unknowns_; ++i) {
      feed(i, number, stretch.loss.value() * cell);
      if (i > first) link(i - 1, i, conductance);
    }
    const int last = unknowns_ - 1;
    attach(stretch.from_node, first, 2.0 * conductance);
    attach(stretch.to_node, last, 2.0 * conductance);
  }

  [[nodiscard]] Eigen::SparseMatrix<double> matrix() const {
    Eigen::SparseMatrix<double> sum(unknowns_, unknowns_);
    sum.setFromTriplets(entries_.begin(), entries_.end());
    return sum;
  }
  [[nodiscard]] const std::vector<std::vector<Inflow>>& inflows() const { return inflows_; }

 private:
  void feed(int unknown, std::size_t source, double conductance) {
    entries_.emplace_back(unknown, unknown, conductance);
    inflows_[source].push_back({unknown, conductance});
  }

  void link(int a, int b, double conductance) {
    entries_.emplace_back(a, a, conductance);
    entries_.emplace_back(b, b, conductance);
    entries_.emplace_back(a, b, -conductance);
    entries_.emplace_back(b, a, -conductance);
  }

  void attach(std::size_t node, int cell, double conductance) {
    if (fixed_[node]) {
      feed(cell, *fixed_[node], conductance);
      return;
    }
    if (!free_[node]) free_[node] = unknowns_++;
    link(*free_[node], cell, conductance);
  }

  std::size_t stretches_;
  int unknowns_ = 0;
  std::vector<std::optional<std::size_t>> fixed_;  // source of a node
  std::vector<std::optional<int>> free_;           // unknown of a node
  std::vector<Eigen::Triplet<double>> entries_;
  std::vector<std::vector<Inflow>> inflows_;  // by source
};

struct Grid {
  Balances balances;
  std::vector<FinCell> cells;
  std::vector<int> unknowns;  // of the cells
};

Grid grid_of(const FinNetwork& network, Metres cell_length) {
  Grid grid{Balances{network}, {}, {}};
  for (std::size_t number = 0; number < network.stretches.size(); ++number) {
    const FinStretch& stretch = network.stretches[number];
    const std::size_t cells = cells_of(stretch, cell_length);
    grid.balances.add(stretch, number, cells);
    // The inflows of a stretch are those of its cells, in order.
    for (std::size_t i = 0; i < cells; ++i) {
      const double middle = (static_cast<double>(i) + 0.5) / static_cast<double>(cells);
      grid.cells.push_back({number, stretch.length * middle, {}});
      grid.unknowns.push_back(grid.balances.inflows()[number][i].unknown);
    }
  }
  return grid;
}

using Factors = Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>;

Eigen::VectorXd response(const Factors& factors, const std::vector<Inflow>& inflows) {
  Eigen::VectorXd right = Eigen::VectorXd::Zero(factors.rows());
  for (const Inflow& inflow : inflows) right[inflow.unknown] += inflow.conductance;
  return factors.solve(right);
}

[[noreturn]] void give_up() {
  throw NumericsError(
      "conduction along the copper: the heat loss is too small beside the copper's conductance to be told from 0");
}

// All sources at 1 K make 1 K everywhere, but for the weights left out and for rounding. Rounding is large where a part
// without terminals loses next to nothing, and there common to all its sources: the shares still hold.
void rescale(std::vector<Influence>& influences) {
  double sum = 0.0;
  for (const Influence& influence : influences) sum += influence.weight;
  if (!(std::abs(sum - 1.0) < 0.1)) give_up();
  for (Influence& influence : influences) influence.weight /= sum;
}

}  // namespace

Metres decay_length(SquareMetres copper_area, WattsPerMetreKelvin loss) {
  check_positive(copper_area.value(), "the copper area", "m2");
  check_positive(loss.value(), "the heat loss", "W/(m K)");
  return Metres{std::sqrt(copper_conductivity * copper_area.value() / loss.value())};
}

std::vector<FinCell> conduction_influences(const FinNetwork& network, Metres cell_length) {
  check(network, cell_length);
  if (network.stretches.empty()) return {};
  Grid grid = grid_of(network, cell_length);
  const Factors factors{grid.balances.matrix()};
  if (factors.info() != Eigen::Success) give_up();

  const std::vector<std::vector<Inflow>>& inflows = grid.balances.inflows();
  // One source at a time: a dense table of cells by sources would grow with the square of the loom.
  for (std::size_t source = 0; source < inflows.size(); ++source) {
    const Eigen::VectorXd weights = response(factors, inflows[source]);
    for (std::size_t i = 0; i < grid.cells.size(); ++i) {
      const double weight = weights[grid.unknowns[i]];
      if (weight >= least_weight) grid.cells[i].influences.push_back({source, weight});
    }
  }
  for (FinCell& cell : grid.cells) rescale(cell.influences);
  return std::move(grid.cells);
}

}  // namespace heatside::exposure
