#include "heatside/exposure/wire_year.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numbers>
#include <utility>

#include "exposure/heat_path.hpp"
#include "exposure/hot_bodies.hpp"

namespace heatside::exposure {

namespace {

double fourth_power(double x) { return x * x * x * x; }

// A smooth function of one or two variables on a box, as a sum of products of Chebyshev polynomials.
class ChebyshevTable {
 public:
  struct Axis {
    double low, high;
    std::size_t count;

    [[nodiscard]] double node(std::size_t i) const {
      const double x = std::cos(std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(count));
      return 0.5 * (low + high) + 0.5 * (high - low) * x;
    }
    [[nodiscard]] double scaled(double value) const { return high > low ? (2.0 * value - low - high) / (high - low) : 0.0; }
  };

  template <class Function>
  ChebyshevTable(Axis first, Axis second, Function function)
      : first_{first}, second_{second}, coefficients_(first.count * second.count) {
    std::vector<double> values(first.count * second.count);
    for (std::size_t i = 0; i < first.count; ++i) {
      for (std::size_t j = 0; j < second.count; ++j) values[i * second.count + j] = function(first.node(i), second.node(j));
    }
    for (std::size_t p = 0; p < first.count; ++p) {
      for (std::size_t q = 0; q < second.count; ++q) coefficients_[p * second.count + q] = coefficient(values, p, q);
    }
  }

  double operator()(double x, double y) const {
    const double u = std::clamp(first_.scaled(x), -1.0, 1.0);
    const double v = std::clamp(second_.scaled(y), -1.0, 1.0);
    // Clenshaw's recurrence, outer over the first variable and inner over the second.
    double next = 0.0, after = 0.0;
    for (std::size_t p = first_.count; p-- > 0;) {
      const double row = clenshaw(&coefficients_[p * second_.count], second_.count, v);
      const double here = p > 0 ? row + 2.0 * u * next - after : row + u * next - after;
      after = next;
      next = here;
    }
    return next;
  }

 private:
  static double clenshaw(const double* coefficients, std::size_t count, double x) {
    double next = 0.0, after = 0.0;
    for (std::size_t k = count; k-- > 1;) {
      const double here = coefficients[k] + 2.0 * x * next - after;
      after = next;
      next = here;
    }
    return coefficients[0] + x * next - after;
  }

  [[nodiscard]] double coefficient(const std::vector<double>& values, std::size_t p, std::size_t q) const {
    const auto wave = [](std::size_t order, std::size_t node, std::size_t count) {
      return std::cos(std::numbers::pi * static_cast<double>(order) * (static_cast<double>(node) + 0.5) /
                      static_cast<double>(count));
    };
    double sum = 0.0;
    for (std::size_t i = 0; i < first_.count; ++i) {
      for (std::size_t j = 0; j < second_.count; ++j) {
        sum += values[i * second_.count + j] * wave(p, i, first_.count) * wave(q, j, second_.count);
      }
    }
    const double norm = (p == 0 ? 1.0 : 2.0) * (q == 0 ? 1.0 : 2.0);
    return norm * sum / static_cast<double>(first_.count * second_.count);
  }

