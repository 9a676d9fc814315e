#pragma once

/// The whole way, readable in ten seconds:
///
///     library::built_in_library()                      materials/    -> Library
///     casefile::read_case(text, name, library)         case file     -> Case
///     population::likely_estimate(job, library)        Case          -> Estimate
///         exposure::past_use, future_use                 dates         -> spans of one kind of use
///         exposure::conduction_influences                copper of the loom -> what each spot of it mixes
///         exposure::likely_year                          spot x climate x duty -> a year of temperatures
///         ageing::clock_rate                             year x compound -> clock rate
///         ageing::elongation_after, years_until          clock rates   -> elongation, remaining life
///         ageing::condition_at                           elongation    -> condition
///     report::estimate_text, _json, _csv               Estimate      -> what people and programs read

#include "heatside/casefile/read.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/estimate_report.hpp"
