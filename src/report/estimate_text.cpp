#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/estimate_report.hpp"
#include "report/layout.hpp"
#include "report/measured_report.hpp"

namespace heatside::report {

namespace {

using population::Estimate;
using population::SegmentEstimate;

// "in 12 a", "8 a ago", "> 40 a": short enough for a column.
std::string remaining_in_short(Years remaining, double cap) {
  const double years = remaining.value();
  if (years > cap) return fmt::format("> {:.0f} a", cap);
  if (years < -cap) return "long ago";
  const double rounded = std::round(std::abs(years));
  if (rounded == 0.0) return "now";
  return years < 0.0 ? fmt::format("{:.0f} a ago", rounded) : fmt::format("in {:.0f} a", rounded);
}

std::string cut(std::string_view text, std::size_t width) {
  return columns(text) <= width ? std::string{text} : fitted(text, width);
}

// The id whole, and as many words of the name as fit behind it.
std::string id_and_name(const SegmentEstimate& segment, std::size_t width) {
  std::string text = cut(segment.id, width);
  if (segment.name == segment.id) return text;
  for (std::size_t at = 0; at < segment.name.size();) {
    const std::size_t end = std::min(segment.name.find_first_of(" \n\t", at), segment.name.size());
    const std::string word = segment.name.substr(at, end - at);
    at = end + 1;
    if (columns(text) + 1 + columns(word) > width) break;
    text += ' ' + word;
  }
  return text;
}

std::string segment_table(const Estimate& estimate, const library::Library& library) {
  const double cap = library.model.report.plain_words_cap.value;
  constexpr std::size_t name_width = 28, zone_width = 17, compound_width = 18;
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate& segment : estimate.segments) {
    rows.push_back({id_and_name(segment, name_width), cut(segment.zone, zone_width),
                    cut(segment.insulation + (segment.compound_known ? "" : "?"), compound_width),
                    std::string{ageing::name_of(segment.most_likely)}, remaining_in_short(segment.flex_cracks.p50, cap),
                    remaining_in_short(segment.cracked.p50, cap)});
  }
  return table({"segment", "worst zone", "insulation", "now", "handled", "at rest"}, rows);
}

// "now", "3", "-12": years for a narrow column.
std::string years_in_column(Years remaining, double cap) {
  const double years = remaining.value();
  if (years > cap) return fmt::format("> {:.0f}", cap);
  if (years < -cap) return fmt::format("< -{:.0f}", cap);
  return fmt::format("{:.0f}", std::round(years) + 0.0);
}

// With draws: chances and three quantiles.
std::string drawn_table(const Estimate& estimate, const library::Library& library) {
  const double cap = library.model.report.plain_words_cap.value;
  constexpr std::size_t name_width = 26, zone_width = 16;
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate& segment : estimate.segments) {
    const auto& handled = segment.flex_cracks;
    rows.push_back(
        {id_and_name(segment, name_width), cut(segment.zone, zone_width), std::string{ageing::name_of(segment.most_likely)},
         fmt::format("{:.0f} %", 100.0 * segment.chance_cracked()),
         fmt::format("{:.0f} %", in_percent(segment.elongation.p50)), years_in_column(handled.p10, cap),
         years_in_column(handled.p50, cap), years_in_column(handled.p90, cap), years_in_column(segment.cracked.p50, cap)});
  }
  return table({"segment", "worst zone", "now", "cracked", "elong.", "10 %", "half", "90 %", "at rest"}, rows);
}

std::string drawn_legend(const Estimate& estimate, double cap) {
  return wrapped(
      fmt::format("Weakest first; {} draws, seed {}. now: the likeliest condition by heat, from supple over stiff, "
                  "flex-cracks (cracks when "
                  "handled) and cracked (as it lies) to crumbling. cracked: chance that it is cracked or worse by now. "
                  "elong.: elongation at break that is left, the middle of the draws. 10 %, half, 90 %: years from the "
                  "inspection by which so many of the draws crack when handled, below 0 that long ago; at rest: half of "
                  "them crack as they lie. Beyond {:.0f} years other causes come first.",
                  estimate.draws, estimate.seed, cap),
      "");
}

// "two thirds", "a tenth"
std::string share_in_words(double share) {
  struct Step {
    double up_to;
    const char* words;
  };
  constexpr std::array<Step, 9> steps{{{0.075, "a twentieth"},
                                       {0.14, "a tenth"},
                                       {0.225, "a fifth"},
                                       {0.29, "a quarter"},
                                       {0.42, "a third"},
                                       {0.58, "half"},
                                       {0.71, "two thirds"},
                                       {0.85, "three quarters"},
                                       {1.01, "nearly all"}}};
  return std::find_if(steps.begin(), steps.end() - 1, [&](const Step& step) { return share <= step.up_to; })->words;
}

