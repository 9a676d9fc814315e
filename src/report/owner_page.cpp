#include "report/owner_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/report/cautions.hpp"

namespace heatside::report {

namespace {

using population::SegmentEstimate;

const std::string& label_of(const SegmentEstimate& segment) { return segment.name.empty() ? segment.id : segment.name; }

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

// The likely one, or that with the higher chance of being cracked where both are crumbling.
const SegmentEstimate& most_cracked(const population::Estimate& estimate) {
  return *std::max_element(
      estimate.segments.begin(), estimate.segments.end(),
      [](const SegmentEstimate& a, const SegmentEstimate& b) { return a.chance_cracked() < b.chance_cracked(); });
}

void add_short_answer(const ReportInput& input, Document& document) {
  const population::Estimate& estimate = input.estimate;
  const auto likely = [&](auto holds) {
    return static_cast<std::size_t>(std::count_if(estimate.segments.begin(), estimate.segments.end(), holds));
  };
  const std::size_t cracked = likely([](const SegmentEstimate& one) { return one.chance_cracked() >= 0.5; });
  const std::size_t brittle = likely([](const SegmentEstimate& one) { return one.chance[2] + one.chance_cracked() >= 0.5; });
  const SegmentEstimate& worst = most_cracked(estimate);
  document.blocks.emplace_back(Paragraph{
      fmt::format("Of {} of wiring, {} more likely than not cracked where they lie, and {} would more likely than not "
                  "crack when handled. Where it is worst, at {}, insulation that has cracked is {}.",
                  counted(estimate.segments.size(), "stretch", "stretches"),
                  cracked == 0 ? "none are" : fmt::format("{} are", cracked), brittle, label_of(worst),
                  plain_chance(worst.chance_cracked())),
      true});
  document.blocks.emplace_back(Paragraph{
      "An engine can run faultlessly on a loom that is ready to fall apart: that it runs says nothing about its "
      "insulation. These are estimates from heat and years, and from what was looked at; they show where heat damage is "
      "more likely, not that any wire is sound."});
}

std::string finding_words(const ReportInput& input, const casefile::Finding& finding) {
  const auto* segment = casefile::find_by_id(input.job.segments, finding.segment);
  std::string words = segment == nullptr ? "Wires " + finding.lot : segment->name.empty() ? segment->id : segment->name;
  words += ": ";
  if (finding.seen) words += std::string{library::seen_names[static_cast<std::size_t>(*finding.seen)]};
  if (finding.bend) words += finding.bend->cracked ? "a tail cracked when bent" : "a tail did not crack when bent";
  if (finding.elongation)
    words += fmt::format("a tail tore at {} % elongation", plain_number(in_percent(finding.elongation->elongation), 3));
  if (finding.resistance)
    words += fmt::format("{} MOhm between wires, which says little of cracks", plain_number(finding.resistance->megohms, 3));
  if (!finding.seen && !finding.bend && !finding.elongation && !finding.resistance) words += "clues to the compound";
  words += fmt::format(", {}", format_date(finding.on));
  if (!finding.method.empty()) words += ", " + input.library.methods.at(finding.method).head.name;
  const std::string_view cause = casefile::cause_names[static_cast<std::size_t>(finding.cause)];
  if (finding.cause != casefile::Cause::heat) words += fmt::format(", cause {}", cause);
  if (!finding.signs.empty()) words += "; " + join(finding.signs);
  if (!finding.note.empty()) words += "; " + finding.note;
  return words;
}

void add_looked_at(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "What was looked at, and what was not"});
  std::vector<std::string> found;
  for (const casefile::Finding& finding : input.job.findings) found.push_back(finding_words(input, finding));
  if (found.empty()) {
    document.blocks.emplace_back(Paragraph{"Nothing has been looked at yet."});
  } else {
    document.blocks.emplace_back(Bullets{found});
  }
  std::vector<std::string> closed;
  for (const inspection::Candidate& candidate : input.order.question.candidates) {
    if (!candidate.opened) closed.push_back(candidate.id);
  }
  if (closed.empty()) return;
  document.blocks.emplace_back(Paragraph{
      fmt::format("Not opened, nothing claimed: {}. What is said of them comes from the model alone.", join(closed))});
}

