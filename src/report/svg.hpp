#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Pieces of drawings: text that cannot break out of its place, lines, and the sheet around them. Attributes only, neither
/// style sheets nor scripts nor anything from outside, so that the strictest page may hold a drawing.

namespace heatside::report::svg {

/// Text of XML, between tags or in quotes. Control characters and those that turn the direction of what follows are left
/// out, bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// At most two places after the point, no trailing zeros: "12.5".
[[nodiscard]] std::string number(double value);

/// About how wide a text is, in units of the drawing: on the wide side for common faces.
[[nodiscard]] double width_of(std::string_view text, double size, bool bold = false);

/// `text` cut so that it takes no more than `width`; a cut ends in an ellipsis.
[[nodiscard]] std::string shortened(std::string_view text, double width, double size, bool bold = false);

/// `text` in lines of at most `width`; a word that is wider is cut. Beyond `most` lines the last one ends in an ellipsis.
[[nodiscard]] std::vector<std::string> lines_of(std::string_view text, double width, double size, std::size_t most = 99);

inline constexpr const char* ink = "#1a1a1a";       ///< text, outlines, axes
inline constexpr const char* soft_ink = "#4a4a4a";  ///< second thoughts
inline constexpr const char* rule = "#d8d8d8";      ///< lines of a grid
inline constexpr const char* paper = "#ffffff";

struct TextStyle {
  double size = 11.0;
  const char* anchor = "start";  ///< start, middle, end
  bool bold = false;
  const char* fill = ink;
};

/// One line; a text that does not fit into `room` is shortened, and the whole of it shown when one points at it.
[[nodiscard]] std::string text(double x, double y, std::string_view words, const TextStyle& style = {}, double room = 1e9);

struct Point {
  double x{}, y{};
};

/// @param look  further attributes
[[nodiscard]] std::string line(Point from, Point to, std::string_view look);
[[nodiscard]] std::string box(Point corner, double width, double height, std::string_view look);
[[nodiscard]] std::string circle(Point centre, double radius, std::string_view look);
[[nodiscard]] std::string path(std::string_view data, std::string_view look);
/// Straight from point to point: `M1 2L3 4`.
[[nodiscard]] std::string through(const std::vector<Point>& points);

/// Things that belong together, with words that are shown when one points at them.
[[nodiscard]] std::string group(std::string_view title, std::string_view inside, std::string_view look = "");

struct Block {
  std::string drawn;
  double height{};
};

/// Lines of text below each other, `at` the top left corner.
[[nodiscard]] Block paragraph(Point at, double width, std::string_view words, const TextStyle& style = {});

/// A whole drawing.
struct Sheet {
  std::string prefix;       ///< of every id in it
  std::string title;        ///< whole; it is shortened only where it is drawn
  std::string description;  ///< what it shows, for who cannot see it
  double width{}, height{};
};

/// @throws DomainError  the prefix is not a letter followed by letters, digits, - and _
[[nodiscard]] std::string drawn(const Sheet& sheet, std::string_view inside);

/// Title and a few words below it, at the top of a drawing.
[[nodiscard]] Block heading(std::string_view title, std::string_view words, double width);

}  // namespace heatside::report::svg
