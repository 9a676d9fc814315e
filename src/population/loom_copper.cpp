#include "population/loom_copper.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/exposure/trip_trace.hpp"
#include "population/heat_names.hpp"
#include "population/placed_wire.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Segment;
using casefile::Stretch;
using casefile::WireGroup;
using exposure::LocalHeat;
using exposure::PlacedWire;
using library::Library;

constexpr double least_shift = 0.01;  // [K]: moves a clock by a thousandth

SquareMetres copper_of(const WireGroup& group, const Library& library) {
  return square_millimetres(library::find_conductor_size(library, group.size)->area.value) *
         static_cast<double>(group.count);
}

// The group with most copper stands for the bundle.
const WireGroup& main_group(const Segment& segment, const Library& library) {
  return *std::max_element(segment.groups.begin(), segment.groups.end(), [&](const WireGroup& a, const WireGroup& b) {
    return copper_of(a, library) < copper_of(b, library);
  });
}

LocalHeat heat_of_terminal(const std::string& node, const casefile::Terminal& terminal) {
  LocalHeat heat{1.0, terminal.zone, {}, {}};
  if (!terminal.surface_celsius) return heat;
  exposure::HotTerminal part;
  for (std::size_t i = 0; i < part.surface.size(); ++i) part.surface[i] = celsius((*terminal.surface_celsius)[i]);
  part.cools_with_exhaust = terminal.cools_with_exhaust;
  heat.name = "terminal " + node + "/" + numbers_of(part);
  heat.source = part;
  return heat;
}

bool alike(const LocalHeat& a, const LocalHeat& b) { return a.zone == b.zone && a.name == b.name; }

PlacedWire wire_in(const Case& job, const Segment& segment, const Stretch& stretch, const WireGroup& group,
                   const Library& library) {
  const casefile::Lot& lot = *casefile::find_by_id(job.lots, group.lot);
  return placed_wire(segment, stretch, group, library.insulations.at(lot.candidates.front().insulation), library);
}

Minutes time_constant_of(const PlacedWire& wire, const WireGroup& group, const Stretch& stretch, const Library& library) {
  const library::Covering* covering = stretch.covering.empty() ? nullptr : &library.coverings.at(stretch.covering);
  const exposure::HeatStore store = exposure::heat_store(*library::find_conductor_size(library, group.size), covering);
  exposure::WireSetting warm;
  warm.air = celsius(80.0);
  return exposure::time_constant(wire, store, warm, warm.air + KelvinRise{10.0});
}

// All stretches of the case as fins between the case's nodes and one more node for each place where stretches meet.
class NetworkBuilder {
 public:
  NetworkBuilder(const Case& job, const Library& library) : job_{job}, library_{library} {
    for (const casefile::Node& node : job.nodes) nodes_.emplace(node.id, 0);
    for (auto& [id, number] : nodes_) number = network_.nodes++;
  }

  void add(const Segment& segment, std::size_t number, LoomCopper& copper) {
    std::size_t from = nodes_.at(segment.from);
    std::vector<std::size_t>& sources = copper.source[number];
    for (std::size_t i = 0; i < segment.stretches.size(); ++i) {
      const Stretch& stretch = segment.stretches[i];
      const bool last = i + 1 == segment.stretches.size();
      const std::size_t to = last ? nodes_.at(segment.to) : network_.nodes++;
      const WireGroup& group = main_group(segment, library_);
      const LocalHeat own = own_heat(job_, segment, stretch, group, library_);
      const PlacedWire bundle = wire_in(job_, segment, stretch, group, library_);
      SquareMetres area{0.0};
      for (const WireGroup& each : segment.groups) area = area + copper_of(each, library_);
      const WattsPerMetreKelvin loss = exposure::heat_loss(bundle.wire, bundle.bundle, bundle.cover);
      network_.stretches.push_back({from, to, segment.length * stretch.share, area, loss});
      sources.push_back(copper.sources.size());
      copper.sources.push_back(own);
      from = to;
    }
  }

