#include "base/json_text.hpp"

#include <stdexcept>

namespace heatside {

namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

std::size_t after_blanks(std::string_view text, std::size_t at) {
  while (at < text.size() && is_blank(text[at])) ++at;
  return at;
}

std::size_t after_string(std::string_view text, std::size_t at) {
  for (++at; text[at] != '"'; ++at) {
    if (text[at] == '\\') ++at;
  }
  return at + 1;
}

std::size_t after_brackets(std::string_view text, std::size_t at) {
  std::size_t depth = 0;
  do {
    if (text[at] == '"') {
      at = after_string(text, at);
      continue;
    }
    if (text[at] == '{' || text[at] == '[') ++depth;
    if (text[at] == '}' || text[at] == ']') --depth;
    ++at;
  } while (depth != 0);
  return at;
}

std::size_t after_value(std::string_view text, std::size_t at) {
  if (text[at] == '"') return after_string(text, at);
  if (text[at] == '{' || text[at] == '[') return after_brackets(text, at);
  const std::size_t end = text.find_first_of(",]} \t\r\n", at);
  return end == std::string_view::npos ? text.size() : end;
}

// An element or member of an array or object.
struct Child {
  std::string key;    ///< empty for an element
  std::size_t begin;  ///< of the key, or of an element's value
  std::size_t value, end;
};

struct Container {
  std::size_t begin, end;  ///< with its brackets
  std::vector<Child> children;
};

bool is_container(std::string_view text, std::size_t at) { return text[at] == '{' || text[at] == '['; }

Container container_at(std::string_view text, std::size_t begin) {
  Container container{begin, 0, {}};
  const bool has_keys = text[begin] == '{';
  std::size_t at = after_blanks(text, begin + 1);
  while (text[at] != '}' && text[at] != ']') {
    Child child{{}, at, at, 0};
    if (has_keys) {
      const std::size_t key_end = after_string(text, at);
      child.key = Json::parse(text.substr(at, key_end - at)).get<std::string>();
      child.value = after_blanks(text, after_blanks(text, key_end) + 1);
    }
    child.end = after_value(text, child.value);
    container.children.push_back(child);
    at = after_blanks(text, child.end);
    if (text[at] == ',') at = after_blanks(text, at + 1);
  }
  container.end = at + 1;
  return container;
}

std::size_t document_begin(std::string_view text) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  return after_blanks(text, text.substr(0, 3) == byte_order_mark ? 3 : 0);
}

// Splits the last part off a pointer and takes its escapes away.
struct Step {
  std::string_view parent;
  std::string part;
};

Step last_step(std::string_view pointer) {
  const std::size_t slash = pointer.rfind('/');
  Step step{pointer.substr(0, slash), {}};
  for (std::size_t i = slash + 1; i < pointer.size(); ++i) {
    if (pointer[i] != '~' || i + 1 == pointer.size()) {
      step.part += pointer[i];
    } else {
      step.part += pointer[++i] == '1' ? '/' : '~';
    }
  }
  return step;
}

std::optional<std::size_t> index_of(const Container& container, bool has_keys, const std::string& part) {
  for (std::size_t i = 0; i < container.children.size(); ++i) {
    if (part == (has_keys ? container.children[i].key : std::to_string(i))) return i;
  }
  return std::nullopt;
}

struct Found {
  Container parent;
  std::size_t index;
  [[nodiscard]] const Child& child() const { return parent.children[index]; }
};

std::optional<std::size_t> value_begin(std::string_view text, std::string_view pointer);

std::optional<Found> find(std::string_view text, std::string_view pointer) {
  const Step step = last_step(pointer);
  const std::optional<std::size_t> begin = value_begin(text, step.parent);
  if (!begin || !is_container(text, *begin)) return std::nullopt;
  Container parent = container_at(text, *begin);
  const std::optional<std::size_t> index = index_of(parent, text[*begin] == '{', step.part);
  return index ? std::optional{Found{std::move(parent), *index}} : std::nullopt;
}

std::optional<std::size_t> value_begin(std::string_view text, std::string_view pointer) {
  if (pointer.empty()) return document_begin(text);
  const std::optional<Found> found = find(text, pointer);
  return found ? std::optional{found->child().value} : std::nullopt;
}

