#include <fmt/format.h>

#include <algorithm>

#include "casefile/dates.hpp"
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

// A date that is wrong against an earlier one is forgotten, so that it is not held against others as well.
void settle_life(Reading& reading) {
  if (!expect_order(reading.built, reading.entered_service, "/vehicle/entered_service",
                    "the vehicle entered service before it was built", reading)) {
    reading.entered_service.reset();
  }
  if (!expect_order(reading.entered_service, reading.inspected, "/inspected", "inspected before the vehicle entered service",
                    reading) ||
      !expect_order(reading.built, reading.inspected, "/inspected", "inspected before the vehicle was built", reading)) {
    reading.inspected.reset();
  }
}

}  // namespace

void read_vehicle(Fields& top, Reading& reading) {
  Fields vehicle = top.object("vehicle");
  reading.built = read_date(vehicle, "built", reading);
  reading.entered_service = read_optional_date(vehicle, "entered_service", reading);
  reading.result.region = read_record_id(vehicle, "region", "region", reading.library.eras);
  reading.result.odometer_km = vehicle.optional_number("odometer_km", {0.0, 3.0e6, "km"});
  vehicle.refuse_unknown();

  reading.inspected = read_date(top, "inspected", reading);
  settle_life(reading);
}

void read_assumed(Fields& top, Reading& reading, std::vector<Assumption>& listed) {
  for (const Fields& fields : top.optional_objects("assumed")) listed.push_back(read_assumption(fields, reading));
}

}  // namespace heatside::casefile
