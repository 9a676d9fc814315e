#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "report/svg.hpp"
#include "svg_reading.hpp"

/// What holds for every drawing.

namespace heatside::report::testing {

struct Box {
  double left, right, top, bottom;
};

/// About where a line of text lies.
inline Box box_of(const Element& text) {
  const double size = text.number("font-size");
  const double width = svg::width_of(text.text, size, text.attributes.contains("font-weight"));
  const double x = text.number("x"), y = text.number("y");
  const std::string anchor = text.attributes.contains("text-anchor") ? text.attributes.at("text-anchor") : "start";
  const double left = anchor == "start" ? x : anchor == "end" ? x - width : x - 0.5 * width;
  return {left, left + width, y - 0.75 * size, y + 0.2 * size};
}

inline bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/// Rules of this project: own roots for ids, nothing from outside, no style and no script (Content Security Policy Level 3
/// of the W3C lets no `style` attribute through where `unsafe-inline` is not allowed), words for who cannot see it.
inline std::vector<Element> checked_drawing(const std::string& svg, const std::string& prefix) {
  const std::vector<Element> all = elements_of(svg);
  const Element& root = all.front();
  CHECK(root.name == "svg");
  CHECK(root.attributes.at("role") == "img");
  CHECK(root.attributes.at("viewBox") == "0 0 " + root.attributes.at("width") + " " + root.attributes.at("height"));
  CHECK(all.at(1).name == "title");
  CHECK(all.at(2).name == "desc");
  CHECK(all.at(2).text.size() > 40);
  CHECK(root.attributes.at("aria-labelledby") == all[1].attributes.at("id") + " " + all[2].attributes.at("id"));

  static const std::set<std::string> allowed{"svg",  "title", "desc",   "g",    "text",    "line",
                                             "rect", "path",  "circle", "defs", "pattern", "clipPath"};
  static const std::regex local{"url\\(#([A-Za-z0-9_-]+)\\)"};
  std::set<std::string> ids, used;
  const double width = root.number("width"), height = root.number("height");
  for (const Element& element : all) {
    CAPTURE(element.name, element.text);
    if (!allowed.contains(element.name)) FAIL_CHECK("an element that drawings do not have");
    for (const auto& [key, value] : element.attributes) {
      std::smatch match;
      const bool refers = value.find("url") != std::string::npos;
      if (refers && std::regex_match(value, match, local)) used.insert(match[1]);
      const bool outside =
          key == "style" || key.starts_with("on") || key.find("href") != std::string::npos || (refers && match.empty());
      const bool no_number = value.find("nan") != std::string::npos || value.find("inf") != std::string::npos;
      const bool bad_id = key == "id" && !(value.starts_with(prefix + "-") && ids.insert(value).second);
      if (outside || no_number || bad_id) FAIL_CHECK(key + "=" + value);
    }
    if (element.name == "text") {
      const Box box = box_of(element);
      const bool within = box.left >= 0.0 && box.right <= width + 2.0 && box.top >= 0.0 && box.bottom <= height;
      if (!within) FAIL_CHECK("words beyond the sheet");
    }
  }
  for (const std::string& id : used) CHECK(ids.contains(id));
  static const std::regex never{"\\b(safe|pass|passed)\\b"};
  CHECK_FALSE(std::regex_search(svg, never));
  return all;
}

/// No two lines of text lie on each other.
inline void check_words_apart(const std::vector<Element>& all) {
  std::vector<Element> texts = named(all, "text");
  std::sort(texts.begin(), texts.end(), [](const Element& a, const Element& b) { return a.number("y") < b.number("y"); });
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Box one = box_of(texts[i]);
    for (std::size_t j = i + 1; j < texts.size() && texts[j].number("y") < texts[i].number("y") + 30.0; ++j) {
      if (overlap(one, box_of(texts[j]))) FAIL_CHECK(texts[i].text + " | " + texts[j].text);
    }
  }
}

/// A place read off an axis: the ticks whose words are given, and what lies between them by a bend of the scale.
struct Reading {
  double value_a, place_a, value_b, place_b;
  template <class Bend>
  [[nodiscard]] double place(double value, Bend bend) const {
    return place_a + (bend(value) - bend(value_a)) / (bend(value_b) - bend(value_a)) * (place_b - place_a);
  }
};

}  // namespace heatside::report::testing
