#include "report/json_parts.hpp"

namespace heatside::report {

Json regimes_json(const exposure::PerRegime& parts) {
  Json json = Json::object();
  for (std::size_t i = 0; i < parts.size(); ++i) json[std::string{exposure::regime_names[i]}] = parts[i];
  return json;
}

Json assumptions_json(const std::vector<casefile::Assumption>& assumptions) {
  Json list = Json::array();
  for (const casefile::Assumption& assumption : assumptions) {
    list.push_back({{"at", assumption.pointer}, {"text", assumption.text}, {"grade", name_of(assumption.grade)}});
  }
  return list;
}

}  // namespace heatside::report