  exposure::FinNetwork finish(LoomCopper& copper) {
    for (const auto& [id, number] : nodes_) {
      const casefile::Node& node = *casefile::find_by_id(job_.nodes, id);
      if (!node.terminal) continue;
      network_.fixed_nodes.push_back(number);
      copper.sources.push_back(heat_of_terminal(id, *node.terminal));
    }
    return std::move(network_);
  }

 private:
  const Case& job_;
  const Library& library_;
  std::map<std::string, std::size_t> nodes_;
  exposure::FinNetwork network_;
};

// Conduction evens out nothing where everything has one temperature.
bool all_alike(const std::vector<LocalHeat>& sources) {
  return std::all_of(sources.begin(), sources.end(), [&](const LocalHeat& heat) { return alike(heat, sources.front()); });
}

// Segments by their ids, so that the order of the file changes no rounding.
std::vector<std::size_t> by_id(const std::vector<Segment>& segments) {
  std::vector<std::size_t> order(segments.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return segments[a].id < segments[b].id; });
  return order;
}

void find_first_cells(const std::vector<std::size_t>& order, LoomCopper& copper) {
  std::size_t cell = 0;
  for (const std::size_t segment : order) {
    for (const std::size_t source : copper.source[segment]) {
      copper.first_cell[segment].push_back(cell);
      while (cell < copper.cells.size() && copper.cells[cell].stretch == source) ++cell;
    }
    copper.first_cell[segment].push_back(cell);
  }
}

constexpr JoulePerMole common_energy = kilojoule_per_mole(95.0);  // of most insulations; it only ranks spots
constexpr Kelvin warm = celsius(100.0);

// How hot cells are over a year, as the constant temperature that ages as much.
class Ranking {
 public:
  Ranking(const LoomCopper& copper, const SourceHeat& heat) : copper_{copper}, heat_{heat} {}

  [[nodiscard]] double level(std::size_t cell) const {
    const std::vector<exposure::Influence>& influences = copper_.cells[cell].influences;
    if (heat_.samples.share.empty()) {
      double sum = 0.0;
      for (const exposure::Influence& influence : influences) sum += influence.weight * heat_.levels[influence.source];
      return sum;
    }
    std::vector<double> kelvin(heat_.samples.share.size(), 0.0);
    for (const exposure::Influence& influence : influences) {
      const std::vector<double>& source = heat_.samples.kelvin[influence.source];
      for (std::size_t i = 0; i < kelvin.size(); ++i) kelvin[i] += influence.weight * source[i];
    }
    const double slope = common_energy.value() / molar_gas_constant;
    double mean = 0.0;
    for (std::size_t i = 0; i < kelvin.size(); ++i)
      mean += heat_.samples.share[i] * std::exp(slope * (1.0 / warm.value() - 1.0 / kelvin[i]));
    return exposure::equivalent_temperature(mean, common_energy, warm).value();
  }

  // Every fourth cell, and then those about the best: temperature runs smoothly along a stretch.
  [[nodiscard]] std::size_t hottest(std::size_t first, std::size_t last) const {
    const std::size_t stride = heat_.samples.share.empty() ? 1 : 4;
    std::size_t best = first;
    double hottest = level(first);
    const auto look_at = [&](std::size_t cell) {
      const double here = level(cell);
      if (here <= hottest) return;
      hottest = here;
      best = cell;
    };
    for (std::size_t cell = first + stride; cell < last; cell += stride) look_at(cell);
    if (stride == 1) return best;
    look_at(last - 1);
    const std::size_t low = best - std::min(best - first, stride), high = std::min(best + stride, last);
    for (std::size_t cell = low; cell < high; ++cell) look_at(cell);
    return best;
  }

 private:
  const LoomCopper& copper_;
  const SourceHeat& heat_;
};

void add_part(std::vector<LocalHeat>& parts, LocalHeat part) {
  const auto same = std::find_if(parts.begin(), parts.end(), [&](const LocalHeat& other) { return alike(other, part); });
  if (same != parts.end()) {
    same->weight += part.weight;
  } else {
    parts.push_back(std::move(part));
  }
}

}  // namespace