template <class Value>
Value expect(std::optional<Value> value, std::string_view pointer) {
  if (!value) throw std::logic_error("no value at \"" + std::string{pointer} + "\" to change");
  return *std::move(value);
}

// How the text is laid out, as far as it shows: blanks before an entry, and between a key and its value.
struct Layout {
  std::string lead;
  std::string after_colon;
};

// Blanks before the last child; between the entries of a line where there is only one yet.
std::string lead_of(std::string_view text, const Container& container, bool spaced) {
  const std::size_t last = container.children.back().begin;
  std::size_t from = last;
  while (is_blank(text[from - 1])) --from;
  std::string lead{text.substr(from, last - from)};
  return lead.empty() && container.children.size() == 1 && spaced ? " " : lead;
}

Layout top_layout(std::string_view text) {
  const Container top = container_at(text, document_begin(text));
  if (top.children.empty()) return {"", " "};
  const Child& last = top.children.back();
  const std::string_view between = text.substr(last.begin, last.value - last.begin);
  const std::size_t colon = between.rfind(':');
  std::string after_colon{colon == std::string_view::npos ? std::string_view{" "} : between.substr(colon + 1)};
  return {lead_of(text, top, !after_colon.empty()), after_colon};
}

// One line, with blanks after commas and colons where the text has them.
std::string one_line(const Json& value, bool spaced) {
  if (!value.is_structured() || value.empty()) return value.dump();
  std::string line;
  for (const auto& entry : value.items()) {
    line += line.empty() ? "" : (spaced ? ", " : ",");
    if (value.is_object()) line += Json(entry.key()).dump() + (spaced ? ": " : ":");
    line += one_line(entry.value(), spaced);
  }
  return value.is_object() ? '{' + line + '}' : '[' + line + ']';
}

bool is_spaced(std::string_view text) { return !top_layout(text).after_colon.empty(); }

std::string member_value(const Json& value, const Layout& layout) {
  const bool spaced = !layout.after_colon.empty();
  const bool on_lines = layout.lead.find('\n') != std::string::npos;
  if (!value.is_array() || value.size() != 1 || !on_lines) return one_line(value, spaced);
  const std::string unit = layout.lead.substr(layout.lead.rfind('\n') + 1);
  return '[' + layout.lead + unit + one_line(value.front(), spaced) + layout.lead + ']';
}

std::string with_child(const std::string& text, const Container& container, const std::string& child, bool spaced) {
  if (container.children.empty()) return std::string{text}.insert(container.begin + 1, child);
  return std::string{text}.insert(container.children.back().end, ',' + lead_of(text, container, spaced) + child);
}

}  // namespace

std::optional<std::string_view> value_text(std::string_view text, std::string_view pointer) {
  const std::optional<std::size_t> begin = value_begin(text, pointer);
  if (!begin) return std::nullopt;
  return text.substr(*begin, after_value(text, *begin) - *begin);
}

std::string with_element(const std::string& text, std::string_view pointer, const Json& value) {
  const bool spaced = is_spaced(text);
  return with_child(text, container_at(text, expect(value_begin(text, pointer), pointer)), one_line(value, spaced), spaced);
}

std::string with_member(const std::string& text, std::string_view pointer, std::string_view key, const Json& value) {
  const Layout layout = top_layout(text);
  const std::string name = Json(key).dump() + ':' + layout.after_colon;
  const bool at_top = pointer.empty();
  const std::string rendered = at_top ? member_value(value, layout) : one_line(value, !layout.after_colon.empty());
  return with_child(text, container_at(text, expect(value_begin(text, pointer), pointer)), name + rendered,
                    !layout.after_colon.empty());
}

std::string with_value(const std::string& text, std::string_view pointer, const Json& value) {
  const std::size_t begin = expect(value_begin(text, pointer), pointer);
  return std::string{text}.replace(begin, after_value(text, begin) - begin, one_line(value, is_spaced(text)));
}

std::string without(const std::string& text, std::string_view pointer) {
  const Found found = expect(find(text, pointer), pointer);
  const std::vector<Child>& children = found.parent.children;
  std::size_t from = found.child().begin, to = found.child().end;
  if (found.index > 0) {
    from = children[found.index - 1].end;
  } else if (children.size() > 1) {
    to = children[1].begin;
  }
  return std::string{text}.erase(from, to - from);
}

}  // namespace heatside
