#include "report/layout.hpp"

#include <algorithm>

namespace heatside::report {

namespace {

bool continues_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }

void strip_trailing_blanks(std::string& line) {
  while (!line.empty() && line.back() == ' ') line.pop_back();
}

}  // namespace

std::size_t columns(std::string_view text) {
  return text.size() - static_cast<std::size_t>(std::count_if(text.begin(), text.end(), continues_code_point));
}

std::string wrapped(std::string_view text, std::string_view first, std::size_t width) {
  std::string result;
  std::string line{first};
  const std::string indent(columns(first), ' ');
  bool has_word = false;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    const std::string_view word = text.substr(at, end - at);
    at = end + 1;
    if (word.empty()) continue;
    if (has_word && columns(line) + 1 + columns(word) > width) {
      result += line + '\n';
      line = indent;
      has_word = false;
    }
    if (has_word) line += ' ';
    line += word;
    has_word = true;
  }
  return result + line + '\n';
}

std::string fitted(std::string_view text, std::size_t width) {
  const std::size_t wide = columns(text);
  if (wide <= width) return std::string{text} + std::string(width - wide, ' ');
  std::string cut;
  std::size_t kept = 0;
  for (const char c : text) {
    if (!continues_code_point(c) && ++kept == width) break;
    cut += c;
  }
  return cut + '.';
}

std::string table(const std::vector<std::string>& heading, const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> widths;
  for (std::size_t column = 0; column < heading.size(); ++column) {
    std::size_t width = columns(heading[column]);
    for (const auto& row : rows) width = std::max(width, columns(row[column]));
    widths.push_back(width);
  }
  std::string text;
  const auto add = [&](const std::vector<std::string>& row) {
    std::string line;
    for (std::size_t column = 0; column < row.size(); ++column) line += fitted(row[column], widths[column]) + "  ";
    strip_trailing_blanks(line);
    text += line + '\n';
  };
  add(heading);
  for (const auto& row : rows) add(row);
  return text;
}

}  // namespace heatside::report
