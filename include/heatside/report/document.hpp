#pragma once

#include <string>
#include <variant>
#include <vector>

#include "heatside/report/estimate_report.hpp"

/// A report as a list of blocks, and how it is set: as one HTML file or as Markdown.
///
/// All texts are plain: what a user wrote cannot become markup.

namespace heatside::report {

struct Heading {
  int level = 2;  ///< 1 to 4
  std::string text;
};

struct Paragraph {
  std::string text;
  bool weighty = false;  ///< set apart
};

struct Bullets {
  std::vector<std::string> items;
};

/// What must be read before anybody acts.
struct Warnings {
  std::string title;
  std::vector<std::string> items;
};

struct Table {
  std::string caption;
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;  ///< as wide as `heads`; the first cell names the row
  bool numbers = false;                        ///< all columns but the first are aligned to the right
};

/// A drawing of our own, already SVG. Markdown has the words instead.
struct Picture {
  std::string svg;
  std::string words;
  bool large = false;  ///< a printed page of its own; others stand three to a page
};

/// What follows begins a new printed page.
struct NewPage {};

using Block = std::variant<Heading, Paragraph, Bullets, Warnings, Table, Picture, NewPage>;

struct Document {
  std::string title;
  std::vector<Block> blocks;
};

/// The style sheet of `html_text`, to be hashed for its content-security policy.
[[nodiscard]] const std::string& document_style();

/// One file that needs nothing outside itself and runs no script. A content-security policy allows its own style sheet
/// alone.
/// @param style_sha256  of `document_style()`, in base64
/// @par Source  HTML Living Standard; Content Security Policy Level 3
[[nodiscard]] std::string html_text(const Document& document, const std::string& style_sha256);

/// @par Source  CommonMark 0.30, tables as GitHub Flavored Markdown has them
[[nodiscard]] std::string markdown_text(const Document& document);

/// Format "heatside-report" version 1: the blocks in order, drawings as their words.
/// @param draws        how many stand behind the numbers
/// @param assumptions  that they rest on
[[nodiscard]] std::string document_json(const Document& document, const BirthCertificate& certificate, std::size_t draws,
                                        const std::vector<casefile::Assumption>& assumptions);

/// Text for HTML and SVG: markup characters as references, control characters left out.
[[nodiscard]] std::string escaped_markup(const std::string& text);

}  // namespace heatside::report
