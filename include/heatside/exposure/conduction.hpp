#pragma once

#include <cstddef>
#include <vector>

#include "heatside/base/units.hpp"

/// Steady conduction of heat along the copper of a loom: how far a hot terminal or a hot place reaches.
///
/// Along a stretch of constant surroundings the copper's temperature T follows the fin equation
///
///     k A d2T/dx2 = loss (T - T_own)
///
/// where T_own is the temperature the wires would have there without conduction. At a node the heat flows of all
/// stretches sum to 0, a free end passes no heat, and a terminal holds its given temperature. The equations are linear,
/// so T anywhere is a weighted mean of the stretches' own temperatures and of the terminals; the weights depend on
/// lengths, sizes and losses alone and serve every instant.
///
/// @par Valid where  the regime changes slowly against the wire's time constant: minutes up to 16 mm2
/// @par Source       Incropera, Fundamentals of Heat and Mass Transfer, 7th ed., section 3.6 (from memory)
/// @par Tested by    tests/exposure/conduction_test.cpp, against closed forms

namespace heatside::exposure {

/// Copper between two nodes whose surroundings are the same all along.
struct FinStretch {
  std::size_t from_node{}, to_node{};  ///< may be equal: a loop
  Metres length{0.0};
  SquareMetres copper_area{0.0};  ///< of all wires that run side by side
  WattsPerMetreKelvin loss{0.0};  ///< heat given off per metre of the wires and kelvin above their own temperature
};

/// A loom as stretches that meet at nodes 0 to nodes - 1. It may branch, close on itself and fall into parts.
struct FinNetwork {
  std::size_t nodes{};
  std::vector<FinStretch> stretches;
  std::vector<std::size_t> fixed_nodes;  ///< terminals whose temperature is given, each once; other ends are free
};

/// What one given temperature counts for.
struct Influence {
  std::size_t source{};  ///< below stretches.size(): own temperature of that stretch;
                         ///< from there on: terminal number source - stretches.size(), in the order of fixed_nodes
  double weight{};       ///< above 0, at most 1
};

/// A short piece of a stretch.
struct FinCell {
  std::size_t stretch{};
  Metres from_start{0.0};             ///< from the stretch's `from_node` to the middle of the cell
  std::vector<Influence> influences;  ///< weights sum to 1; sorted by source; those below 1e-6 left out
};

/// Distance over which a long wire's excess temperature falls to 1/e: sqrt(k A / loss).
///
/// @throws DomainError  area or loss is not finite and above 0
[[nodiscard]] Metres decay_length(SquareMetres copper_area, WattsPerMetreKelvin loss);

/// The cells of all stretches, in the order of the stretches and along each, with what they are influenced by.
///
/// Finite volumes with the nodes as unknowns of their own, second order in the cell length h: next to a terminal the
/// weights are off by (h / decay length)^2 / 8, elsewhere by less. A node that no stretch touches is of no account.
///
/// @param cell_length  about this long are the cells; every stretch has at least four
/// @throws DomainError    a length, area or loss is not finite and above 0, the loom would need more than a million
///                        cells, or a node number is out of range or fixed twice; names the stretch or the node
/// @throws NumericsError  the losses of a part without terminals are too small beside its conductances to be told from 0
[[nodiscard]] std::vector<FinCell> conduction_influences(const FinNetwork& network, Metres cell_length = millimetres(8.0));

}  // namespace heatside::exposure
