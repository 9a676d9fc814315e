#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "report/owner_page.hpp"

namespace heatside::report {

namespace {

using population::SegmentEstimate;

std::string percent_of(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

std::string years_range(const population::Quantiles<Years>& years, double cap) {
  const auto one = [cap](Years value) {
    if (value.value() > cap) return fmt::format("over {:.0f}", cap);
    if (value.value() < -cap) return fmt::format("over {:.0f} ago", cap);
    return fmt::format("{:.0f}", std::round(value.value()) + 0.0);
  };
  return one(years.p10) + " / " + one(years.p50) + " / " + one(years.p90);
}

void add_segment_table(const ReportInput& input, Document& document) {
  const double cap = input.library.model.report.plain_words_cap.value;
  Table table{
      "Every segment, weakest first. Years from the inspection: a tenth, half and nine tenths of the draws have come "
      "to it by then; below 0 it was reached that long ago.",
      {"segment", "zone", "likeliest now", "cracked or worse", "elongation left [%]", "cracks when handled [a]",
       "cracks as it lies [a]"},
      {}};
  for (const SegmentEstimate& one : input.estimate.segments) {
    table.rows.push_back({one.id, one.zone, std::string{ageing::name_of(one.most_likely)}, percent_of(one.chance_cracked()),
                          fmt::format("{:.0f} / {:.0f} / {:.0f}", in_percent(one.elongation.p10),
                                      in_percent(one.elongation.p50), in_percent(one.elongation.p90)),
                          years_range(one.flex_cracks, cap), years_range(one.cracked, cap)});
  }
  document.blocks.emplace_back(std::move(table));
}

void add_openings(const ReportInput& input, Document& document) {
  const inspection::CaseOrder& order = input.order;
  document.blocks.emplace_back(Heading{2, "Where to open, and what then"});
  for (const Picture& picture : input.pictures.opening) document.blocks.emplace_back(picture);
  std::vector<std::string> steps;
  for (const inspection::StepZero& step : order.step_zero) steps.push_back(step.what + (step.done ? " (done)" : ""));
  document.blocks.emplace_back(Paragraph{"Before anything is opened:"});
  document.blocks.emplace_back(Bullets{steps});
  document.blocks.emplace_back(
      Paragraph{order.consent ? "The owner has agreed to openings and knows that the vehicle may not run afterwards."
                              : "The owner has not yet agreed to openings. Ask first: the vehicle may not run afterwards.",
                true});
  Table table{"What opening one segment next is expected to save and to cost, one step ahead.",
              {"segment", "cracked or worse", "saves", "minutes", "costs", "net"},
              {},
              true};
  for (const inspection::OpeningValue& value : order.order.by_value) {
    table.rows.push_back({order.question.candidates[value.candidate].id, percent_of(value.chance_cracked),
                          fmt::format("{:.0f} +- {:.0f}", value.saving, value.standard_error),
                          fmt::format("{:.0f}", value.minutes.value()), fmt::format("{:.0f}", value.price + value.harm),
                          fmt::format("{:+.0f}", value.net)});
  }
  document.blocks.emplace_back(std::move(table));
  if (!order.order.kept_out.empty()) {
    std::vector<std::string> ids;
    for (const std::size_t candidate : order.order.kept_out) ids.push_back(order.question.candidates[candidate].id);
    document.blocks.emplace_back(
        Paragraph{"Airbag or belt-tensioner circuits, never opened for this: " + join(ids) + ".", true});
  }
}

void add_remedies(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "Remedies side by side"});
  for (const Picture& picture : input.pictures.remedies) document.blocks.emplace_back(picture);
  const remedy::Worth& worth = input.remedies.worth;
  for (const remedy::Question& question : input.remedies.questions) {
    Table table{
        fmt::format("Loom {}: expected cost over {} years in {}, and what nine of ten futures cost.",
                    join(question.offered.looms, " and "), plain_number(worth.horizon.value(), 3), worth.unit),
        {"remedy", "parts", "work", "faults and harm", "expected", "5 to 95 %", "cheapest", "what stands against it"},
        {}};
    for (const std::size_t number : question.order) {
      const remedy::Result& one = question.results[number];
      table.rows.push_back({remedy_name(input.library, one.offer), fmt::format("{:.0f}", one.parts),
                            fmt::format("{:.0f}", one.work), fmt::format("{:.0f}", one.faults + one.harm),
                            fmt::format("{:.0f}", one.expected), fmt::format("{:.0f} to {:.0f}", one.low, one.high),
                            percent_of(one.cheapest), join(one.verdict.struck, "; ")});
    }
    document.blocks.emplace_back(std::move(table));
  }
}

void add_segment_sheets(const ReportInput& input, Document& document) {
  const double cap = input.library.model.report.plain_words_cap.value;
  document.blocks.emplace_back(NewPage{});
  document.blocks.emplace_back(Heading{2, "Sheets of the segments"});
  for (const SegmentEstimate& one : input.estimate.segments) {
    document.blocks.emplace_back(Heading{3, one.name == one.id || one.name.empty() ? one.id : one.id + ": " + one.name});
    std::vector<std::string> chances;
    for (std::size_t c = 0; c < one.chance.size(); ++c)
      chances.push_back(fmt::format("{} {}", library::seen_names[c], percent_of(one.chance[c])));
    std::string text = fmt::format("Worst in {}, {}{}. Chances now: {}. ", one.zone, one.insulation,
                                   one.compound_known ? "" : " (not known for certain)", join(chances));
    text += fmt::format("Cracks when handled, years from the inspection: {} (a tenth, half, nine tenths of the draws). ",
                        years_range(one.flex_cracks, cap));
    text += fmt::format("As if always at {:.0f} Cel; ageing while running {}, in the soak after key-off {}, parked {}.",
                        in_celsius(one.equivalent_temperature), percent_of(one.damage_share[0]),
                        percent_of(one.damage_share[1]), percent_of(one.damage_share[2]));
    document.blocks.emplace_back(Paragraph{text});
    const auto pictures = input.pictures.by_segment.find(one.id);
    if (pictures == input.pictures.by_segment.end()) continue;
    for (const Picture& picture : pictures->second) document.blocks.emplace_back(picture);
  }
}

void add_assumptions(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(NewPage{});
  document.blocks.emplace_back(Heading{2, "What was assumed"});
  document.blocks.emplace_back(
      Paragraph{"Nobody stated these; each can be replaced in the case file, and the answer then changes. In brackets how "
                "far it can be "
                "trusted; judgement and memory are the weakest."});
  std::vector<std::string> items;
  const auto add = [&](const std::vector<casefile::Assumption>& assumptions) {
    for (const casefile::Assumption& one : assumptions)
      items.push_back(
          fmt::format("{} [{}{}{}]", one.text, name_of(one.grade), one.pointer.empty() ? "" : ", ", one.pointer));
  };
  add(input.estimate.assumptions);
  add(input.order.assumptions);
  add(input.remedies.assumptions);
  std::vector<std::string> once;
  for (const std::string& item : items) {
    if (std::find(once.begin(), once.end(), item) == once.end()) once.push_back(item);
  }
  document.blocks.emplace_back(Bullets{once});
}

// Citations of the sources that the insulation and zone records used here name.
void add_sources(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "Records that it rests on"});
  Table table{"Records of the library and the weakest grade among the numbers that were used",
              {"record", "kind", "name", "weakest grade"},
              {}};
  for (const library::Reliance& one : input.estimate.relies_on)
    table.rows.push_back({one.id, one.kind, one.name, std::string{name_of(one.weakest)}});
  document.blocks.emplace_back(std::move(table));
  document.blocks.emplace_back(
      Paragraph{"`heatside materials ID` prints every number of a record with its range, source and grade."});
}

