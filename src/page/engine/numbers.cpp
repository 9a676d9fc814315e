#include "page/engine/numbers.hpp"

#include <cmath>

namespace heatside::page {

Json finite_or_null(double number) { return std::isfinite(number) ? Json(number) : Json(nullptr); }

Json percents_json(const population::Quantiles<Strain>& elongation) {
  return {{"p10", in_percent(elongation.p10)}, {"p50", in_percent(elongation.p50)}, {"p90", in_percent(elongation.p90)}};
}

Json limits_json(const ageing::ConditionThresholds& limits) {
  return {{"stiff", in_percent(limits.stiff)},
          {"flex_cracks", in_percent(limits.flex_cracks)},
          {"cracked", in_percent(limits.cracked)},
          {"crumbling", in_percent(limits.crumbling)}};
}

Json hours_json(const population::Quantiles<Years>& life) {
  const auto in_hours = [](Years years) { return finite_or_null(hours(years).value()); };
  return {{"p10", in_hours(life.p10)}, {"p50", in_hours(life.p50)}, {"p90", in_hours(life.p90)}};
}

Json life_json(const population::LifeLine& line) {
  Json list = Json::array();
  for (const population::LifeAt& point : line.points)
    list.push_back({{"temperature_Cel", in_celsius(point.temperature)},
                    {"hours", hours_json(point.life)},
                    {"straight_hours", finite_or_null(hours(point.straight).value())}});
  return list;
}

}  // namespace heatside::page
