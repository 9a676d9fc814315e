#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/base/date.hpp"
#include "heatside/base/error.hpp"

namespace heatside {

/// Numbers from `low` to `high`, both allowed, in `unit`.
struct Range {
  double low;
  double high;
  std::string_view unit;
};

/// Reads the members of one JSON object and writes down everything that is wrong with them.
///
/// A reading function never throws on bad content: it notes a Problem and returns a stand-in, so that one run finds all
/// problems of a text. Whoever owns the list of problems throws InputError at the end; stand-ins never leave the reader.
class Fields {
 public:
  /// @param value    what should be an object; anything else is noted as a problem and reads as empty
  /// @param pointer  JSON pointer of `value`
  Fields(const Json& value, std::string pointer, const std::string& file, std::vector<Problem>& problems);

  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] std::string pointer(std::string_view key) const { return child_pointer(pointer_, key); }
  [[nodiscard]] const std::string& pointer() const { return pointer_; }

  /// The member, or null when absent; its key counts as known from here on.
  const Json* find(std::string_view key);
  /// The member; absent is a problem.
  const Json* require(std::string_view key);

  double number(std::string_view key, Range range);
  std::optional<double> optional_number(std::string_view key, Range range);
  std::size_t count(std::string_view key, std::size_t low, std::size_t high);
  std::optional<std::size_t> optional_count(std::string_view key, std::size_t low, std::size_t high);
  bool flag(std::string_view key);
  std::optional<bool> optional_flag(std::string_view key);
  /// Not empty, without control characters.
  std::string text(std::string_view key);
  std::optional<std::string> optional_text(std::string_view key);
  /// One word of `allowed`; another one is a problem that names the nearest.
  std::string choice(std::string_view key, const std::vector<std::string>& allowed);
  std::optional<std::string> optional_choice(std::string_view key, const std::vector<std::string>& allowed);
  Date date(std::string_view key);
  std::optional<Date> optional_date(std::string_view key);

  /// A nested object; absent is a problem.
  Fields object(std::string_view key);
  std::optional<Fields> optional_object(std::string_view key);
  /// The elements of an array of objects; absent is a problem, and so are fewer than `at_least`.
  std::vector<Fields> objects(std::string_view key, std::size_t at_least);
  std::vector<Fields> optional_objects(std::string_view key);

  /// Notes a problem at a member, or at this object when `key` is empty.
  void complain(std::string_view key, std::string message);

  /// Notes every key that nobody asked for, with the nearest known one. Call it last.
  void refuse_unknown();

 private:
  const Json* object_;
  std::string pointer_;
  const std::string* file_;
  std::vector<Problem>* problems_;
  std::vector<std::string> known_;
};

/// "expected X, found Y" in plain words: `found` names the JSON type.
[[nodiscard]] std::string describe_type(const Json& value);

/// "unknown WHAT "x"; nearest is "y"; allowed: ..." (the list only while it is short).
[[nodiscard]] std::string unknown_word(std::string_view what, std::string_view word,
                                       const std::vector<std::string>& allowed);

}  // namespace heatside
