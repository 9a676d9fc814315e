#include "page/engine/request.hpp"

#include <cmath>
#include <utility>

#include "base/text.hpp"
#include "heatside/base/error.hpp"

namespace heatside::page {

namespace {

constexpr const char* file = "request";
constexpr double largest_whole = 9007199254740992.0;  // 2^53: beyond it a number of JSON may not be whole

}  // namespace

// Braces would make a list of one element of it.
Request::Request(std::string_view text) : document_(read_strict_json(text, file)) {
  if (!document_.is_object()) refuse("", "an object is needed");
}

Request::Request(Json document, std::string pointer) : document_(std::move(document)), pointer_{std::move(pointer)} {}

void Request::refuse(const std::string& key, const std::string& what) const {
  throw InputError({{file, key.empty() ? pointer_ : child_pointer(pointer_, key), what}});
}

const Json* Request::find(const char* key) const {
  const auto found = document_.find(key);
  return found == document_.end() || found->is_null() ? nullptr : &*found;
}

const Json& Request::get(const char* key) const {
  const Json* found = find(key);
  if (found == nullptr) refuse(key, "is missing");
  return *found;
}

bool Request::has(const char* key) const { return find(key) != nullptr; }

std::string Request::text(const char* key) const {
  const Json& value = get(key);
  if (!value.is_string()) refuse(key, "a text is needed");
  return value.get<std::string>();
}

std::string Request::text_or(const char* key, std::string fallback) const { return has(key) ? text(key) : fallback; }

std::optional<double> Request::number(const char* key, double low, double high) const {
  const Json* value = find(key);
  if (value == nullptr) return std::nullopt;
  const double number = value->is_number() ? value->get<double>() : std::nan("");
  if (!(number >= low && number <= high))
    refuse(key, "a number from " + plain_number(low) + " to " + plain_number(high) + " is needed");
  return number;
}

bool Request::flag(const char* key) const {
  const Json* value = find(key);
  if (value == nullptr) return false;
  if (!value->is_boolean()) refuse(key, "true or false is needed");
  return value->get<bool>();
}

std::vector<std::string> Request::texts(const char* key) const {
  std::vector<std::string> list;
  const Json* value = find(key);
  if (value == nullptr) return list;
  if (!value->is_array()) refuse(key, "a list of texts is needed");
  for (const Json& one : *value) {
    if (!one.is_string()) refuse(key, "a list of texts is needed");
    list.push_back(one.get<std::string>());
  }
  return list;
}

Request Request::part(const char* key) const {
  const Json& value = get(key);
  if (!value.is_object()) refuse(key, "an object is needed");
  return {value, child_pointer(pointer_, key)};
}

CaseText Request::case_text() const {
  CaseText of{text_or("name", "case.json"), text("case"), {}};
  if (!has("files")) return of;
  const Request files = part("files");
  for (const auto& [name, text] : files.document_.items()) {
    if (!text.is_string()) files.refuse(name, "a text is needed");
    of.files.emplace(name, text.get<std::string>());
  }
  return of;
}

DrawChoice Request::draw_choice() const {
  constexpr double fewest = 100.0, most = 100000.0;
  const auto whole = [this](const char* key, double low, double high, double fallback) {
    const double number = this->number(key, low, high).value_or(fallback);
    if (number != std::floor(number)) refuse(key, "a whole number is needed");
    return number;
  };
  DrawChoice choice;
  choice.draws = static_cast<std::size_t>(whole("draws", fewest, most, static_cast<double>(choice.draws)));
  choice.seed = static_cast<std::uint64_t>(whole("seed", 0.0, largest_whole, 0.0));
  choice.at = texts("at");
  return choice;
}

}  // namespace heatside::page
