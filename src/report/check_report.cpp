#include "heatside/report/check_report.hpp"

#include <fmt/format.h>

#include "base/strict_json.hpp"
#include "report/json_parts.hpp"
#include "report/layout.hpp"

namespace heatside::report {

std::string problems_text(const std::vector<CheckedFile>& files) {
  std::string text;
  for (const CheckedFile& file : files) {
    for (const Problem& problem : file.problems) text += describe(problem) + '\n';
  }
  return text.empty() ? text : text + "Nothing was changed.\n";
}

std::string check_text(const std::vector<CheckedFile>& files) {
  std::string text;
  for (const CheckedFile& file : files) {
    if (!file.problems.empty()) {
      text += fmt::format("{}: {} error{}\n", file.file, file.problems.size(), file.problems.size() == 1 ? "" : "s");
      continue;
    }
    text += fmt::format("{}: {} without errors, {} assumption{}\n", file.file, file.kind, file.assumptions.size(),
                        file.assumptions.size() == 1 ? "" : "s");
    for (const casefile::Assumption& assumption : file.assumptions) {
      text += wrapped(fmt::format("{} [{}{}{}]", assumption.text, name_of(assumption.grade),
                                  assumption.pointer.empty() ? "" : ", ", assumption.pointer),
                      "  - ");
    }
    for (const std::string& part : file.unused) text += wrapped(part, "  not computed with: ");
  }
  return text;
}

std::string check_json(const std::vector<CheckedFile>& files, const std::string& engine) {
  Json list = Json::array();
  for (const CheckedFile& file : files) {
    Json problems = Json::array(), assumptions = Json::array();
    for (const Problem& problem : file.problems) problems.push_back({{"at", problem.pointer}, {"text", problem.message}});
    for (const casefile::Assumption& assumption : file.assumptions) {
      assumptions.push_back({{"at", assumption.pointer}, {"text", assumption.text}, {"grade", name_of(assumption.grade)}});
    }
    list.push_back({{"file", file.file},
                    {"kind", file.kind},
                    {"problems", problems},
                    {"assumptions", assumptions},
                    {"not_computed_with", file.unused}});
  }
  const Json document{{"format", "heatside-check"}, {"version", 1}, {"engine", engine}, {"files", list}};
  return document_text(document);
}

}  // namespace heatside::report