  Axis first_, second_;
  std::vector<double> coefficients_;
};

// Rise of the hottest insulation above the air, by air temperature and fourth power of the hot bodies' temperature.
ChebyshevTable rise_table(const PlacedWire& wire, const CombinedHotBody& hot, AirRange air, Kelvin hottest_surface,
                          bool loaded, MetresPerSecond speed) {
  const bool radiated = hot.view > 0.0;
  const double low = fourth_power(std::min(air.low.value(), hottest_surface.value()) - 30.0);
  const ChebyshevTable::Axis air_axis{air.low.value(), air.high.value(), 9};
  const ChebyshevTable::Axis hot_axis{low, fourth_power(hottest_surface.value()),
                                      radiated ? std::size_t{25} : std::size_t{1}};
  Bundle bundle = wire.bundle;
  if (!loaded) bundle.other_heat = WattsPerMetre{0.0};
  return {air_axis, hot_axis, [&](double air_kelvin, double hot_fourth) {
            WireSetting setting{
                .air = Kelvin{air_kelvin}, .speed = speed, .altitude = Metres{0.0}, .hot_body = std::nullopt};
            if (radiated) setting.hot_body = hot.seen(hot_fourth);
            const Amperes current = loaded ? wire.current : Amperes{0.0};
            return (wire_temperatures(wire.wire, bundle, wire.cover, current, setting).hottest_insulation() - setting.air)
                .value();
          }};
}

// The air's speed over a wire; the air stands still while the engine does.
double speed_in(const PlacedWire& wire, std::size_t state) { return wire.running_air_speed[state].value(); }

// Of each running state the one whose tables it takes: itself, or the first with a share where it has none.
std::array<std::size_t, 4> states_to_solve(const std::array<double, 4>& running_mix) {
  const auto used = std::find_if(running_mix.begin(), running_mix.end(), [](double share) { return share > 0.0; });
  const std::size_t first = used == running_mix.end() ? 0 : static_cast<std::size_t>(used - running_mix.begin());
  std::array<std::size_t, 4> solved{};
  for (std::size_t i = 0; i < solved.size(); ++i) solved[i] = running_mix[i] > 0.0 ? i : first;
  return solved;
}

class WireTables {
 public:
  WireTables(const PlacedWire& wire, AirRange air, const std::array<double, 4>& running_mix)
      : hot_{wire.hot_bodies}, bodies_{wire.hot_bodies} {
    const std::array<std::size_t, 4> solved = states_to_solve(running_mix);
    for (std::size_t i = 0; i < solved.size(); ++i) {
      if (has_own_heat(wire)) loaded_[i] = table_for(wire, air, true, speed_in(wire, solved[i]));
      if (!bodies_.empty()) unloaded_[i] = table_for(wire, air, false, speed_in(wire, solved[i]));
    }
    if (!bodies_.empty()) stopped_ = table_for(wire, air, false, 0.0);
  }

  WireTables(const WireTables&) = delete;  // its pointers lead to tables of its own
  WireTables& operator=(const WireTables&) = delete;

  [[nodiscard]] double at(const Instant& instant, bool is_loaded) const {
    const double air = instant.air[0];
    const auto state = static_cast<std::size_t>(instant.state);
    const ChebyshevTable* own = is_loaded && instant.running ? loaded_[state] : nullptr;
    // A wire that nothing warms has the temperature of the air exactly.
    constexpr double cold = 1.0e-3;
    if (own == nullptr && (bodies_.empty() || instant.exhaust_warmth < cold)) return air;
    const ChebyshevTable& table = own != nullptr ? *own : instant.running ? *unloaded_[state] : *stopped_;
    return air + table(air, combined_fourth_power(hot_, bodies_, state, instant.exhaust_warmth, air));
  }

 private:
  // A table for that load and speed, made when it is first asked for.
  const ChebyshevTable* table_for(const PlacedWire& wire, AirRange air, bool loaded, double speed) {
    const auto key = std::pair(loaded, speed);
    if (const auto known = tables_.find(key); known != tables_.end()) return &known->second;
    Kelvin hottest = air.high;
    for (const HotNeighbour& body : bodies_)
      hottest = std::max(hottest, *std::max_element(body.surface.begin(), body.surface.end()));
    return &tables_.emplace(key, rise_table(wire, hot_, air, hottest, loaded, MetresPerSecond{speed})).first->second;
  }

  CombinedHotBody hot_;
  std::vector<HotNeighbour> bodies_;
  std::map<std::pair<bool, double>, ChebyshevTable> tables_;  // by load and air speed [m/s]
  std::array<const ChebyshevTable*, 4> loaded_{}, unloaded_{};
  const ChebyshevTable* stopped_ = nullptr;
};

}  // namespace

bool has_own_heat(const PlacedWire& wire) {
  return wire.loaded_share > 0.0 && (wire.current.value() > 0.0 || wire.bundle.other_heat.value() > 0.0);
}

bool differs_from_air(const PlacedWire& wire) { return has_own_heat(wire) || !wire.hot_bodies.empty(); }

Metres bundle_diameter(const PlacedWire& wire) {
  return Metres{heat_path(wire.wire, wire.bundle, wire.cover).bundle_diameter};
}

AirRange range_of(const TemperatureMeasure& year) {
  double low = 1.0e9, high = 0.0;
  for (const Nodes& nodes : year.by_regime) {
    for (const double kelvin : nodes.kelvin) {
      low = std::min(low, kelvin);
      high = std::max(high, kelvin);
    }
  }
  return {Kelvin{low}, Kelvin{high}};
}

Temperature insulation_temperature(const PlacedWire& wire, AirRange air, const std::array<double, 4>& running_mix) {
  const auto tables = std::make_shared<const WireTables>(wire, air, running_mix);
  return [tables](const Instant& instant, bool loaded) { return tables->at(instant, loaded); };
}

}  // namespace heatside::exposure