void add_method(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "Method"});
  document.blocks.emplace_back(Paragraph{
      "Insulation ages by rates that follow Arrhenius's law: for every stretch the temperatures of its zone over the weeks "
      "and months of its service are turned into a rate, the rates are added over the years, and the elongation at break "
      "that is left follows from the sum and from the thermal-life point of the compound (IEC 60216 gives the terms). "
      "Conditions begin where a bend, the swing of temperature or handling asks for more strain than is left."});
  document.blocks.emplace_back(Paragraph{fmt::format(
      "Everything that is not known was drawn {} times (seed {}): compound, lot, activation energies, temperatures of the "
      "zones, use, bends. Findings weigh the draws by how likely each would have shown what was seen.",
      input.estimate.draws, input.estimate.seed)});
  if (input.estimate.learned) {
    const population::Learned& learned = *input.estimate.learned;
    document.blocks.emplace_back(Paragraph{
        fmt::format("Learnt from {} findings; {:.0f} draws still count.", learned.findings, learned.effective_sample)});
    if (!learned.warnings.empty()) document.blocks.emplace_back(Warnings{"The findings and the model", learned.warnings});
  }
  for (const std::string& part : input.job.unused) document.blocks.emplace_back(Paragraph{"Not computed with: " + part});
}

void add_making(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(Heading{2, "How this report was made"});
  const BirthCertificate& made = input.certificate;
  std::vector<std::string> items{fmt::format("program: {}", made.engine),
                                 fmt::format("case: {}, sha256 {}", made.case_name, made.case_sha256),
                                 fmt::format("draws {}, seed {}", input.estimate.draws, input.estimate.seed)};
  if (!made.own_records.empty())
    items.push_back(fmt::format("records of your own: {}, sha256 {}", join(made.own_records), made.own_records_sha256));
  document.blocks.emplace_back(Bullets{items});
  document.blocks.emplace_back(
      Paragraph{"Local codes and licensed practice come first. The same case, seed and version give the same report."});
}

}  // namespace

void add_annex(const ReportInput& input, Document& document) {
  document.blocks.emplace_back(NewPage{});
  document.blocks.emplace_back(Heading{2, "Technical annex: the segments"});
  add_segment_table(input, document);
  add_openings(input, document);
  add_remedies(input, document);
  add_segment_sheets(input, document);
  add_assumptions(input, document);
  add_sources(input, document);
  add_method(input, document);
  add_making(input, document);
}

Document owner_report(const ReportInput& input) {
  Document document;
  document.title = input.job.title;
  add_owner_page(input, document);
  add_annex(input, document);
  return document;
}

}  // namespace heatside::report
