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

Json reliance_json(const std::vector<library::Reliance>& records) {
  Json list = Json::array();
  for (const library::Reliance& record : records) {
    list.push_back({{"kind", record.kind},
                    {"id", record.id},
                    {"name", record.name},
                    {"weakest_grade", name_of(record.weakest)},
                    {"soft", is_soft(record.weakest)}});
  }
  return list;
}

Json made_head(const char* format, const BirthCertificate& certificate) {
  return {{"format", format},
          {"version", 1},
          {"engine", certificate.engine},
          {"case", certificate.case_name},
          {"case_sha256", certificate.case_sha256},
          {"own_records", certificate.own_records},
          {"own_records_sha256", certificate.own_records_sha256}};
}

Json case_head(const char* format, const BirthCertificate& certificate, const casefile::Case& job) {
  Json head = made_head(format, certificate);
  head.update({{"title", job.title}, {"invented", job.invented}});
  return head;
}

std::string document_text(const Json& document) {
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace heatside::report
