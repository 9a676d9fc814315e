#pragma once

#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

/// Reads a drawing the way a strict page would: anything that is not well-formed throws.

namespace heatside::report::testing {

struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;                   ///< of its own, without that of elements in it
  std::optional<std::size_t> parent;  ///< number in the list
  [[nodiscard]] double number(const std::string& key) const { return std::stod(attributes.at(key)); }
};

class SvgReader {
 public:
  explicit SvgReader(const std::string& text) : text_{text} {}

  /// All elements in the order in which they begin.
  [[nodiscard]] std::vector<Element> elements() {
    while (at_ < text_.size()) {
      if (text_[at_] == '<') {
        read_tag();
      } else {
        const char c = read_character();
        if (!open_.empty()) {
          list_[open_.back()].text += c;
        } else if (c != '\n') {
          fail("text outside the drawing");
        }
      }
    }
    if (!open_.empty() || list_.empty()) fail("not closed");
    return std::move(list_);
  }

 private:
  [[noreturn]] void fail(const std::string& why) const {
    throw std::runtime_error(why + " at " + std::to_string(at_) + ": " + text_.substr(at_ > 40 ? at_ - 40 : 0, 80));
  }
  void expect(char c) {
    if (at_ >= text_.size() || text_[at_] != c) fail(std::string{"expected "} + c);
    ++at_;
  }
  char read_character() {
    const char c = text_[at_];
    if (c == '<' || (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t')) fail("raw character");
    if (c != '&') return ++at_, c;
    static const std::map<std::string, char> entities{
        {"&lt;", '<'}, {"&gt;", '>'}, {"&amp;", '&'}, {"&quot;", '"'}, {"&#39;", '\''}};
    const std::string name = text_.substr(at_, text_.find(';', at_) - at_ + 1);
    const auto found = entities.find(name);
    if (found == entities.end()) fail("unknown entity");
    at_ += name.size();
    return found->second;
  }
  std::string read_name() {
    const std::size_t from = at_;
    while (at_ < text_.size() && std::string_view{" \n=/>"}.find(text_[at_]) == std::string_view::npos) ++at_;
    if (at_ == from) fail("a name is missing");
    return text_.substr(from, at_ - from);
  }
  void read_tag() {
    expect('<');
    if (text_[at_] == '/') {
      ++at_;
      const std::string name = read_name();
      expect('>');
      if (open_.empty() || list_[open_.back()].name != name) fail("closes another element");
      open_.pop_back();
      return;
    }
    if (open_.empty() && !list_.empty()) fail("a second root");
    Element element{read_name(), {}, "", open_.empty() ? std::nullopt : std::optional{open_.back()}};
    while (text_[at_] == ' ' || text_[at_] == '\n') {
      ++at_;
      if (text_[at_] == '/' || text_[at_] == '>') break;
      const std::string key = read_name();
      expect('=');
      expect('"');
      std::string value;
      while (at_ < text_.size() && text_[at_] != '"') value += read_character();
      expect('"');
      if (!element.attributes.emplace(key, value).second) fail("an attribute twice");
    }
    list_.push_back(element);
    if (text_[at_] == '/') {
      ++at_;
    } else {
      open_.push_back(list_.size() - 1);
    }
    expect('>');
  }

  const std::string& text_;
  std::size_t at_ = 0;
  std::vector<Element> list_;
  std::vector<std::size_t> open_;
};

inline std::vector<Element> elements_of(const std::string& svg) { return SvgReader{svg}.elements(); }

/// Elements of a name, and with a text where one is given.
inline std::vector<Element> named(const std::vector<Element>& all, const std::string& name, const std::string& text = "") {
  std::vector<Element> some;
  for (const Element& element : all) {
    if (element.name == name && (text.empty() || element.text == text)) some.push_back(element);
  }
  return some;
}

}  // namespace heatside::report::testing
