#include "report/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "heatside/base/error.hpp"
#include "heatside/report/document.hpp"

namespace heatside::report::svg {

namespace {

constexpr char32_t replacement = 0xFFFD;
constexpr char32_t ellipsis = 0x2026;
constexpr double bold_wider = 1.2;
constexpr std::size_t most_drawn = 400;  // code points that one line of a drawing may have

// The next code point of a text that may hold anything; `at` moves behind it.
char32_t next_code_point(std::string_view text, std::size_t& at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(at++);
  if (first < 0x80) return first;
  const std::size_t more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : 1;
  if (first < 0xC2 || first > 0xF4 || at + more > text.size()) return replacement;
  auto point = static_cast<char32_t>(first & (0x3Fu >> more));
  for (std::size_t i = 0; i < more; ++i) {
    if ((byte(at + i) & 0xC0u) != 0x80u) return replacement;
    point = (point << 6u) | (byte(at + i) & 0x3Fu);
  }
  at += more;
  constexpr std::array<char32_t, 4> least{0, 0x80, 0x800, 0x10000};
  const bool surrogate = point >= 0xD800 && point <= 0xDFFF;
  return point < least[more] || surrogate || point > 0x10FFFF ? replacement : point;
}

std::u32string code_points(std::string_view text) {
  std::u32string points;
  for (std::size_t at = 0; at < text.size();) points += next_code_point(text, at);
  return points;
}

void append(std::string& text, char32_t point) {
  const auto add = [&](char32_t value) { text += static_cast<char>(static_cast<unsigned char>(value)); };
  if (point < 0x80) {
    add(point);
  } else if (point < 0x800) {
    add(0xC0u | (point >> 6u));
    add(0x80u | (point & 0x3Fu));
  } else if (point < 0x10000) {
    add(0xE0u | (point >> 12u));
    add(0x80u | ((point >> 6u) & 0x3Fu));
    add(0x80u | (point & 0x3Fu));
  } else {
    add(0xF0u | (point >> 18u));
    add(0x80u | ((point >> 12u) & 0x3Fu));
    add(0x80u | ((point >> 6u) & 0x3Fu));
    add(0x80u | (point & 0x3Fu));
  }
}

std::string text_of(const std::u32string& points) {
  std::string text;
  for (const char32_t point : points) append(text, point);
  return text;
}

// What XML does not allow, and what turns the direction of the words that follow.
bool is_left_out(char32_t point) {
  const bool control = (point < 0x20 && point != '\t' && point != '\n') || (point >= 0x7F && point < 0xA0);
  const bool turns = (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069) || point == 0x200E ||
                     point == 0x200F || point == 0x061C;
  return control || turns || point == 0xFFFE || point == 0xFFFF;
}

bool runs_to_the_left(char32_t point) {
  return (point >= 0x0590 && point <= 0x08FF) || (point >= 0xFB1D && point <= 0xFDFF) ||
         (point >= 0xFE70 && point <= 0xFEFC) || (point >= 0x10800 && point <= 0x10FFF) ||
         (point >= 0x1E800 && point <= 0x1EFFF);
}

// In ems, after wide common faces.
double ems(char32_t point) {
  static const std::u32string_view slim = U"ijl|!'.,:;` ()[]ftrI/\\-", wide = U"mMW@%";
  if (point >= 0x1100 && point != ellipsis && point > 0x2E7F) return 1.05;
  if (slim.find(point) != std::u32string_view::npos) return 0.38;
  if (wide.find(point) != std::u32string_view::npos) return 1.0;
  if ((point >= 'A' && point <= 'Z') || point == 'w' || point == '&' || point == '#') return 0.76;
  return point == ellipsis ? 1.0 : 0.62;
}

double width_of_points(const std::u32string& points, double size, bool bold) {
  double width = 0.0;
  for (const char32_t point : points) width += ems(point);
  return width * size * (bold ? bold_wider : 1.0);
}

std::u32string cut(const std::u32string& points, double width, double size, bool bold) {
  if (points.size() <= most_drawn && width_of_points(points, size, bold) <= width) return points;
  const double scale = size * (bold ? bold_wider : 1.0);
  std::u32string kept;
  double used = scale * ems(ellipsis);
  for (const char32_t point : points) {
    used += scale * ems(point);
    if (used > width || kept.size() + 1 >= most_drawn) break;
    kept += point;
  }
  while (!kept.empty() && kept.back() == ' ') kept.pop_back();
  return kept + ellipsis;
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string kept;
  for (std::size_t at = 0; at < text.size();) {
    const char32_t point = next_code_point(text, at);
    if (!is_left_out(point)) append(kept, point);
  }
  return escaped_markup(kept);
}

std::string number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

double width_of(std::string_view text, double size, bool bold) { return width_of_points(code_points(text), size, bold); }

std::string shortened(std::string_view text, double width, double size, bool bold) {
  return text_of(cut(code_points(text), width, size, bold));
}

std::vector<std::string> lines_of(std::string_view text, double width, double size, std::size_t most) {
  std::vector<std::string> lines;
  std::string line;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n\t", at), text.size());
    const std::string word = shortened(text.substr(at, end - at), width, size);
    at = end + 1;
    if (word.empty()) continue;
    if (!line.empty() && width_of(line + ' ' + word, size) > width) {
      if (lines.size() + 1 == most) {
        lines.push_back(shortened(line + " \u2026", width, size));
        return lines;
      }
      lines.push_back(line);
      line.clear();
    }
    line += (line.empty() ? "" : " ") + word;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::string text(double x, double y, std::string_view words, const TextStyle& style, double room) {
  const std::u32string whole = code_points(words);
  const std::u32string seen = cut(whole, room, style.size, style.bold);
  std::string shown = escaped(text_of(seen));
  // Kept apart, so that the order of what stands beside it stays.
  if (std::any_of(seen.begin(), seen.end(), runs_to_the_left)) shown = "\u2068" + shown + "\u2069";
  std::string drawn = fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"", number(x), number(y), number(style.size));
  if (std::string_view{style.anchor} != "start") drawn += fmt::format(" text-anchor=\"{}\"", style.anchor);
  if (style.bold) drawn += " font-weight=\"bold\"";
  if (std::string_view{style.fill} != ink) drawn += fmt::format(" fill=\"{}\"", style.fill);
  drawn += ">";
  if (seen != whole) drawn += "<title>" + escaped(words) + "</title>";
  return drawn + shown + "</text>\n";
}

std::string line(Point from, Point to, std::string_view look) {
  return fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>\n", number(from.x), number(from.y), number(to.x),
                     number(to.y), look);
}

std::string box(Point corner, double width, double height, std::string_view look) {
  return fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>\n", number(corner.x), number(corner.y),
                     number(width), number(height), look);
}

