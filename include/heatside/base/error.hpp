#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace heatside {

/// A number lies outside what the model can answer for. The text names the value, its unit and the rule.
class DomainError : public std::domain_error {
 public:
  using std::domain_error::domain_error;
};

/// A solver gave up. The text says which one, where, and at what tolerance.
class NumericsError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// One thing that is wrong with an input text.
struct Problem {
  std::string file;     ///< name the caller gave to the text, for example "van.case.json"
  std::string pointer;  ///< JSON pointer (RFC 6901) of the value; empty for the whole document
  std::string message;  ///< what is wrong and what is allowed
};

/// Everything that is wrong with an input text, in the order of the text. Never empty.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  [[nodiscard]] const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

/// One line for people: `file: /pointer: message`.
[[nodiscard]] std::string describe(const Problem& problem);

}  // namespace heatside
