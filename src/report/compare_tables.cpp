#include "report/compare_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "report/compare_words.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using remedy::Candidate;
using remedy::Comparison;
using remedy::SegmentOutcome;
using remedy::ZoneOutcome;

std::string cut(const std::string& text, std::size_t width) { return columns(text) <= width ? text : fitted(text, width); }

std::string wanted_years(const Comparison& comparison) { return plain_number(comparison.request.wanted.value()) + " years"; }

// Why a zone is not served: heat against its class, ageing, or both.
std::string reason(const ZoneOutcome& zone, const Candidate& candidate, const Comparison& comparison, double cap) {
  const auto& heat = zone.heat;
  std::vector<std::string> words;
  if (heat.over()) {
    const std::string of = candidate.of_class ? fmt::format("class {}", candidate.of_class->letter) : "its rating";
    words.push_back(fmt::format("too hot at {} {}: {:.0f} Cel, {:.0f} K over {}, {:.0f} h a year above it", zone.zone,
                                words_of(heat.moment), in_celsius(heat.hottest.p50), -heat.margin().p50.value(), of,
                                heat.above.value()));
  } else {
    words.push_back(fmt::format("ages too fast at {}, though its hottest moment is {:.0f} K below the class", zone.zone,
                                heat.margin().p50.value()));
  }
  if (zone.life.lasts < comparison.request.chance)
    words.push_back(fmt::format("{} last {}, half crack when handled {}", chance_in_words(zone.life.lasts),
                                wanted_years(comparison), after_in_words(zone.life.flex_cracks.p50, cap)));
  return join(words, "; ");
}

std::string reasons_of(const Candidate& candidate, const Comparison& comparison, double cap) {
  constexpr std::size_t most = 3;
  std::vector<const ZoneOutcome*> failing;
  for (const ZoneOutcome& zone : candidate.zones) {
    if (!zone.serves) failing.push_back(&zone);
  }
  if (failing.empty()) return "";
  std::stable_sort(failing.begin(), failing.end(),
                   [](const ZoneOutcome* a, const ZoneOutcome* b) { return a->heat.margin().p50 < b->heat.margin().p50; });
  std::string text = name_of(candidate) + ":\n";
  for (std::size_t i = 0; i < failing.size() && i < most; ++i)
    text += wrapped(reason(*failing[i], candidate, comparison, cap) + '.', "  - ");
  std::vector<std::string> others;
  for (std::size_t i = most; i < failing.size(); ++i) others.push_back(failing[i]->zone);
  if (!others.empty()) text += wrapped("neither does it serve " + join(others) + '.', "  - ");
  return text;
}

std::string segment_rows(const Candidate& candidate, double cap) {
  std::vector<std::vector<std::string>> rows;
  std::size_t lasting = 0;
  for (const SegmentOutcome& segment : candidate.segments) {
    if (segment.life.flex_cracks.p10.value() > cap && segment.heat.margin().p50.value() > 0.0) {
      ++lasting;
      continue;
    }
    const auto &handled = segment.life.flex_cracks, &at_rest = segment.life.cracked;
    rows.push_back({cut(segment.id, 22), cut(segment.zone, 16), chance_in_column(segment.life.lasts),
                    years_in_column(handled.p10, cap), years_in_column(handled.p50, cap), years_in_column(handled.p90, cap),
                    years_in_column(at_rest.p10, cap), years_in_column(at_rest.p50, cap), years_in_column(at_rest.p90, cap),
                    fmt::format("{:.0f}", std::round(segment.heat.margin().p50.value()) + 0.0)});
  }
  const std::string rest = lasting == 0
                               ? ""
                               : fmt::format("{} segment{} within the class, over {:.0f} years in nine of ten draws.\n",
                                             lasting, lasting == 1 ? "" : "s", cap);
  if (rows.empty()) return rest;
  return table({"segment", "worst zone", "lasts", "10 %", "half", "90 %", "at rest 10 %", "half", "90 %", "K"}, rows) + rest;
}

