#include <algorithm>

#include "heatside/report/library_report.hpp"
#include "report/layout.hpp"
#include "report/record_sheets.hpp"

namespace heatside::report {

namespace {

using namespace library;

template <class Record>
std::optional<std::string> find_sheet(const Library& library, const std::map<std::string, Record>& records,
                                      const std::string& id) {
  for (const auto& [key, record] : records) {
    if (record.head.id == id) return sheet_of(library, record);
  }
  return std::nullopt;
}

template <class Record>
void add_kind(std::string& text, std::string_view heading, const std::map<std::string, Record>& records) {
  text += std::string{heading} + '\n';
  for (const auto& [key, record] : records) text += wrapped(record.head.name, "  " + fitted(record.head.id, 26));
}

template <class Visitor>
void for_each_kind(const Library& library, Visitor visit) {
  visit("insulations", library.insulations);
  visit("coverings", library.coverings);
  visit("conductors", library.conductors);
  visit("zones", library.zones);
  visit("climates", library.climates);
  visit("duties", library.duties);
  visit("eras", library.eras);
  visit("methods", library.methods);
  visit("clues", library.clues);
  visit("consequences", library.consequences);
  visit("remedies", library.remedies);
}

}  // namespace

std::string library_text(const Library& library) {
  std::string text;
  for_each_kind(library, [&](std::string_view heading, const auto& records) { add_kind(text, heading, records); });
  text += "model constants\n" + wrapped(library.model.head.name, "  " + fitted(library.model.head.id, 26));
  text += "templates for `heatside start`\n";
  for (const std::string& id : ids_of(library.templates)) text += "  " + id + '\n';
  return text;
}

std::optional<std::string> record_text(const Library& library, const std::string& id) {
  if (id == library.model.head.id) return sheet_of(library, library.model);
  if (const auto found = library.templates.find(id); found != library.templates.end()) return template_sheet(found->second);
  std::optional<std::string> text;
  for_each_kind(library, [&](std::string_view, const auto& records) {
    if (!text) text = find_sheet(library, records, id);
  });
  return text;
}

std::vector<std::string> record_ids(const Library& library) {
  std::vector<std::string> ids{library.model.head.id};
  for_each_kind(library, [&](std::string_view, const auto& records) {
    for (const auto& [key, record] : records) ids.push_back(record.head.id);
  });
  const std::vector<std::string> templates = ids_of(library.templates);
  ids.insert(ids.end(), templates.begin(), templates.end());
  return ids;
}

}  // namespace heatside::report