std::string spread_text(const Estimate& estimate) {
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate& segment : estimate.segments) {
    std::string words;
    for (std::size_t i = 0; i < segment.spread.size() && i < 3; ++i) {
      const population::SpreadShare& part = segment.spread[i];
      if (part.share < 0.04 || part.cause == "together") continue;
      const std::string more = share_in_words(part.share) + " " + part.cause;
      constexpr std::size_t widest = 60;
      if (words.size() + more.size() > widest) break;
      words += (words.empty() ? "" : ", ") + more;
    }
    const auto together = std::find_if(segment.spread.begin(), segment.spread.end(),
                                       [](const population::SpreadShare& part) { return part.cause == "together"; });
    const bool much = together != segment.spread.end() && together->share >= 0.04;
    rows.push_back({cut(segment.id, 26), words, much ? fmt::format("{:.0f} %", 100.0 * together->share) : ""});
  }
  return "What the spread of each life comes from: knowing this better would narrow it most.\n" +
         table({"segment", "share of the variance of ln life", "together"}, rows);
}

// Before and after the findings.
std::string learned_text(const Estimate& estimate, double cap) {
  if (!estimate.learned) return "";
  const population::Learned& learned = *estimate.learned;
  std::string text =
      wrapped(fmt::format("Learnt from {} finding{}; {:.0f} of {} draws still count{}.", learned.findings,
                          learned.findings == 1 ? "" : "s", learned.effective_sample, estimate.draws,
                          learned.stages == 0 ? ""
                                              : fmt::format(" (by weight alone {:.0f} would; they were moved in {} steps)",
                                                            learned.effective_by_weight, learned.stages)),
              "");
  for (const std::string& warning : learned.warnings) text += wrapped(warning, "! ");
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate& segment : estimate.segments) {
    if (!segment.before) continue;
    rows.push_back({cut(segment.id, 26),
                    fmt::format("{:.0f} %", 100.0 * (segment.before->chance[3] + segment.before->chance[4])),
                    fmt::format("{:.0f} %", 100.0 * segment.chance_cracked()),
                    years_in_column(segment.before->flex_cracks, cap), years_in_column(segment.flex_cracks.p50, cap)});
  }
  return text + table({"segment", "cracked before", "after", "handled [a] before", "after"}, rows) +
         "handled: years until half of the draws crack when handled, below 0 that long ago.\n\n";
}

std::string later_text(const Estimate& estimate, const casefile::Case& job) {
  if (estimate.segments.front().chance_at.empty()) return "";
  std::vector<std::string> heading{"cracked or worse, by"};
  for (const population::ChanceAt& at : estimate.segments.front().chance_at)
    heading.push_back(fmt::format("{:.1f} a", at.after.value()));
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate& segment : estimate.segments) {
    std::vector<std::string> row{segment.id};
    for (const population::ChanceAt& at : segment.chance_at)
      row.push_back(fmt::format("{:.0f} %", 100.0 * (at.chance[3] + at.chance[4])));
    rows.push_back(std::move(row));
  }
  return fmt::format("Chances later, years after the inspection of {}, on the use to come.\n", format_date(job.inspected)) +
         table(heading, rows) + '\n';
}

std::string legend(const Estimate& estimate, double cap) {
  std::string text = wrapped(
      fmt::format(
          "Weakest first; beyond {0:.0f} years the order means little. now: condition by heat, from supple over stiff, "
          "flex-cracks (cracks when handled) and cracked (as it lies) to crumbling. handled, at rest: years (a) until it "
          "cracks when handled and as it lies, by heat alone; \"now\" within half a year, \"long ago\" over {0:.0f} "
          "years ago, \"> {0:.0f} a\": other causes come first.",
          cap),
      "");
  std::set<std::string> guesses;
  for (const SegmentEstimate& segment : estimate.segments) {
    if (segment.compound_known) continue;
    guesses.insert(fmt::format("{} ({:.0f} in 100)", segment.insulation, 100.0 * segment.compound_chance));
  }
  if (!guesses.empty()) {
    text +=
        wrapped(fmt::format("? the compound is not known: the answer is for the likeliest candidate alone, {}. With another "
                            "one it can be quite different; find out which it is before anything else.",
                            fmt::join(guesses, ", ")),
                "");
  }
  return text;
}

std::string headline(const Estimate& estimate, const library::Library& library) {
  const SegmentEstimate& first = estimate.segments.front();
  return wrapped(fmt::format("First to crack when handled: {} ({}), {}.", first.id, first.zone,
                             remaining_in_words(first.flex_cracks.p50, library.model)),
                 "");
}

