#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace heatside {

namespace {

// Edit distance with swaps of neighbours (optimal string alignment), in three rolling rows.
std::size_t edits_between(std::string_view a, std::string_view b) {
  std::vector<std::size_t> two_back(b.size() + 1), back(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) back[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = back[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({replaced, back[j] + 1, row[j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], two_back[j - 2] + 1);
    }
    std::swap(two_back, back);
    std::swap(back, row);
  }
  return back[b.size()];
}

std::string bare(std::string_view word) {
  std::string letters;
  for (const char c : word) {
    if (c != ' ' && c != '-' && c != '_') letters += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return letters;
}

}  // namespace

std::string nearest_word(std::string_view word, const std::vector<std::string>& known) {
  // Spelled the same but for blanks and capitals: that is what was meant.
  for (const std::string& candidate : known) {
    if (bare(candidate) == bare(word)) return candidate;
  }
  // A third of the letters may be wrong; more than that is another word.
  std::size_t fewest = std::max<std::size_t>(1, word.size() / 3) + 1;
  std::string nearest;
  if (word.size() > 100) return nearest;
  for (const std::string& candidate : known) {
    const std::size_t edits = edits_between(word, candidate);
    if (edits < fewest) {
      fewest = edits;
      nearest = candidate;
    }
  }
  return nearest;
}

std::string join(const std::vector<std::string>& words, std::string_view separator) {
  return fmt::format("{}", fmt::join(words, separator));
}

std::string plain_number(double value, int digits) {
  const double size = std::abs(value);
  // What is no number, or needs an exponent, has no place for a decimal point to be found.
  if (!std::isfinite(value) || (size != 0.0 && (size < 1.0e-5 || size >= 1.0e15)))
    return fmt::format("{:.{}g}", value, digits);
  const int leading = size == 0.0 ? 0 : static_cast<int>(std::floor(std::log10(size)));
  std::string text = fmt::format("{:.{}f}", value, std::max(0, digits - 1 - leading));
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text;
}

}  // namespace heatside