std::string circle(Point centre, double radius, std::string_view look) {
  return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {}/>\n", number(centre.x), number(centre.y), number(radius),
                     look);
}

std::string path(std::string_view data, std::string_view look) { return fmt::format("<path d=\"{}\" {}/>\n", data, look); }

std::string through(const std::vector<Point>& points) {
  std::string data;
  for (const Point& point : points)
    data += fmt::format("{}{} {}", data.empty() ? "M" : "L", number(point.x), number(point.y));
  return data;
}

std::string group(std::string_view title, std::string_view inside, std::string_view look) {
  return fmt::format("<g{}{}>\n<title>{}</title>\n{}</g>\n", look.empty() ? "" : " ", look, escaped(title), inside);
}

Block paragraph(Point at, double width, std::string_view words, const TextStyle& style) {
  Block block;
  for (const std::string& line : lines_of(words, width, style.size)) {
    block.drawn += text(at.x, at.y + block.height + style.size, line, style);
    block.height += 1.3 * style.size;
  }
  return block;
}

std::string drawn(const Sheet& sheet, std::string_view inside) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto fits = [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '-' || c == '_'; };
  if (sheet.prefix.empty() || !letter(sheet.prefix.front()) || !std::all_of(sheet.prefix.begin(), sheet.prefix.end(), fits))
    throw DomainError("ids of a drawing begin with a letter and hold letters, digits, - and _ only, not \"" + sheet.prefix +
                      "\"");
  return fmt::format(
             "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" height=\"{1}\" role=\"img\" "
             "aria-labelledby=\"{2}-title {2}-desc\" font-family=\"Helvetica, Arial, sans-serif\" font-size=\"11\" "
             "fill=\"{3}\">\n<title id=\"{2}-title\">{4}</title>\n<desc id=\"{2}-desc\">{5}</desc>\n",
             number(sheet.width), number(sheet.height), sheet.prefix, ink, escaped(sheet.title),
             escaped(sheet.description)) +
         box({0.0, 0.0}, sheet.width, sheet.height, fmt::format("fill=\"{}\"", paper)) + std::string{inside} + "</svg>\n";
}

Block heading(std::string_view title, std::string_view words, double width) {
  constexpr double margin = 10.0;
  Block block{"", 6.0};
  for (const std::string& line : lines_of(title, (width - 2.0 * margin) / bold_wider, 13.0, 2)) {
    block.drawn += text(margin, block.height + 13.0, line, {.size = 13.0, .bold = true});
    block.height += 16.0;
  }
  block.height += 3.0;
  const Block more = paragraph({margin, block.height}, width - 2.0 * margin, words, {.size = 10.5, .fill = soft_ink});
  return {block.drawn + more.drawn, block.height + more.height + 4.0};
}

}  // namespace heatside::report::svg
