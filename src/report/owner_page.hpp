#pragma once

#include "heatside/report/owner_report.hpp"

namespace heatside::report {

/// The owner's page: what was found, what is advised, what is not claimed.
void add_owner_page(const ReportInput& input, Document& document);

/// Everything that the page rests on.
void add_annex(const ReportInput& input, Document& document);

/// "560 to 1 240 EUR", or minutes of work where the case names no currency.
[[nodiscard]] std::string money_range(const remedy::Worth& worth, double low, double high);
[[nodiscard]] std::string money(const remedy::Worth& worth, double amount);

/// Name of a remedy as the case has it, or that of its kind.
[[nodiscard]] std::string remedy_name(const library::Library& library, const remedy::Offer& offer);

}  // namespace heatside::report
