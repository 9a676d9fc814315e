#pragma once

#include <optional>
#include <string>

#include "casefile/reading.hpp"

/// The parts of a case that remedies are chosen by: circuits, the remedies themselves, and what money and time are worth.

namespace heatside::casefile {

void read_circuits(Fields& top, Reading& reading);
void read_remedies(Fields& top, Reading& reading);
void read_costs(Fields& top, Reading& reading);

/// When a used part was made and when it went in here, or could; absent while they are not known to be right.
struct PartDates {
  std::optional<Date> made, fitted;
};

/// The member `donor`: the life of a part before it came here. What it leaves out is assumed and listed, and the less is
/// known, the wider is the spread of its wear.
PartPast read_donor(Fields& part, const PartDates& dates, Reading& reading);

/// Ids of segments in the member `segments`, as they stand there, none twice.
std::vector<std::string> read_segment_ids(Fields& fields, Reading& reading);

}  // namespace heatside::casefile