// Heat along the copper makes a place the worst one where what is warmer lies beyond it: another zone, a hot terminal. At an
// end without either it is a matter of digits.
bool worth_naming(const SegmentEstimate& estimate, const casefile::Segment& segment, const casefile::Case& job) {
  const Metres from_end = segment.length - *estimate.worst_from_start;
  const std::string& end = *estimate.worst_from_start <= from_end ? segment.from : segment.to;
  const casefile::Node* node = casefile::find_by_id(job.nodes, end);
  if (node != nullptr && node->terminal) return true;
  const auto other_zone = [&](const casefile::Segment& one) {
    const bool meets = one.from == end || one.to == end || one.id == segment.id;
    return meets && std::any_of(one.stretches.begin(), one.stretches.end(),
                                [&](const casefile::Stretch& stretch) { return stretch.zone != estimate.zone; });
  };
  return std::any_of(job.segments.begin(), job.segments.end(), other_zone);
}

// "corner-rail 1 cm from rail-rear"
std::string spot_text(const SegmentEstimate& estimate, const casefile::Segment& segment) {
  const Metres from_start = *estimate.worst_from_start;
  const Metres from_end = segment.length - from_start;
  const bool near_start = from_start <= from_end;
  const double centimetres = 100.0 * (near_start ? from_start : from_end).value();
  return fmt::format("{} {} cm from {}", segment.id, plain_number(std::max(1.0, std::round(centimetres))),
                     near_start ? segment.from : segment.to);
}

std::string hottest_spots(const Estimate& estimate, const casefile::Case& job) {
  std::vector<std::string> spots;
  for (const SegmentEstimate& segment : estimate.segments) {
    if (!segment.worst_from_start) continue;
    const casefile::Segment& place = *casefile::find_by_id(job.segments, segment.id);
    if (worth_naming(segment, place, job)) spots.push_back(spot_text(segment, place));
  }
  if (spots.empty()) return "";
  return wrapped(
      fmt::format("Where it is worst, because heat flows along the copper: {}. All others: all along the worst zone.",
                  fmt::join(spots, "; ")),
      "");
}

// What the question marks of the heat table mean.
std::string guessed_compounds(const Estimate& estimate) {
  std::set<std::string> guesses;
  for (const SegmentEstimate& segment : estimate.segments) {
    if (!segment.compound_known)
      guesses.insert(fmt::format("{} ({:.0f} in 100)", segment.insulation, 100.0 * segment.compound_chance));
  }
  if (guesses.empty() || estimate.likely_only) return "";
  return wrapped(fmt::format("? not known: the likeliest candidate{} stands here, {}; the chances and years above are drawn "
                             "over all candidates.",
                             estimate.learned ? " after the findings" : "", fmt::join(guesses, ", ")),
                 "");
}

// One row a zone, hottest first: where the ageing came from.
std::string heat_table(const Estimate& estimate) {
  std::vector<const SegmentEstimate*> zones;
  for (const SegmentEstimate& segment : estimate.segments) {
    const auto same = [&](const SegmentEstimate* other) {
      return other->zone == segment.zone && other->insulation == segment.insulation;
    };
    if (std::none_of(zones.begin(), zones.end(), same)) zones.push_back(&segment);
  }
  std::stable_sort(zones.begin(), zones.end(), [](const SegmentEstimate* a, const SegmentEstimate* b) {
    return a->equivalent_temperature > b->equivalent_temperature;
  });
  std::vector<std::vector<std::string>> rows;
  for (const SegmentEstimate* zone : zones) {
    const auto share = [&](std::size_t regime) { return fmt::format("{:.0f} %", 100.0 * zone->damage_share[regime]); };
    rows.push_back({zone->zone, zone->insulation + (zone->compound_known ? "" : "?"),
                    fmt::format("{:.0f} Cel", in_celsius(zone->equivalent_temperature)), share(0), share(1), share(2)});
  }
  return "Where the ageing came from since fitting: the constant temperature that does as much, and its\n"
         "parts while running, in the hot soak after key-off, and parked cold.\n" +
         table({"zone", "insulation", "as if at", "running", "soak", "parked"}, rows) + guessed_compounds(estimate);
}

