#include "library/sourced_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"

namespace heatside::library {

namespace {

Grade grade_named(std::string_view name) {
  const auto* const found = std::find(grade_names.begin(), grade_names.end(), name);
  return static_cast<Grade>(found - grade_names.begin());
}

void check_unit(Fields& fields, const std::string& found, std::string_view wanted) {
  // A missing unit has been noted already.
  if (!found.empty() && found != wanted)
    fields.complain("unit", fmt::format("unit \"{}\" does not fit here; allowed: \"{}\"", found, wanted));
}

}  // namespace

bool is_kebab_case(std::string_view id) {
  const auto is_plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  if (id.empty() || !is_plain(id.front()) || !is_plain(id.back())) return false;
  return id.find("--") == std::string_view::npos &&
         std::all_of(id.begin(), id.end(), [&](char c) { return is_plain(c) || c == '-'; });
}

std::string read_kebab_id(Fields& fields, std::string_view key) {
  std::string id = fields.text(key);
  if (!id.empty() && !is_kebab_case(id)) {
    fields.complain(key, fmt::format("\"{}\" is no id; allowed: small letters, digits and single hyphens between them", id));
  }
  return id;
}

RecordHead RecordReader::head(Fields& fields) {
  RecordHead head;
  fields.choice("format", {"heatside-record"});
  fields.number("version", {1, 1, ""});
  fields.find("kind");
  head.id = read_kebab_id(fields, "id");
  head.name = fields.text("name");
  head.note = fields.optional_text("note").value_or("");
  return head;
}

Provenance RecordReader::provenance(Fields& fields) {
  static const std::vector<std::string> grades{grade_names.begin(), grade_names.end()};
  Provenance from;
  from.source = fields.text("source");
  from.grade = grade_named(fields.choice("grade", grades));
  from.note = fields.optional_text("note").value_or("");
  run.mentions.push_back({file, fields.pointer("source"), "source", from.source});
  return from;
}

Sourced RecordReader::number(Fields& parent, std::string_view key, NumberRule rule) {
  Fields fields = parent.object(key);
  Sourced number;
  const Range range{rule.low, rule.high, rule.unit == "1" ? "" : rule.unit};
  number.value = fields.number("value", range);
  number.unit = fields.text("unit");
  check_unit(fields, number.unit, rule.unit);
  constexpr double any = 1.0e300;
  number.low = fields.optional_number("low", {-any, any, range.unit});
  number.high = fields.optional_number("high", {-any, any, range.unit});
  number.sd = fields.optional_number("sd", {-any, any, range.unit});
  if (number.low && *number.low > number.value) fields.complain("low", "must not lie above the value");
  if (number.high && *number.high < number.value) fields.complain("high", "must not lie below the value");
  if (number.sd && *number.sd < 0.0) fields.complain("sd", "must not lie below 0");
  if (number.low.has_value() != number.high.has_value()) fields.complain("", "low and high come together or not at all");
  number.from = provenance(fields);
  fields.refuse_unknown();
  return number;
}

SourcedText RecordReader::text(Fields& parent, std::string_view key) {
  Fields fields = parent.object(key);
  SourcedText text;
  text.text = fields.text("text");
  text.from = provenance(fields);
  fields.refuse_unknown();
  return text;
}

std::array<double, 12> RecordReader::months(Fields& parent, std::string_view key, NumberRule rule, Provenance& from) {
  Fields fields = parent.object(key);
  std::array<double, 12> values{};
  const Json* value = fields.require("value");
  if (value != nullptr && value->is_array()) {
    if (value->size() != values.size()) fields.complain("value", "expected one number or twelve, January to December");
    for (std::size_t month = 0; month < std::min(values.size(), value->size()); ++month) {
      const Json& entry = (*value)[month];
      values[month] = entry.is_number() ? entry.get<double>() : rule.high + 1.0;
      if (!(values[month] >= rule.low && values[month] <= rule.high)) {
        fields.complain("value", fmt::format("month {}: allowed: numbers from {} to {} {}", month + 1,
                                             plain_number(rule.low), plain_number(rule.high), rule.unit));
      }
    }
  } else if (value != nullptr) {
    values.fill(fields.number("value", {rule.low, rule.high, rule.unit}));
  }
  check_unit(fields, fields.text("unit"), rule.unit);
  from = provenance(fields);
  fields.refuse_unknown();
  return values;
}

}  // namespace heatside::library
