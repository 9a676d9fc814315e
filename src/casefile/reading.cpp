#include "casefile/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"

namespace heatside::casefile {

namespace {

bool is_letter_or_digit(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9'); }

bool is_id(const std::string& text) {
  constexpr std::size_t longest = 64;
  return text.size() <= longest && is_letter_or_digit(text.front()) && std::all_of(text.begin(), text.end(), [](char c) {
           return is_letter_or_digit(c) || c == '.' || c == '_' || c == '-';
         });
}

}  // namespace

void Reading::complain(std::string pointer, std::string message) {
  problems.push_back({file, std::move(pointer), std::move(message)});
}

void Reading::assume(std::string pointer, std::string text, Grade grade) {
  result.assumptions.push_back({std::move(pointer), std::move(text), grade});
}

std::vector<Fields> read_list(Fields& top, std::string_view key, std::size_t at_least, Ids& ids) {
  std::vector<Fields> elements = top.objects(key, at_least);
  ids.complete = elements.size() >= at_least;
  return elements;
}

std::string read_id(Fields& fields, Ids& taken, std::size_t index) {
  std::string id = fields.text("id");
  if (!id.empty() && !is_id(id)) {
    fields.complain("id", fmt::format("\"{}\" is no id; allowed: 1 to 64 letters A to Z, digits, '.', '_' and '-', "
                                      "a letter or digit first",
                                      id));
    id.clear();
  }
  if (id.empty()) {
    taken.complete = false;
    return id;
  }
  const auto [place, is_new] = taken.positions.emplace(id, index);
  if (is_new) return id;
  fields.complain("id", fmt::format("\"{}\" is the id of entry {} already; give each its own", id, place->second));
  return {};
}

std::string read_name(Fields& fields, const std::string& id) { return fields.optional_text("name").value_or(id); }

std::optional<std::size_t> read_reference(Fields& fields, std::string_view key, std::string_view what, const Ids& ids) {
  const std::string id = fields.text(key);
  if (id.empty()) return std::nullopt;
  if (const auto place = ids.positions.find(id); place != ids.positions.end()) return place->second;
  if (ids.complete) fields.complain(key, unknown_word(what, id, library::ids_of(ids.positions)));
  return std::nullopt;
}

std::optional<Date> read_date(Fields& fields, std::string_view key, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const Date date = fields.date(key);
  return fields.has(key) && reading.problems.size() == before ? std::optional{date} : std::nullopt;
}

std::optional<Date> read_optional_date(Fields& fields, std::string_view key, Reading& reading) {
  if (fields.find(key) == nullptr) return std::nullopt;
  return read_date(fields, key, reading);
}

double read_share(Fields& fields, std::string_view key) {
  const Json* member = fields.find(key);
  if (member != nullptr && member->is_number() && member->get<double>() == 0.0) {
    fields.complain(key, "0 is too little; allowed: above 0 up to 1");
    return 0.0;
  }
  return fields.number(key, {0.0, 1.0, ""});
}

void expect_whole(std::vector<double>& parts, const std::string& pointer, std::string_view what, Reading& reading) {
  constexpr double tolerance = 1e-6;
  const double sum = std::accumulate(parts.begin(), parts.end(), 0.0);
  if (!(std::abs(sum - 1.0) <= tolerance)) {
    reading.complain(pointer, fmt::format("{} sum to {}; they must sum to 1", what, plain_number(sum, 10)));
    return;
  }
  for (double& part : parts) part /= sum;
}

std::optional<double> read_money(Fields& fields, std::string_view key, Range range, const Reading& reading) {
  const std::optional<double> amount = fields.optional_number(key, {range.low, range.high, reading.result.currency});
  if (amount && reading.result.currency.empty()) {
    fields.complain(key, "money needs a currency; write \"currency\" at the top of the case, such as \"EUR\"");
  }
  return amount;
}

std::array<double, 4> read_by_running_state(Fields fields, Range range) {
  std::array<double, 4> numbers{};
  for (std::size_t i = 0; i < numbers.size(); ++i) numbers[i] = fields.number(library::running_state_names[i], range);
  fields.refuse_unknown();
  return numbers;
}

}  // namespace heatside::casefile