std::vector<std::string> change_row(const SegmentOutcome& segment, double cap) {
  const remedy::ChangeOfLife& change = *segment.change;
  const auto gained = [](Years years) { return fmt::format("{:+.1f}", std::round(10.0 * years.value()) / 10.0 + 0.0); };
  return {cut(segment.id, 22),
          chance_in_column(change.before.lasts),
          chance_in_column(segment.life.lasts),
          years_in_column(change.before.flex_cracks.p50, cap),
          years_in_column(segment.life.flex_cracks.p50, cap),
          gained(change.gain.p10),
          gained(change.gain.p50),
          gained(change.gain.p90),
          fmt::format("{:.0f}", in_celsius(*change.hottest_before)),
          fmt::format("{:.0f}", in_celsius(segment.heat.hottest.p50))};
}

bool is_changed(const SegmentOutcome& segment) {
  constexpr double years = 0.05, kelvin = 0.5;
  const remedy::ChangeOfLife& change = *segment.change;
  return std::abs(change.gain.p10.value()) > years || std::abs(change.gain.p90.value()) > years ||
         std::abs((segment.heat.hottest.p50 - *change.hottest_before).value()) > kelvin;
}

std::string change_of(const Candidate& candidate, const Comparison& comparison, double cap) {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> same;
  for (const SegmentOutcome& segment : candidate.segments) {
    if (is_changed(segment)) {
      rows.push_back(change_row(segment, cap));
    } else {
      same.push_back(segment.id);
    }
  }
  std::string text = wrapped(
      fmt::format("{}: {} last {} as it lies, {} with the change; half of the draws crack somewhere when handled {} "
                  "as it lies, {} with it.",
                  name_of(candidate), chance_in_words(candidate.change->before.lasts), wanted_years(comparison),
                  chance_in_words(candidate.whole.lasts), after_in_words(candidate.change->before.flex_cracks.p50, cap),
                  after_in_words(candidate.whole.flex_cracks.p50, cap)),
      "");
  if (!rows.empty())
    text += table({"segment", "lasts", "after", "half", "after", "gain 10 %", "half", "90 %", "hottest", "after"}, rows);
  if (!same.empty()) text += wrapped("As good as unchanged: " + join(same) + '.', "");
  return text;
}

}  // namespace

std::string candidates_table(const Comparison& comparison, double cap) {
  std::vector<std::vector<std::string>> rows;
  for (const Candidate& candidate : comparison.candidates) {
    const auto& handled = candidate.whole.flex_cracks;
    rows.push_back(
        {cut(name_of(candidate), 17) + (candidate.obsolete ? "*" : ""), class_of(candidate),
         chance_in_column(candidate.whole.lasts), years_in_column(handled.p10, cap), years_in_column(handled.p50, cap),
         years_in_column(handled.p90, cap), cut(candidate.segments[candidate.weakest].id, 16),
         margin_in_column(tightest_zone(candidate).heat.margin()), fmt::format("{:.2f}", candidate.insulation_kg)});
  }
  const std::string legend = fmt::format(
      "By the chance of lasting, then by the 10 % figure. lasts: chance that no segment cracks when handled within {}. "
      "10 %, half, 90 %: years by which the first segment does so in so many of the draws, beyond {:.0f} other causes come "
      "first. weakest: with the least 10 % figure by itself. margin: kelvin from the hottest moment up to the class "
      "(middle, and 10 to 90 % of what is believed of the zones), below 0 over it, where it is least. kg: insulation alone; "
      "the copper has {:.2f} kg.",
      wanted_years(comparison), cap, comparison.copper_kg);
  const bool any_old = std::any_of(comparison.candidates.begin(), comparison.candidates.end(),
                                   [](const Candidate& candidate) { return candidate.obsolete; });
  const std::string old = any_old ? " * no longer made for vehicles by then, as its record has it: in no build." : "";
  return table({"insulation", "class", "lasts", "10 %", "half", "90 %", "weakest", "margin [K]", "kg"}, rows) + '\n' +
         wrapped(legend + old, "");
}

std::string reasons_text(const Comparison& comparison, double cap) {
  constexpr std::size_t most = 8;
  std::string text;
  std::size_t told = 0;
  std::vector<std::string> untold;
  for (const Candidate& candidate : comparison.candidates) {
    const std::string reasons = reasons_of(candidate, comparison, cap);
    if (!reasons.empty() && ++told > most) {
      untold.push_back(name_of(candidate));
    } else {
      text += reasons;
    }
  }
  if (!untold.empty())
    text += wrapped("Nor does any of these serve everywhere: " + join(untold) + "; --json says where.", "");
  const std::string rule = fmt::format(
      "An insulation serves a zone when the middle of its hottest temperature there does not exceed the class, and "
      "everything in the zone lasts {} with a chance of at least {:.0f} in 100.",
      wanted_years(comparison), 100.0 * comparison.request.chance);
  if (text.empty()) return wrapped(rule + " All that are compared serve everywhere.", "");
  return wrapped(rule + " Where they do not serve, and why:", "") + text;
}

