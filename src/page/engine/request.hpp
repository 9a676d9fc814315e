#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/strict_json.hpp"

namespace heatside::page {

/// The case that a request is about.
struct CaseText {
  std::string name;                          ///< of its file
  std::string text;                          ///< of the case
  std::map<std::string, std::string> files;  ///< texts of loggers' files beside it, by name
  bool operator==(const CaseText&) const = default;
};

/// How many draws, which ones, and for which dates beside today.
struct DrawChoice {
  std::size_t draws = 10000;
  std::uint64_t seed = 0;
  std::vector<std::string> at;
};

/// A request of the page, read member by member. What is missing or of another kind is an `InputError` that names the
/// member.
class Request {
 public:
  /// @throws InputError  no JSON object
  explicit Request(std::string_view text);

  [[nodiscard]] bool has(const char* key) const;
  [[nodiscard]] std::string text(const char* key) const;
  [[nodiscard]] std::string text_or(const char* key, std::string fallback) const;
  [[nodiscard]] std::optional<double> number(const char* key, double low, double high) const;
  [[nodiscard]] bool flag(const char* key) const;                       ///< absent: false
  [[nodiscard]] std::vector<std::string> texts(const char* key) const;  ///< absent: none
  [[nodiscard]] Request part(const char* key) const;

  [[nodiscard]] CaseText case_text() const;
  [[nodiscard]] DrawChoice draw_choice() const;

  /// @throws InputError  always: what is wrong with a member
  [[noreturn]] void refuse(const std::string& key, const std::string& what) const;

 private:
  Request(Json document, std::string pointer);
  [[nodiscard]] const Json* find(const char* key) const;
  [[nodiscard]] const Json& get(const char* key) const;

  Json document_;
  std::string pointer_;
};

}  // namespace heatside::page
