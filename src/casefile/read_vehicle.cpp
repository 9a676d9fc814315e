#include "casefile/dates.hpp"
#include "casefile/reading.hpp"

namespace heatside::casefile {

namespace {

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

}  // namespace heatside::casefile
