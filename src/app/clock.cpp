#include "app/clock.hpp"

#include <fmt/format.h>

#include <chrono>

namespace heatside::app {

namespace {

using std::chrono::floor;
using std::chrono::system_clock;

}  // namespace

Date today() { return exact_date(floor<std::chrono::days>(system_clock::now())); }

std::string now_text() {
  const auto now = floor<std::chrono::seconds>(system_clock::now());
  const auto day = floor<std::chrono::days>(now);
  const std::chrono::hh_mm_ss time{now - day};
  return fmt::format("{}T{:02}:{:02}:{:02}Z", format_date(exact_date(day)), time.hours().count(), time.minutes().count(),
                     time.seconds().count());
}

}  // namespace heatside::app
