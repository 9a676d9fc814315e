#include "exposure/air_mixture_year.hpp"

#include <algorithm>
#include <array>
#include <memory>

#include "base/four_doubles.hpp"

namespace heatside::exposure {

namespace {

constexpr std::size_t states = 4;  // as many as lanes

struct AirPart {
  const WeekSample* week{};
  double weight{}, anchor{}, sun{};    // [-], [K], [K]
  std::array<double, states> rises{};  // [K] of each running state
  double mixed_rise{};                 // [K]
};

// Nodes of one regime; there is room for all nodes of the year.
struct NodeColumns {
  explicit NodeColumns(std::size_t room) : kelvin{new double[room]}, ambient{new double[room]}, share{new double[room]} {}

  std::unique_ptr<double[]> kelvin, ambient, share;
  std::size_t count = 0;
};

struct AirYear {
  std::vector<AirPart> parts;
  const YearOfUse& use;
  double negligible, threshold;
  std::array<NodeColumns, 3> nodes;
};

struct FourNodes {
  FourDoubles kelvin{}, share{}, theta{};  // theta: of the first zone above the ambient, which tells soak from parked
};

HEATSIDE_INLINE_ALWAYS std::size_t regime_of(bool running, double theta, double threshold) {
  return static_cast<std::size_t>(running ? Regime::running : theta > threshold ? Regime::soak : Regime::parked);
}

HEATSIDE_INLINE_ALWAYS void push(NodeColumns& nodes, double kelvin, double ambient, double share) {
  nodes.kelvin[nodes.count] = kelvin;
  nodes.ambient[nodes.count] = ambient;
  nodes.share[nodes.count] = share;
  ++nodes.count;
}

HEATSIDE_INLINE_ALWAYS void push_states(AirYear& year, bool running, double ambient, const FourNodes& four) {
  const std::size_t regime = regime_of(running, four.theta[0], year.threshold);
  bool alike = true;
  for (std::size_t state = 0; state < states; ++state)
    alike = alike && year.use.running_mix[state] > 0.0 && regime_of(running, four.theta[state], year.threshold) == regime;
  if (alike) {
    NodeColumns& nodes = year.nodes[regime];
    const FourDoubles around{ambient, ambient, ambient, ambient};
    store(four.kelvin, &nodes.kelvin[nodes.count]);
    store(around, &nodes.ambient[nodes.count]);
    store(four.share, &nodes.share[nodes.count]);
    nodes.count += states;
    return;
  }
  for (std::size_t state = 0; state < states; ++state) {
    if (year.use.running_mix[state] <= 0.0) continue;
    push(year.nodes[regime_of(running, four.theta[state], year.threshold)], four.kelvin[state], ambient, four.share[state]);
  }
}

HEATSIDE_INLINE_ALWAYS void add_day(AirYear& year, std::size_t instant, const DailyCourse& day, bool all_alike) {
  const WeekSample& first = year.parts.front().week[instant];
  const double mean = day.mean.value(), half = day.half_range.value();
  const double ambient = mean + half * first.day_cosine, share = first.share * day.weight;
  const auto without_rise = [&](const AirPart& part, const WeekSample& here) {
    return here.soak + ((part.anchor - mean) * here.by_mean - half * here.by_half);
  };
  if (all_alike) {
    double kelvin = 0.0, first_theta = 0.0;
    for (const AirPart& part : year.parts) {
      const WeekSample& here = part.week[instant];
      const double theta = part.mixed_rise * here.response + without_rise(part, here);
      if (&part == year.parts.data()) first_theta = theta;
      kelvin += part.weight * (ambient + theta + (here.sunny ? part.sun : 0.0));
    }
    push(year.nodes[regime_of(first.running, first_theta, year.threshold)], kelvin, ambient, share);
    return;
  }
  FourNodes four;
  for (const AirPart& part : year.parts) {
    const WeekSample& here = part.week[instant];
    FourDoubles theta;
    load(theta, part.rises.data());
    theta = theta * here.response + without_rise(part, here);
    if (&part == year.parts.data()) four.theta = theta;
    four.kelvin += part.weight * (ambient + theta + (here.sunny ? part.sun : 0.0));
  }
  load(four.share, year.use.running_mix.data());
  four.share *= share;
  push_states(year, first.running, ambient, four);
}

// Where the responses are weak the mixed rise stands for those of all states.
HEATSIDE_INLINE_ALWAYS void add_all_instants(AirYear& year, std::size_t instants) {
  for (std::size_t instant = 0; instant < instants; ++instant) {
    double response = 0.0;
    for (const AirPart& part : year.parts) response = std::max(response, part.week[instant].response);
    for (const DailyCourse& day : year.use.days) add_day(year, instant, day, response < year.negligible);
  }
}

void add_instants(AirYear& year, std::size_t instants) { add_all_instants(year, instants); }

HEATSIDE_WIDE_REGISTERS void add_instants_wide(AirYear& year, std::size_t instants) { add_all_instants(year, instants); }

AirPart part_of(const SampledZone& zone, double weight, double sun_share, const YearOfUse& use) {
  AirPart part{
      zone.week.data(), weight, zone.trace.constants.anchor_ambient.value(), use.sun.rise.value() * sun_share, {}, 0.0};
  for (std::size_t state = 0; state < states; ++state) {
    part.rises[state] = zone.trace.heat.rise[state].value();
    part.mixed_rise += use.running_mix[state] * part.rises[state];
  }
  return part;
}

}  // namespace

TemperatureMeasure year_of_air_mixture(const std::vector<SampledZone>& zones, const std::vector<double>& weights,
                                       const YearOfUse& use, const Quadrature& quadrature) {
  const std::size_t instants = zones.front().week.size(), room = instants * use.days.size() * states;
  AirYear year{{},
               use,
               quadrature.negligible,
               zones.front().trace.constants.soak_threshold.value(),
               {NodeColumns{room}, NodeColumns{room}, NodeColumns{room}}};
  for (std::size_t i = 0; i < zones.size(); ++i) year.parts.push_back(part_of(zones[i], weights[i], use.sun_shares[i], use));
  (wide_registers() ? add_instants_wide : add_instants)(year, instants);
  TemperatureMeasure measure;
  for (std::size_t regime = 0; regime < year.nodes.size(); ++regime) {
    const NodeColumns& nodes = year.nodes[regime];
    const auto copy = [&](const std::unique_ptr<double[]>& column) {
      return std::vector<double>(column.get(), column.get() + nodes.count);
    };
    measure.by_regime[regime] = {copy(nodes.kelvin), copy(nodes.ambient), copy(nodes.share)};
  }
  return measure;
}

}  // namespace heatside::exposure