// Guarded compounds stay supple until shortly before they crack.
std::string feel_warning(const Estimate& estimate, const casefile::Case& job, const library::Library& library) {
  std::set<std::string> compounds;
  double first = library.model.report.plain_words_cap.value;
  for (const SegmentEstimate& segment : estimate.segments) {
    if (!segment.guarded || segment.most_likely != ageing::Condition::supple) continue;
    compounds.insert(segment.insulation);
    first = std::min(first, segment.flex_cracks.p10.value());
  }
  if (compounds.empty()) return "";
  const std::string date = format_date(job.inspected);
  const int year = std::stoi(date.substr(0, 4)) + static_cast<int>(std::floor(first));
  const bool beyond = first >= library.model.report.plain_words_cap.value;
  const std::string when =
      beyond        ? ""
      : first < 1.0 ? "; look again within months"
                    : fmt::format("; look again well before {}, and sooner if anything points to a bad lot", year);
  return wrapped(fmt::format("supple says little for {}: these compounds feel sound until shortly before they crack{}.",
                             fmt::join(compounds, ", "), when),
                 "");
}

std::string assumptions_text(const Estimate& estimate) {
  if (estimate.assumptions.empty()) return "Nothing was assumed beyond the library's records.\n";
  std::string text = fmt::format("Assumed ({}), each replaceable in the case file:\n", estimate.assumptions.size());
  for (const casefile::Assumption& assumption : estimate.assumptions) {
    text += wrapped(fmt::format("{} [{}{}{}]", assumption.text, name_of(assumption.grade),
                                assumption.pointer.empty() ? "" : ", ", assumption.pointer),
                    "  - ");
  }
  return text;
}

// "zones head-cover, upper-bay; climate mediterranean"
std::string records_by_kind(const std::vector<library::Reliance>& records) {
  std::string text;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const bool new_kind = i == 0 || records[i].kind != records[i - 1].kind;
    text += new_kind ? (i == 0 ? "" : "; ") + records[i].kind + " " : ", ";
    text += records[i].id;
  }
  return text;
}

std::string reliance_text(const Estimate& estimate) {
  std::string text;
  for (std::size_t grade = grade_names.size(); grade-- > 0;) {
    std::vector<library::Reliance> records;
    std::copy_if(estimate.relies_on.begin(), estimate.relies_on.end(), std::back_inserter(records),
                 [grade](const library::Reliance& record) { return record.weakest == static_cast<Grade>(grade); });
    if (!records.empty()) text += wrapped(records_by_kind(records) + ".", fmt::format("Rests on {}: ", grade_names[grade]));
  }
  return text + "`heatside materials ID` shows every number with its source and grade.\n";
}

}  // namespace

std::string remaining_in_words(Years remaining, const library::ModelConstants& model) {
  const double cap = model.report.plain_words_cap.value;
  const double years = remaining.value();
  const double rounded = std::round(std::abs(years));
  const std::string count = fmt::format("{:.0f} year{}", rounded, rounded == 1.0 ? "" : "s");
  if (years > cap) return fmt::format("over {:.0f} years by heat alone; other causes come first", cap);
  if (years < -cap) return fmt::format("reached over {:.0f} years ago", cap);
  if (rounded == 0.0) return years < 0.0 ? "reached within the last year" : "within a year";
  return years < 0.0 ? "reached about " + count + " ago" : "in about " + count;
}

std::string notes_for_table(const Estimate& estimate) {
  std::string text;
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  return text + assumptions_text(estimate) + reliance_text(estimate);
}

std::string estimate_text(const Estimate& estimate, const casefile::Case& job, const library::Library& library,
                          const BirthCertificate& certificate) {
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += fmt::format("Built {}, inspected {}.\n\n", format_date_as_known(job.built), format_date_as_known(job.inspected));
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  const double cap = library.model.report.plain_words_cap.value;
  text += '\n' + headline(estimate, library) + '\n';
  text += estimate.likely_only ? segment_table(estimate, library) + '\n' + legend(estimate, cap)
                               : drawn_table(estimate, library) + '\n' + drawn_legend(estimate, cap);
  text += hottest_spots(estimate, job) + feel_warning(estimate, job, library);
  if (estimate.likely_only) {
    text += wrapped(
        "Likely case only: every quantity at its likely value, so no interval is given. A real lot may last half or twice "
        "as long "
        "from the making of the compound alone; compound, duty and zone temperatures add to that. It is "
        "milder than the middle of the draws where an unlikely compound or a hot zone would be much worse: without --likely "
        "those count too.",
        "");
  }
  if (!estimate.likely_only) text += '\n' + learned_text(estimate, cap) + later_text(estimate, job) + spread_text(estimate);
  text += '\n' + heat_table(estimate) + '\n' + measured_text(estimate.zone_scores) + assumptions_text(estimate) + '\n';
  for (const std::string& part : job.unused) text += wrapped(part, "Not computed with: ");
  text += reliance_text(estimate);
  if (!certificate.own_records.empty()) {
    text += wrapped(fmt::format("{}, sha256 {}.", fmt::join(certificate.own_records, ", "),
                                certificate.own_records_sha256.substr(0, 16)),
                    "Records of your own: ");
  }
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
