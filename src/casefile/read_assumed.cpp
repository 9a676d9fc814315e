#include <fmt/format.h>

#include <algorithm>

#include "casefile/place.hpp"
#include "casefile/reading.hpp"

namespace heatside::casefile {

namespace {

Grade read_grade(Fields& fields) {
  const std::string word = fields.choice("grade", {grade_names.begin(), grade_names.end()});
  const auto place = std::find(grade_names.begin(), grade_names.end(), word);
  return static_cast<Grade>(place - grade_names.begin());
}

Assumption read_assumption(Fields fields, const Reading& reading) {
  Assumption assumption;
  assumption.pointer = fields.text("at");
  if (!assumption.pointer.empty() && !has_place(reading.document, assumption.pointer)) {
    fields.complain("at", fmt::format("\"{}\" leads nowhere in this case; expected a JSON pointer such as /service/0/duty",
                                      assumption.pointer));
  }
  assumption.text = fields.text("text");
  assumption.grade = read_grade(fields);
  fields.refuse_unknown();
  return assumption;
}

}  // namespace

void read_assumed(Fields& top, Reading& reading, std::vector<Assumption>& listed) {
  for (const Fields& fields : top.optional_objects("assumed")) listed.push_back(read_assumption(fields, reading));
}

}  // namespace heatside::casefile
