#include "base/fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace heatside {

namespace {

const Json& empty_object() {
  static const Json empty = Json::object();
  return empty;
}

bool has_control_character(const std::string& text) {
  return std::any_of(text.begin(), text.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F;
  });
}

}  // namespace

std::string describe_type(const Json& value) {
  if (value.is_null()) return "null";
  if (value.is_boolean()) return "true or false";
  if (value.is_number()) return "a number";
  if (value.is_string()) return "a text";
  return value.is_array() ? "an array" : "an object";
}

std::string unknown_word(std::string_view what, std::string_view word, const std::vector<std::string>& allowed) {
  std::string message = fmt::format("unknown {} \"{}\"", what, word);
  if (const std::string nearest = nearest_word(word, allowed); !nearest.empty()) {
    message += fmt::format("; nearest is \"{}\"", nearest);
  }
  constexpr std::size_t short_list = 30;
  if (allowed.empty()) {
    message += "; none is defined";
  } else if (allowed.size() <= short_list) {
    message += "; allowed: " + join(allowed);
  }
  return message;
}

Fields::Fields(const Json& value, std::string pointer, const std::string& file, std::vector<Problem>& problems)
    : object_{&value}, pointer_{std::move(pointer)}, file_{&file}, problems_{&problems} {
  if (!value.is_object()) {
    complain("", fmt::format("expected an object, found {}", describe_type(value)));
    object_ = &empty_object();
  }
}

bool Fields::has(std::string_view key) const { return object_->contains(std::string{key}); }

const Json* Fields::find(std::string_view key) {
  known_.emplace_back(key);
  const auto member = object_->find(std::string{key});
  return member == object_->end() ? nullptr : &*member;
}

const Json* Fields::require(std::string_view key) {
  const Json* member = find(key);
  // An object that is none has been complained about already.
  if (member == nullptr && object_ != &empty_object()) complain("", fmt::format("\"{}\" is missing", key));
  return member;
}

std::optional<double> Fields::optional_number(std::string_view key, Range range) {
  if (!has(key)) {
    known_.emplace_back(key);
    return std::nullopt;
  }
  return number(key, range);
}

double Fields::number(std::string_view key, Range range) {
  const Json* member = require(key);
  if (member == nullptr) return range.low;
  const std::string unit = range.unit.empty() ? "" : fmt::format(" {}", range.unit);
  const std::string allowed = fmt::format("allowed: {} to {}{}", plain_number(range.low), plain_number(range.high), unit);
  if (!member->is_number()) {
    complain(key, fmt::format("expected a number, found {}; {}", describe_type(*member), allowed));
    return range.low;
  }
  const double value = member->get<double>();
  if (!(value >= range.low && value <= range.high)) {
    complain(key, fmt::format("{}{} is outside the range; {}", plain_number(value, 10), unit, allowed));
    return range.low;
  }
  return value;
}

std::size_t Fields::count(std::string_view key, std::size_t low, std::size_t high) {
  const double value = number(key, {static_cast<double>(low), static_cast<double>(high), ""});
  if (value != std::floor(value)) {
    complain(key, fmt::format("{} is not a whole number", plain_number(value, 10)));
    return low;
  }
  return static_cast<std::size_t>(value);
}

std::optional<std::size_t> Fields::optional_count(std::string_view key, std::size_t low, std::size_t high) {
  if (find(key) == nullptr) return std::nullopt;
  return count(key, low, high);
}

bool Fields::flag(std::string_view key) {
  const Json* member = require(key);
  if (member == nullptr) return false;
  if (!member->is_boolean()) {
    complain(key, fmt::format("expected true or false, found {}", describe_type(*member)));
    return false;
  }
  return member->get<bool>();
}

std::optional<bool> Fields::optional_flag(std::string_view key) {
  if (find(key) == nullptr) return std::nullopt;
  return flag(key);
}

