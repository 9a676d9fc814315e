#include "heatside/base/error.hpp"

#include <utility>

namespace heatside {

namespace {

std::string describe_all(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += '\n';
    text += describe(problem);
  }
  return text;
}

}  // namespace

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(describe_all(problems)), problems_(std::move(problems)) {}

std::string describe(const Problem& problem) {
  std::string text = problem.file;
  if (!problem.pointer.empty()) text += (text.empty() ? "" : ": ") + problem.pointer;
  return text + (text.empty() ? "" : ": ") + problem.message;
}

}  // namespace heatside
