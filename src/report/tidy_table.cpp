#include "report/tidy_table.hpp"

#include <fmt/format.h>

#include <array>

namespace heatside::report {

namespace {

// Shortest digits that read back to the same value; no minus before a zero.
std::string number_text(double value) { return fmt::format("{}", value + 0.0); }

std::string text_of(const Cell& cell) {
  struct InText {
    std::string operator()(std::monostate) const { return ""; }
    std::string operator()(const std::string& text) const { return csv_cell(text); }
    std::string operator()(double value) const { return number_text(value); }
    std::string operator()(long long value) const { return fmt::format("{}", value); }
    std::string operator()(bool value) const { return value ? "true" : "false"; }
  };
  return std::visit(InText{}, cell);
}

Json json_of(const Cell& cell) {
  struct InJson {
    Json operator()(std::monostate) const { return nullptr; }
    Json operator()(const std::string& text) const { return text; }
    Json operator()(double value) const { return value + 0.0; }
    Json operator()(long long value) const { return value; }
    Json operator()(bool value) const { return value; }
  };
  return std::visit(InJson{}, cell);
}

}  // namespace

std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string{"\"\""} : std::string{c};
  return quoted + '"';
}

std::string csv_of(const TidyTable& table) {
  std::string text;
  for (const Field& field : table.fields) text += (text.empty() ? "" : ",") + field.name;
  text += "\r\n";
  for (const std::vector<Cell>& row : table.rows) {
    for (std::size_t column = 0; column < row.size(); ++column) {
      if (column > 0) text += ',';
      text += text_of(row[column]);
    }
    text += "\r\n";
  }
  return text;
}

std::string name_of(FieldType type) {
  constexpr std::array<const char*, 5> names{"string", "number", "integer", "boolean", "date"};
  return names.at(static_cast<std::size_t>(type));
}

Json schema_of(const TidyTable& table) {
  Json fields = Json::array();
  for (const Field& field : table.fields) {
    Json entry{{"name", field.name}, {"type", name_of(field.type)}, {"description", field.meaning}};
    if (!field.unit.empty()) entry["unit"] = field.unit;
    fields.push_back(entry);
  }
  Json schema{{"$schema", "https://datapackage.org/profiles/2.0/tableschema.json"},
              {"fields", fields},
              {"missingValues", Json::array({""})}};
  if (!table.key.empty()) schema["primaryKey"] = table.key;
  return schema;
}

Json rows_of(const TidyTable& table) {
  Json rows = Json::array();
  for (const std::vector<Cell>& row : table.rows) {
    Json entry = Json::object();
    for (std::size_t column = 0; column < row.size(); ++column) entry[table.fields[column].name] = json_of(row[column]);
    rows.push_back(entry);
  }
  return rows;
}

}  // namespace heatside::report
