#include <map>
#include <utility>

#include "base/strict_json.hpp"
#include "heatside/report/library_report.hpp"
#include "report/json_parts.hpp"

namespace heatside::report {

std::string records_json(const std::vector<library::RecordText>& records, const std::string& id, const std::string& engine) {
  std::map<std::pair<std::string, std::string>, Json> last;
  for (const library::RecordText& record : records) {
    Json document = read_strict_json(record.text, std::string{record.name});
    const auto kind = document["kind"].get<std::string>();
    const auto record_id = document["id"].get<std::string>();
    if (!id.empty() && kind != "sources" && record_id != id) continue;
    last.insert_or_assign({kind, record_id}, std::move(document));
  }
  Json list = Json::array();
  for (auto& [key, document] : last) list.push_back(std::move(document));
  const Json document{{"format", "heatside-materials"}, {"version", 1}, {"engine", engine}, {"records", list}};
  return document_text(document);
}

}  // namespace heatside::report
