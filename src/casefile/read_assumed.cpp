#include <fmt/format.h>

#include <algorithm>

#include "casefile/place.hpp"
#include "casefile/reading.hpp"
#include "heatside/casefile/start.hpp"

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

// What a started case says of its compounds while its first lot has one stated by now.
bool is_overtaken(const Assumption& assumption, const Reading& reading) {
  return assumption.text.rfind(compounds_unknown, 0) == 0 && has_value(reading.document, assumption.pointer);
}

}  // namespace

void read_assumed(Fields& top, Reading& reading, std::vector<Assumption>& listed) {
  for (const Fields& fields : top.optional_objects("assumed")) {
    Assumption assumption = read_assumption(fields, reading);
    if (is_overtaken(assumption, reading)) {
      reading.result.unused.push_back(fmt::format("{}, as {} says: {} is stated by now, so take the entry out",
                                                  "the unknown compounds", fields.pointer(), assumption.pointer));
    } else {
      listed.push_back(std::move(assumption));
    }
  }
}

}  // namespace heatside::casefile