std::string zones_table(const Comparison& comparison) {
  std::vector<std::vector<std::string>> rows;
  for (const remedy::ZoneNeed& need : comparison.zones)
    rows.push_back({cut(need.zone, 18), fmt::format("{}", need.segments.size()), heat_in_column(need.hottest),
                    std::string{words_of(need.moment)}, needed_class(need.by_middle), needed_class(need.by_p90),
                    comparison.request.insulations.empty() ? ""
                    : need.lowest.empty()                  ? "none"
                                                           : need.lowest});
  return wrapped(
             "What each zone asks for. on: segments in it. hottest: of the insulation, middle, and 10 to 90 % of what is "
             "believed of the zone. class, at 90 %: the lowest class that the middle, and the 90 % figure, does not exceed.",
             "") +
         table({"zone", "on", "hottest [Cel]", "when", "class", "at 90 %",
                comparison.request.insulations.empty() ? "" : "lowest to serve"},
               rows);
}

std::string mixed_text(const Comparison& comparison, double cap) {
  if (!comparison.mixed) return "";
  const remedy::MixedBuild& mixed = *comparison.mixed;
  std::string text = "The lowest class that serves each segment:\n";
  // Highest class first, so that "the other" segments come last.
  for (auto each = mixed.parts.rbegin(); each != mixed.parts.rend(); ++each) {
    const remedy::MixedPart& part = *each;
    const auto candidate = std::find_if(comparison.candidates.begin(), comparison.candidates.end(),
                                        [&](const Candidate& one) { return one.insulation == part.insulation; });
    const bool rest = mixed.parts.size() > 1 && part.segments.size() > 6 && &part == &mixed.parts.front();
    text += wrapped(fmt::format("{} (class {}) on {}", part.insulation, class_of(*candidate),
                                mixed.parts.size() == 1 ? "all segments"
                                : rest                  ? fmt::format("the other {}", part.segments.size())
                                                        : join(part.segments)),
                    "  - ");
  }
  text += wrapped(fmt::format("So built, {} last {}; a tenth of the draws crack somewhere when handled {}, half of "
                              "them {}. Insulation {:.2f} kg.",
                              chance_in_words(mixed.whole.lasts), wanted_years(comparison),
                              after_in_words(mixed.whole.flex_cracks.p10, cap),
                              after_in_words(mixed.whole.flex_cracks.p50, cap), mixed.insulation_kg),
                  "");
  if (!mixed.unserved.empty())
    text += wrapped("None of the compared insulations serves " + join(mixed.unserved) + ": what lasts best is taken there.",
                    "! ");
  if (mixed.parts.size() > 1)
    text += wrapped("A wire that runs through several segments takes the highest class on its way, or is spliced.", "");
  if (!mixed.mixed_circuits.empty()) text += wrapped("Circuits that it concerns: " + join(mixed.mixed_circuits) + '.', "");
  return text;
}

std::string segments_tables(const Comparison& comparison, double cap) {
  constexpr std::size_t most = 4;
  std::string text = "Segment by segment, best first: years until it cracks when handled, and at rest; K: margin.\n";
  for (std::size_t i = 0; i < comparison.candidates.size() && i < most; ++i)
    text += name_of(comparison.candidates[i]) + ":\n" + segment_rows(comparison.candidates[i], cap) + '\n';
  if (comparison.candidates.size() > most) text += wrapped("All of them stand in --json.", "");
  return text;
}

std::string changes_text(const Comparison& comparison, double cap) {
  if (comparison.changes.empty()) return "";
  std::string text =
      wrapped(fmt::format("The change: {}. Each draw before and after; gain in years, lives beyond {:.0f} count "
                          "as {:.0f}; hottest in degrees Celsius.",
                          join(comparison.changes, "; "), cap, cap),
              "");
  for (const Candidate& candidate : comparison.candidates) text += change_of(candidate, comparison, cap);
  return text;
}

}  // namespace heatside::report
