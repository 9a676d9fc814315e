#include <fmt/format.h>

#include "casefile/dates.hpp"
#include "casefile/remedies.hpp"

namespace heatside::casefile {

namespace {

Copper read_copper(Fields& fields, Reading& reading) {
  const auto word = fields.optional_choice("copper", {"bare", "tinned"});
  if (!word) {
    reading.assume(fields.pointer("copper"), "bare copper strands; look at a cut end and write bare or tinned");
  }
  return word.value_or("bare") == "bare" ? Copper::bare : Copper::tinned;
}

void settle_replaced_loom(std::optional<Date>& made, std::optional<Date>& fitted, const std::string& pointer,
                          Reading& reading) {
  expect_order(reading.built, fitted, pointer + "/fitted", "fitted before the vehicle was built", reading);
  expect_before(fitted, reading.inspected, pointer + "/fitted", "fitted after the inspection", reading);
  expect_before(made, fitted, pointer + "/made", "made after it was fitted", reading);
}

void settle_original_loom(std::optional<Date>& made, const std::string& pointer, Reading& reading) {
  if (!made || !reading.entered_service) return;
  if (certainly_after(*made, *reading.entered_service)) {
    reading.complain(pointer + "/made",
                     fmt::format("made at {}, after the vehicle entered service at {}: a replaced loom "
                                 "needs \"fitted\"",
                                 format_date_as_known(*made), format_date_as_known(*reading.entered_service)));
    return;
  }
  expect_before(made, reading.entered_service, pointer + "/made", "made after the vehicle entered service", reading);
}

std::optional<Date> assumed_make(const std::optional<Date>& fitted, const std::string& pointer, Reading& reading) {
  reading.assume(pointer + "/made", fitted ? "made shortly before it was fitted; look for a date code and write its date"
                                           : "made as the vehicle was built; look for a date code and write its date");
  return fitted ? fitted : reading.built;
}

void read_dates(Fields& fields, Loom& loom, Reading& reading) {
  const bool is_replaced = fields.has("fitted");
  std::optional<Date> made = read_optional_date(fields, "made", reading);
  std::optional<Date> fitted = read_optional_date(fields, "fitted", reading);
  if (is_replaced) {
    settle_replaced_loom(made, fitted, fields.pointer(), reading);
  } else {
    settle_original_loom(made, fields.pointer(), reading);
  }
  if (!fields.has("made")) made = assumed_make(fitted, fields.pointer(), reading);
  if (!is_replaced) fitted = reading.entered_service;
  // Where a date is wrong the case is refused; what stands here then is never seen.
  loom.made = made.value_or(Date{});
  loom.fitted = fitted.value_or(Date{});
  if (!fields.has("donor")) return;
  if (is_replaced) {
    loom.elsewhere = read_donor(fields, {fields.has("made") ? made : std::nullopt, fitted}, reading);
  } else {
    fields.complain("", "\"fitted\" is missing: a used part, with a \"donor\", went in on some day");
  }
}

Loom read_loom(Fields fields, std::size_t index, Reading& reading) {
  Loom loom;
  loom.id = read_id(fields, reading.looms, index);
  loom.name = read_name(fields, loom.id);
  read_dates(fields, loom, reading);
  loom.date_code = fields.optional_text("date_code").value_or("");
  loom.copper = read_copper(fields, reading);
  const bool has_region = fields.find("region") != nullptr;
  loom.region = has_region ? read_record_id(fields, "region", "region", reading.library.eras) : reading.result.region;
  fields.find("donor");
  fields.optional_text("note");
  fields.refuse_unknown();
  return loom;
}

}  // namespace

void read_looms(Fields& top, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const std::vector<Fields> looms = read_list(top, "looms", 1, reading.looms);
  for (std::size_t i = 0; i < looms.size(); ++i) reading.result.looms.push_back(read_loom(looms[i], i, reading));
  reading.looms_are_sound =
      reading.problems.size() == before && reading.built && reading.entered_service && !reading.result.region.empty();
}

}  // namespace heatside::casefile