std::string advised_words(const ReportInput& input, const remedy::Question& question) {
  const remedy::Worth& worth = input.remedies.worth;
  const std::string loom = join(question.offered.looms, " and ");
  if (!question.best) {
    return fmt::format(
        "Loom {}: none of the remedies compared may be chosen as they stand; see the table for what is "
        "missing.",
        loom);
  }
  const remedy::Result& best = question.results[*question.best];
  std::string words = fmt::format(
      "Loom {}: {}. Over {} years it is expected to cost {} with all that may still go wrong, and between {} in nine of ten "
      "futures; of that, parts {} and work {}.",
      loom, remedy_name(input.library, best.offer), plain_number(worth.horizon.value(), 3), money(worth, best.expected),
      money_range(worth, best.low, best.high), money(worth, best.parts), money(worth, best.work));
  words += fmt::format(" It turns out the cheapest in {}.", plain_chance(best.cheapest));
  if (best.stop)
    words += fmt::format(" A stop on the road within that time: {} (of {} of {} stretches whose circuits are known).",
                         plain_chance(best.stop->chance), best.stop->counted, best.stop->segments);
  return words;
}

void add_advice(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "What is advised, and what it costs"});
  for (const remedy::Question& question : input.remedies.questions) {
    document.blocks.emplace_back(Paragraph{advised_words(input, question), true});
    if (question.best) {
      const remedy::Result& best = question.results[*question.best];
      if (!best.verdict.conditions.empty()) document.blocks.emplace_back(Bullets{best.verdict.conditions});
    }
  }
  const auto& root = input.order.order.tree.root;
  if (input.order.order.looking == inspection::Looking::pays && root.look) {
    document.blocks.emplace_back(Paragraph{fmt::format(
        "Before that is decided it pays to open {} and look: expected to save {} after its costs.",
        input.order.question.candidates[*root.look].id, money(input.remedies.worth, input.order.order.tree.net_saving))});
  } else {
    document.blocks.emplace_back(Paragraph{"More looking is not expected to be worth its cost now."});
  }
  document.blocks.emplace_back(
      Paragraph{"Do not let the old loom be taken out before its replacement is at hand. Costs rest on figures that the "
                "annex lists; where they are judgement, ask for quotations and write them into the case."});
}

}  // namespace

std::string plain_chance(double chance) {
  if (chance < 0.01) return "less than 1 in 100";
  if (chance > 0.99) return "nearly certain (over 99 %)";
  const double tenths = std::round(10.0 * chance);
  const std::string percent = fmt::format("{:.0f} %", 100.0 * chance);
  if (tenths < 1.0) return fmt::format("about {:.0f} in 100 ({})", std::round(100.0 * chance), percent);
  if (tenths > 9.0) return fmt::format("more than 9 in 10 ({})", percent);
  return fmt::format("about {:.0f} in 10 ({})", tenths, percent);
}

std::string money(const remedy::Worth& worth, double amount) {
  const double step = std::abs(amount) < 100.0 ? 5.0 : 10.0;
  return fmt::format("{:.0f} {}", step * std::round(amount / step) + 0.0, worth.unit);
}

std::string money_range(const remedy::Worth& worth, double low, double high) {
  const double step = std::abs(high) < 100.0 ? 5.0 : 10.0;
  return fmt::format("{:.0f} and {:.0f} {}", step * std::round(low / step) + 0.0, step * std::round(high / step) + 0.0,
                     worth.unit);
}

std::string remedy_name(const library::Library& library, const remedy::Offer& offer) {
  if (!offer.remedy.name.empty()) return offer.remedy.name;
  const auto kind = library.remedies.find(offer.remedy.kind);
  const std::string name = kind == library.remedies.end() ? offer.remedy.kind : kind->second.head.name;
  return offer.stated ? fmt::format("{} ({})", name, offer.remedy.id) : name;
}

void add_owner_page(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{1, input.job.title});
  if (input.job.invented) document.blocks.emplace_back(Paragraph{"Invented scenario: an example, not a vehicle.", true});
  document.blocks.emplace_back(
      Paragraph{fmt::format("For the owner. Built {}, inspected {}.", format_date_as_known(input.job.built),
                            format_date_as_known(input.job.inspected))});
  if (!input.job.signed_by.empty()) document.blocks.emplace_back(Paragraph{"Signed by: " + input.job.signed_by});
  add_short_answer(input, document);
  add_looked_at(input, document);
  add_advice(input, document);
  document.blocks.emplace_back(Warnings{"Before anybody works on it", cautions()});
  if (input.pictures.overview.empty()) return;
  document.blocks.emplace_back(NewPage{});
  document.blocks.emplace_back(Heading{2, "Where it is: the looms by what has to come off"});
  for (const Picture& picture : input.pictures.overview) document.blocks.emplace_back(picture);
}

}  // namespace heatside::report
