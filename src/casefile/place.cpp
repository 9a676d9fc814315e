#include "casefile/place.hpp"

#include <algorithm>
#include <iterator>
#include <optional>

namespace heatside::casefile {

namespace {

// One part of a pointer without its escapes; empty when an escape is neither ~0 nor ~1.
std::optional<std::string> unescaped(std::string_view part) {
  std::string text;
  for (std::size_t i = 0; i < part.size(); ++i) {
    if (part[i] != '~') {
      text += part[i];
      continue;
    }
    const char code = i + 1 < part.size() ? part[++i] : ' ';
    if (code != '0' && code != '1') return std::nullopt;
    text += code == '0' ? '~' : '/';
  }
  return text;
}

std::optional<std::vector<std::string>> parts_of(std::string_view pointer) {
  std::vector<std::string> parts;
  while (!pointer.empty()) {
    if (pointer.front() != '/') return std::nullopt;
    const std::size_t end = std::min(pointer.find('/', 1), pointer.size());
    std::optional<std::string> part = unescaped(pointer.substr(1, end - 1));
    if (!part) return std::nullopt;
    parts.push_back(*std::move(part));
    pointer.remove_prefix(end);
  }
  return parts;
}

std::optional<std::size_t> array_index(const std::string& part, std::size_t size) {
  const bool digits = !part.empty() && part.size() < 10 &&
                      std::all_of(part.begin(), part.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (!digits || (part.size() > 1 && part.front() == '0')) return std::nullopt;
  const std::size_t index = std::stoul(part);
  return index < size ? std::optional{index} : std::nullopt;
}

struct Child {
  const Json* value;
  std::size_t ordinal;
};

std::optional<Child> child_of(const Json& value, const std::string& part) {
  if (value.is_object()) {
    const auto member = value.find(part);
    if (member == value.end()) return std::nullopt;
    return Child{&*member, static_cast<std::size_t>(std::distance(value.begin(), member))};
  }
  if (!value.is_array()) return std::nullopt;
  const std::optional<std::size_t> index = array_index(part, value.size());
  return index ? std::optional{Child{&value[*index], *index}} : std::nullopt;
}

// Follows the parts as far as they lead.
struct Walk {
  const Json* reached;
  std::vector<std::size_t> ordinals;
};

Walk walk(const Json& document, const std::vector<std::string>& parts) {
  Walk way{&document, {}};
  for (const std::string& part : parts) {
    const std::optional<Child> child = child_of(*way.reached, part);
    if (!child) break;
    way.reached = child->value;
    way.ordinals.push_back(child->ordinal);
  }
  return way;
}

}  // namespace

bool has_place(const Json& document, std::string_view pointer) {
  const auto parts = parts_of(pointer);
  if (!parts) return false;
  const Walk way = walk(document, *parts);
  const std::size_t missing = parts->size() - way.ordinals.size();
  return missing == 0 || (missing == 1 && way.reached->is_object());
}

bool has_value(const Json& document, std::string_view pointer) {
  const auto parts = parts_of(pointer);
  return parts && walk(document, *parts).ordinals.size() == parts->size();
}

std::vector<std::size_t> order_in_text(const Json& document, std::string_view pointer) {
  const auto parts = parts_of(pointer);
  return parts ? walk(document, *parts).ordinals : std::vector<std::size_t>{};
}

}  // namespace heatside::casefile
