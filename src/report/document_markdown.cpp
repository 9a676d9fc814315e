#include <fmt/format.h>

#include <string_view>

#include "heatside/report/document.hpp"

namespace heatside::report {

namespace {

// Every punctuation mark that could begin markup is escaped, and a text is one line.
std::string plain(const std::string& text) {
  constexpr std::string_view marks = "\\`*_{}[]<>()#+-.!|~&";
  std::string escaped;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
      escaped += ' ';
      continue;
    }
    // Full stops, hyphens, plus signs and brackets only matter where a line begins.
    const bool harmless = std::string_view{".-+()!"}.find(c) != std::string_view::npos && i > 3;
    if (marks.find(c) != std::string_view::npos && !harmless) escaped += '\\';
    escaped += c;
  }
  return escaped;
}

std::string list_markdown(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += "- " + plain(item) + '\n';
  return text + '\n';
}

std::string row_markdown(const std::vector<std::string>& cells) {
  std::string text = "|";
  for (const std::string& cell : cells) text += ' ' + plain(cell) + " |";
  return text + '\n';
}

struct Setter {
  std::string text;

  void operator()(const Heading& heading) {
    text += std::string(static_cast<std::size_t>(heading.level), '#') + ' ' + plain(heading.text) + "\n\n";
  }
  void operator()(const Paragraph& paragraph) {
    const std::string words = plain(paragraph.text);
    text += (paragraph.weighty && !words.empty() ? "**" + words + "**" : words) + "\n\n";
  }
  void operator()(const Bullets& bullets) { text += list_markdown(bullets.items); }
  void operator()(const Warnings& warnings) {
    text += "**" + plain(warnings.title) + "**\n\n" + list_markdown(warnings.items);
  }
  void operator()(const Table& table) {
    text += plain(table.caption) + "\n\n" + row_markdown(table.heads) + '|';
    for (std::size_t i = 0; i < table.heads.size(); ++i) text += table.numbers && i > 0 ? " ---: |" : " --- |";
    text += '\n';
    for (const std::vector<std::string>& row : table.rows) text += row_markdown(row);
    text += '\n';
  }
  void operator()(const Picture& picture) { text += "Picture: " + plain(picture.words) + "\n\n"; }
  void operator()(const NewPage&) { text += "---\n\n"; }
};

}  // namespace

std::string markdown_text(const Document& document) {
  Setter setter;
  for (const Block& block : document.blocks) std::visit(setter, block);
  return setter.text;
}

}  // namespace heatside::report
