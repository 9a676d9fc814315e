#pragma once

#include <string>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/reliance.hpp"
#include "heatside/report/estimate_report.hpp"

/// Pieces that several JSON documents share.

namespace heatside::report {

/// `{"running": ..., "soak": ..., "parked": ...}`
[[nodiscard]] Json regimes_json(const exposure::PerRegime& parts);

/// `[{"at": pointer, "text": ..., "grade": ...}]`
[[nodiscard]] Json assumptions_json(const std::vector<casefile::Assumption>& assumptions);

/// `[{"kind": ..., "id": ..., "name": ..., "weakest_grade": ..., "soft": ...}]`
[[nodiscard]] Json reliance_json(const std::vector<library::Reliance>& records);

/// What a document on a case begins with: its format, and what it was made by and from.
[[nodiscard]] Json made_head(const char* format, const BirthCertificate& certificate);

/// The same with the title of the case.
[[nodiscard]] Json case_head(const char* format, const BirthCertificate& certificate, const casefile::Case& job);

/// A document as text: two blanks a level, and a line end after it.
[[nodiscard]] std::string document_text(const Json& document);

}  // namespace heatside::report