std::string Fields::text(std::string_view key) {
  const Json* member = require(key);
  if (member == nullptr) return {};
  if (!member->is_string()) {
    complain(key, fmt::format("expected a text, found {}", describe_type(*member)));
    return {};
  }
  auto value = member->get<std::string>();
  if (value.empty()) complain(key, "the text is empty");
  if (has_control_character(value)) complain(key, "the text holds control characters");
  return value;
}

std::optional<std::string> Fields::optional_text(std::string_view key) {
  if (find(key) == nullptr) return std::nullopt;
  return text(key);
}

std::string Fields::choice(std::string_view key, const std::vector<std::string>& allowed) {
  if (find(key) != nullptr && !find(key)->is_string()) {
    complain(key, fmt::format("expected one of {}; found {}", join(allowed), describe_type(*find(key))));
    return allowed.front();
  }
  const Json* member = require(key);
  if (member == nullptr) return allowed.front();
  const auto word = member->get<std::string>();
  if (std::find(allowed.begin(), allowed.end(), word) == allowed.end()) {
    complain(key, unknown_word(key, word, allowed));
    return allowed.front();
  }
  return word;
}

std::optional<std::string> Fields::optional_choice(std::string_view key, const std::vector<std::string>& allowed) {
  if (find(key) == nullptr) return std::nullopt;
  return choice(key, allowed);
}

Date Fields::date(std::string_view key) {
  const Json* member = require(key);
  const Date stand_in = *parse_date("2000-01-01");
  if (member == nullptr) return stand_in;
  const std::optional<Date> value = member->is_string() ? parse_date(member->get_ref<const std::string&>()) : std::nullopt;
  if (!value) {
    const std::string given = member->is_string() ? "\"" + member->get<std::string>() + "\"" : describe_type(*member);
    complain(key, fmt::format("expected a date as \"YYYY-MM-DD\", \"YYYY-MM\" or \"YYYY\", years 1900 to 2200; {} is none",
                              given));
    return stand_in;
  }
  return *value;
}

std::optional<Date> Fields::optional_date(std::string_view key) {
  if (find(key) == nullptr) return std::nullopt;
  return date(key);
}

Fields Fields::object(std::string_view key) {
  const Json* member = require(key);
  return {member == nullptr ? empty_object() : *member, pointer(key), *file_, *problems_};
}

std::optional<Fields> Fields::optional_object(std::string_view key) {
  if (find(key) == nullptr) return std::nullopt;
  return object(key);
}

std::vector<Fields> Fields::objects(std::string_view key, std::size_t at_least) {
  std::vector<Fields> elements;
  const Json* member = require(key);
  if (member == nullptr) return elements;
  if (!member->is_array()) {
    complain(key, fmt::format("expected an array, found {}", describe_type(*member)));
    return elements;
  }
  if (member->size() < at_least) {
    complain(key, fmt::format("{} entries are too few; at least {} needed", member->size(), at_least));
  }
  const std::string base = pointer(key);
  for (std::size_t i = 0; i < member->size(); ++i) {
    elements.emplace_back((*member)[i], child_pointer(base, i), *file_, *problems_);
  }
  return elements;
}

std::vector<Fields> Fields::optional_objects(std::string_view key) {
  if (find(key) == nullptr) return {};
  return objects(key, 0);
}

void Fields::complain(std::string_view key, std::string message) {
  problems_->push_back({*file_, key.empty() ? pointer_ : pointer(key), std::move(message)});
}

void Fields::refuse_unknown() {
  for (const auto& [key, value] : object_->items()) {
    if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
    std::vector<std::string> free_keys;
    for (const std::string& known : known_) {
      if (!has(known) && std::find(free_keys.begin(), free_keys.end(), known) == free_keys.end()) free_keys.push_back(known);
    }
    const std::string nearest = nearest_word(key, free_keys);
    if (!nearest.empty()) {
      complain(key, fmt::format("unknown key; nearest is \"{}\"", nearest));
    } else {
      complain(key, free_keys.empty() ? "unknown key; all that may stand here is set"
                                      : fmt::format("unknown key; not set here: {}", join(free_keys)));
    }
  }
}

}  // namespace heatside
