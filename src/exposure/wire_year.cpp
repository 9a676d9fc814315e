#include "heatside/exposure/wire_year.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <numeric>

namespace heatside::exposure {

namespace {

double fourth_power(double x) { return x * x * x * x; }

// Several hot bodies as one: how much of the view they take, how strongly they radiate, and at which temperature.
struct CombinedHotBody {
  double view = 0.0;  // shields included
  double emissivity = 0.0;
  std::vector<double> parts;  // of each body in the combined fourth power, sum to 1

  explicit CombinedHotBody(const std::vector<HotNeighbour>& bodies) {
    double strength = 0.0;
    for (const HotNeighbour& body : bodies) {
      view += body.view_factor * body.shield;
      parts.push_back(body.view_factor * body.shield * body.emissivity);
      strength += parts.back();
    }
    if (strength <= 0.0) return;
    emissivity = strength / view;
    for (double& part : parts) part /= strength;
  }
};

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
            if (radiated) setting.hot_body = HotBodyView{Kelvin{std::pow(hot_fourth, 0.25)}, hot.emissivity, hot.view, 1.0};
            const Amperes current = loaded ? wire.current : Amperes{0.0};
            return (wire_temperatures(wire.wire, bundle, wire.cover, current, setting).hottest_insulation() - setting.air)
                .value();
          }};
}

struct WireTables {
  CombinedHotBody hot;
  std::vector<HotNeighbour> bodies;
  ChebyshevTable loaded, unloaded, stopped;

  [[nodiscard]] double hot_fourth(const Instant& instant) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
      const double warm = bodies[i].surface[static_cast<std::size_t>(instant.state)].value();
      sum += hot.parts[i] * fourth_power(instant.air[0] + instant.exhaust_warmth * (warm - instant.air[0]));
    }
    return sum;
  }

  [[nodiscard]] double at(const Instant& instant, bool is_loaded) const {
    // A wire that nothing warms has the temperature of the air exactly.
    constexpr double cold = 1.0e-3;
    if (!is_loaded && (bodies.empty() || instant.exhaust_warmth < cold)) return instant.air[0];
    const ChebyshevTable& table = !instant.running ? stopped : is_loaded ? loaded : unloaded;
    return instant.air[0] + table(instant.air[0], hot_fourth(instant));
  }
};

}  // namespace

bool differs_from_air(const PlacedWire& wire) {
  const bool heated = wire.loaded_share > 0.0 && (wire.current.value() > 0.0 || wire.bundle.other_heat.value() > 0.0);
  return heated || !wire.hot_bodies.empty();
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

Temperature insulation_temperature(const PlacedWire& wire, AirRange air) {
  const CombinedHotBody hot{wire.hot_bodies};
  Kelvin hottest = air.high;
  for (const HotNeighbour& body : wire.hot_bodies)
    hottest = std::max(hottest, *std::max_element(body.surface.begin(), body.surface.end()));
  const auto table = [&](bool loaded, MetresPerSecond speed) { return rise_table(wire, hot, air, hottest, loaded, speed); };
  const auto tables = std::make_shared<const WireTables>(
      WireTables{hot, wire.hot_bodies, table(true, wire.running_air_speed), table(false, wire.running_air_speed),
                 table(false, MetresPerSecond{0.0})});
  return [tables](const Instant& instant, bool loaded) { return tables->at(instant, loaded); };
}

}  // namespace heatside::exposure