LocalHeat own_heat(const Case& job, const Segment& segment, const Stretch& stretch, const WireGroup& group,
                   const Library& library) {
  LocalHeat own{1.0, zone_of_air(stretch, library), {}, {}};
  const PlacedWire wire = wire_in(job, segment, stretch, group, library);
  if (!exposure::differs_from_air(wire)) return own;
  own.source = wire;
  own.name = segment.id + "/" + stretch.id + "/" + numbers_of(wire);
  return own;
}

LoomCopper loom_copper(const Case& job, const Library& library) {
  LoomCopper copper;
  NetworkBuilder builder{job, library};
  const std::vector<std::size_t> order = by_id(job.segments);
  copper.source.resize(order.size());
  copper.first_cell.resize(order.size());
  for (const std::size_t number : order) {
    try {
      builder.add(job.segments[number], number, copper);
    } catch (const DomainError& error) {
      throw DomainError("segment \"" + job.segments[number].id + "\": " + error.what());
    }
  }
  const exposure::FinNetwork network = builder.finish(copper);
  if (!all_alike(copper.sources)) copper.cells = exposure::conduction_influences(network);
  find_first_cells(order, copper);
  return copper;
}

std::vector<casefile::Assumption> slow_cables(const Case& job, const Library& library) {
  constexpr Minutes slow{5.0};  // the quickest zones rise and fall in two or three minutes, most in six to ten
  std::vector<std::string> ids;
  Minutes slowest{0.0};
  for (const Segment& segment : job.segments) {
    Minutes here{0.0};
    for (const Stretch& stretch : segment.stretches) {
      const WireGroup& group = main_group(segment, library);
      try {
        here = std::max(here, time_constant_of(wire_in(job, segment, stretch, group, library), group, stretch, library));
      } catch (const DomainError& error) {
        throw DomainError("segment \"" + segment.id + "\": " + error.what());
      }
    }
    if (here < slow) continue;
    ids.push_back(segment.id);
    slowest = std::max(slowest, here);
  }
  if (ids.empty()) return {};
  return {
      {"/segments",
       fmt::format("thick bundles and cables follow their zone slowly, up to about {:.0f} minutes behind, and are taken as "
                   "following at once: {}; peaks shorter than that count for more than they are",
                   slowest.value(), join(ids)),
       Grade::judgement}};
}

std::optional<CopperSpot> hottest_spot(const LoomCopper& copper, const Case& job, std::size_t segment, std::size_t stretch,
                                       const LocalHeat& own, const SourceHeat& heat) {
  const std::size_t here = copper.source[segment][stretch];
  const std::size_t first = copper.first_cell[segment][stretch];
  const std::size_t last = copper.first_cell[segment][stretch + 1];
  if (first == last) return std::nullopt;
  const Ranking ranking{copper, heat};
  const std::size_t hottest_cell = ranking.hottest(first, last);
  const auto hottest = copper.cells.begin() + static_cast<std::ptrdiff_t>(hottest_cell);
  if (std::abs(ranking.level(hottest_cell) - heat.levels[here]) < least_shift) return std::nullopt;

  CopperSpot spot;
  const Segment& at = job.segments[segment];
  for (std::size_t i = 0; i < stretch; ++i) spot.from_start = spot.from_start + at.length * at.stretches[i].share;
  spot.from_start = spot.from_start + hottest->from_start;
  spot.parts = {own};
  double from_elsewhere = 0.0;
  for (const exposure::Influence& influence : hottest->influences) {
    if (influence.source == here) continue;
    LocalHeat other = copper.sources[influence.source];
    other.weight = influence.weight;
    from_elsewhere += influence.weight;
    add_part(spot.parts, std::move(other));
  }
  LocalHeat displaced = copper.sources[here];
  displaced.weight = -from_elsewhere;
  add_part(spot.parts, std::move(displaced));
  return spot;
}

}  // namespace heatside::population
