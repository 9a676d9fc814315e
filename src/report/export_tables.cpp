#include "report/export_tables.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"

/// What stands in which table of an export.

namespace heatside::report {

namespace {

using enum FieldType;
using population::SegmentEstimate;

const Field segment_field{"segment", text, "", "id of the segment in the case"};

Cell cell(std::string_view value) { return std::string{value}; }
Cell cell(std::size_t value) { return static_cast<long long>(value); }

class YearsCap {
 public:
  explicit YearsCap(const library::Library& library) : cap_{library.model.report.years_cap.value} {}
  [[nodiscard]] Cell operator()(Years years) const { return std::clamp(years.value(), -cap_, cap_); }
  [[nodiscard]] Cell operator()(double years) const { return (*this)(Years{years}); }

 private:
  double cap_;
};

std::string capped_words(const library::Library& library) {
  return fmt::format("years from the inspection, negative: that long ago; cut at {} years either way",
                     plain_number(library.model.report.years_cap.value));
}

std::vector<Field> segment_fields(const library::Library& library) {
  const std::string years = capped_words(library);
  std::vector<Field> fields{
      segment_field,
      {"name", text, "", "its name in the case"},
      {"loom", text, "", "id of its loom"},
      {"lot", text, "", "id of the lot of wires that is worst"},
      {"insulation", text, "", "likely compound of that lot"},
      {"compound_known", truth, "", "whether the case names the compound"},
      {"compound_chance", number, "1", "how likely that compound is"},
      {"weakest_rank", whole, "", "place in the list from weakest on; not an order of opening"},
      {"worst_stretch", text, "", "id of the stretch where it is worst, in the likely case"},
      {"zone", text, "", "zone of that stretch"},
      {"worst_at_m", number, "m", "where it is worst, from the segment's first node; empty: all along that stretch"},
      {"most_likely", text, "", "likeliest condition by heat at the inspection"}};
  for (const std::string_view condition : ageing::condition_names) {
    std::string name = fmt::format("chance_{}", condition);
    std::replace(name.begin(), name.end(), '-', '_');
    fields.push_back({name, number, "1", fmt::format("chance that it is {} now", condition)});
  }
  fields.push_back({"chance_cracked_now", number, "1", "chance that it is cracked or crumbling now"});
  for (const char* quantile : {"p10", "p50", "p90"})
    fields.push_back({fmt::format("elongation_percent_{}", quantile), number, "%",
                      fmt::format("elongation at break that is left, {} of the draws", quantile)});
  for (const char* event : {"flex_cracks", "cracked"}) {
    for (const char* quantile : {"p10", "p50", "p90"})
      fields.push_back({fmt::format("{}_years_{}", event, quantile), number, "a",
                        fmt::format("until it {}, {} of the draws: {}",
                                    event[0] == 'f' ? "cracks when handled" : "cracks as it lies", quantile, years)});
  }
  fields.push_back({"likely_flex_cracks_years", number, "a",
                    "until it cracks when handled with every quantity at its likely value: " + years});
  fields.push_back({"equivalent_temperature_Cel", number, "Cel",
                    "constant temperature that would have aged it as much since fitting, in the likely case"});
  return fields;
}

std::vector<Cell> segment_row(const SegmentEstimate& one, std::size_t rank, const population::Explanation& likely,
                              const YearsCap& years) {
  std::vector<Cell> row{cell(one.id),
                        cell(one.name),
                        cell(one.loom),
                        cell(one.lot),
                        cell(one.insulation),
                        one.compound_known,
                        one.compound_chance,
                        cell(rank),
                        cell(one.worst_stretch),
                        cell(one.zone),
                        one.worst_from_start ? Cell{one.worst_from_start->value()} : Cell{},
                        cell(ageing::name_of(one.most_likely))};
  row.insert(row.end(), one.chance.begin(), one.chance.end());
  row.emplace_back(one.chance_cracked());
  for (const Strain elongation : {one.elongation.p10, one.elongation.p50, one.elongation.p90})
    row.emplace_back(in_percent(elongation));
  for (const Years until : {one.flex_cracks.p10, one.flex_cracks.p50, one.flex_cracks.p90, one.cracked.p10, one.cracked.p50,
                            one.cracked.p90, likely.remaining})
    row.push_back(years(until));
  row.emplace_back(in_celsius(one.equivalent_temperature));
  return row;
}

const population::Explanation& explanation_of(const ExportContent& content, const std::string& segment) {
  return *std::find_if(content.likely.begin(), content.likely.end(),
                       [&](const population::Explanation& one) { return one.id == segment; });
}

TidyTable segments_table(const ExportContent& content) {
  TidyTable table{"segments",
                  "Condition now and remaining life",
                  "One row a segment, weakest first. p10, p50, p90: a tenth, half and nine tenths of the draws lie below.",
                  segment_fields(content.library),
                  {"segment"},
                  {}};
  const YearsCap years{content.library};
  std::size_t rank = 0;
  for (const SegmentEstimate& one : content.answer.estimate.segments)
    table.rows.push_back(segment_row(one, ++rank, explanation_of(content, one.id), years));
  return table;
}

TidyTable temperatures_table(const ExportContent& content) {
  TidyTable table{"temperatures",
                  "Hours at temperature",
                  "One row a segment, degree and regime: hours of a mean year since fitting at the worst stretch, in the "
                  "likely case. The hours of a segment sum to 8766.",
                  {segment_field,
                   {"temperature_Cel", whole, "Cel", "centre of a bin of 1 K, of the insulation where it is worst"},
                   {"regime", text, "", "running; soak: hot after key-off; parked: cold"},
                   {"hours", number, "h", "hours a year"}},
                  {"segment", "temperature_Cel", "regime"},
                  {}};
  for (const SegmentEstimate& one : content.answer.estimate.segments) {
    for (const exposure::HoursAtTemperature& bin : one.hours_at_temperature) {
      for (std::size_t regime = 0; regime < bin.hours.size(); ++regime) {
        if (bin.hours[regime] == 0.0) continue;
        table.rows.push_back(
            {cell(one.id), static_cast<long long>(bin.celsius), cell(exposure::regime_names[regime]), bin.hours[regime]});
      }
    }
  }
  return table;
}

TidyTable damage_table(const ExportContent& content) {
  TidyTable table{"damage",
                  "What the engine did when it aged",
                  "One row a segment, regime and running state, in the likely case since fitting. running and soak: what "
                  "was done in that state and in the soak after it. all: the whole regime; a late soak is counted with the "
                  "mixed states, so the states of soak may sum to a little more or less.",
                  {segment_field,
                   {"regime", text, "", "running; soak: hot after key-off; parked: cold"},
                   {"state", text, "", "cruise, city, idle, hill; all: of the whole regime"},
                   {"share", number, "1", "share of the ageing since fitting; the three rows of state all sum to 1"}},
                  {"segment", "regime", "state"},
                  {}};
  for (const population::Explanation& one : content.likely) {
    for (std::size_t regime = 0; regime < one.by_regime.size(); ++regime) {
      const std::string_view name = exposure::regime_names[regime];
      table.rows.push_back({cell(one.id), cell(name), cell("all"), one.by_regime[regime]});
      for (std::size_t state = 0; regime < 2 && state < one.by_state.size(); ++state) {
        const population::StateShare& share = one.by_state[state];
        table.rows.push_back(
            {cell(one.id), cell(name), cell(library::running_state_names[state]), regime == 0 ? share.running : share.soak});
      }
    }
  }
  return table;
}

TidyTable bands_table(const ExportContent& content) {
  TidyTable table{
      "damage-by-temperature",
      "At which temperature it aged",
      "One row a segment and band of 10 K of the insulation where it is worst, in the likely case since fitting.",
      {segment_field,
       {"from_Cel", whole, "Cel", "lower edge of the band, by the nearest whole degree"},
       {"to_Cel", whole, "Cel", "upper edge"},
       {"hours_a_year", number, "h/a", "time of a mean year in the band"},
       {"share", number, "1", "share of the ageing since fitting; sums to 1 over the bands of a segment"}},
      {"segment", "from_Cel"},
      {}};
  for (const population::Explanation& one : content.likely) {
    for (const population::BandShare& band : one.by_temperature)
      table.rows.push_back({cell(one.id), static_cast<long long>(band.from_celsius), static_cast<long long>(band.to_celsius),
                            band.hours_a_year, band.share});
  }
  return table;
}

TidyTable ageing_table(const ExportContent& content) {
  TidyTable table{"ageing",
                  "Elongation over the years",
                  "One row a segment and time, from the making of the loom on: elongation at break of its worst wire. Below "
                  "a limit a condition begins; limits are those of the likely case.",
                  {segment_field,
                   {"years_after", number, "a", "years after the inspection; negative before it"},
                   {"elongation_percent_p10", number, "%", "a tenth of the draws have less left"},
                   {"elongation_percent_p50", number, "%", "the middle of the draws"},
                   {"elongation_percent_p90", number, "%", "nine tenths of the draws have less left"},
                   {"limit_stiff_percent", number, "%", "stiff below"},
                   {"limit_flex_cracks_percent", number, "%", "cracks when handled below"},
                   {"limit_cracked_percent", number, "%", "cracks as it lies below"},
                   {"limit_crumbling_percent", number, "%", "crumbles below"}},
                  {"segment", "years_after"},
                  {}};
  for (const population::AgeingCurve& curve : content.curves) {
    const ageing::ConditionThresholds& limits = curve.thresholds;
    for (const population::ElongationAt& at : curve.points)
      table.rows.push_back({cell(curve.segment), at.after.value(), in_percent(at.elongation.p10),
                            in_percent(at.elongation.p50), in_percent(at.elongation.p90), in_percent(limits.stiff),
                            in_percent(limits.flex_cracks), in_percent(limits.cracked), in_percent(limits.crumbling)});
  }
  return table;
}

TidyTable draws_table(const ExportContent& content) {
  const std::string years = capped_words(content.library);
  const std::size_t all = content.answer.estimate.draws;
  const std::size_t kept = std::min(content.kept_draws, all);
  TidyTable table{"draws",
                  "Draws of everything that is not known",
                  fmt::format("One row a draw and segment: the first {} of {} draws. A draw is one possible car; quantiles "
                              "and chances weigh it by `weight`.",
                              kept, all),
                  {{"draw", whole, "", "number of the draw, from 0"},
                   segment_field,
                   {"weight", number, "1", "how much the draw counts after the findings; sums to 1 over all draws"},
                   {"stiff_years", number, "a", "until it turns stiff: " + years},
                   {"flex_cracks_years", number, "a", "until it cracks when handled: " + years},
                   {"cracked_years", number, "a", "until it cracks as it lies: " + years},
                   {"crumbling_years", number, "a", "until it crumbles: " + years}},
                  {"draw", "segment"},
                  {}};
  const YearsCap capped{content.library};
  for (std::size_t draw = 0; draw < kept; ++draw) {
    for (std::size_t number = 0; number < content.draws.size(); ++number) {
      std::vector<Cell> row{cell(draw), cell(content.job.segments[number].id),
                            content.answer.population.belief.weights[draw]};
      for (const std::vector<double>& until : content.draws[number].until) row.push_back(capped(until[draw]));
      table.rows.push_back(std::move(row));
    }
  }
  return table;
}

TidyTable spread_table(const ExportContent& content) {
  TidyTable table{
      "spread",
      "What the spread comes from",
      "One row a segment and group of unknowns: share of the variance of ln life, from the making of the loom to "
      "the first crack when handled, that the group explains by itself; `together` is what is left.",
      {segment_field, {"cause", text, "", "group of unknowns"}, {"share", number, "1", "share of the variance"}},
      {"segment", "cause"},
      {}};
  for (const SegmentEstimate& one : content.answer.estimate.segments) {
    for (const population::SpreadShare& part : one.spread)
      table.rows.push_back({cell(one.id), cell(part.cause), part.share});
  }
  return table;
}

std::vector<Field> finding_fields() {
  return {{"finding", whole, "", "number in the case, from 1"},
          {"segment", text, "", "id; empty where it is about a lot alone"},
          {"stretch", text, "", "id; empty: the segment as a whole"},
          {"lot", text, "", "id of the wires it speaks of; empty: all of the segment"},
          {"seen", text, "", "condition as seen, not-seen or altered; empty with the result of a test"},
          {"method", text, "", "id of the method"},
          {"cause", text, "", "what made it so; only heat says something about other places"},
          {"signs", text, "", "signs seen, with semicolons between"},
          {"clues", text, "", "clues to the compound, with semicolons between"},
          {"on", date, "", "day of the look"},
          {"altered_on", date, "", "day of an earlier repair"},
          {"bend_mm", number, "mm", "diameter of the rod of a bend test"},
          {"bend_Cel", number, "Cel", "temperature of it"},
          {"bend_cracked", truth, "", "whether the tail cracked"},
          {"elongation_percent", number, "%", "elongation at break of a tail that was pulled"},
          {"standard_error_percent", number, "%", "standard error of it"},
          {"resistance_MOhm", number, "MOhm", "insulation resistance"},
          {"by", text, "", "who looked"},
          {"note", text, "", "in the words of who looked"}};
}

std::vector<Cell> finding_row(const casefile::Finding& finding, std::size_t number) {
  const Cell none;
  return {cell(number),
          cell(finding.segment),
          cell(finding.stretch),
          cell(finding.lot),
          finding.seen ? cell(library::seen_names[static_cast<std::size_t>(*finding.seen)]) : none,
          cell(finding.method),
          cell(casefile::cause_names[static_cast<std::size_t>(finding.cause)]),
          cell(join(finding.signs, ";")),
          cell(join(finding.clues, ";")),
          cell(format_date(finding.on)),
          finding.altered_on ? cell(format_date(*finding.altered_on)) : none,
          finding.bend ? Cell{in_millimetres(finding.bend->diameter)} : none,
          finding.bend ? Cell{in_celsius(finding.bend->temperature)} : none,
          finding.bend ? Cell{finding.bend->cracked} : none,
          finding.elongation ? Cell{in_percent(finding.elongation->elongation)} : none,
          finding.elongation ? Cell{in_percent(finding.elongation->standard_error)} : none,
          finding.resistance ? Cell{finding.resistance->megohms} : none,
          cell(finding.by),
          cell(finding.note)};
}

TidyTable findings_table(const ExportContent& content) {
  TidyTable table{
      "findings",       "What was found", "One row a finding, in the order of the case; no row where nobody looked.",
      finding_fields(), {"finding"},      {}};
  for (const casefile::Finding& finding : content.job.findings)
    table.rows.push_back(finding_row(finding, table.rows.size() + 1));
  return table;
}

TidyTable assumptions_table(const ExportContent& content) {
  TidyTable table{"assumptions",
                  "What nobody stated and the numbers rest on",
                  "One row an assumption; a statement in the case at `at` replaces it.",
                  {{"assumption", whole, "", "number, from 1"},
                   {"at", text, "", "place in the case file (JSON pointer)"},
                   {"grade", text, "", "how far it can be trusted"},
                   {"text", text, "", "what is assumed"}},
                  {"assumption"},
                  {}};
  for (const casefile::Assumption& one : content.answer.estimate.assumptions)
    table.rows.push_back({cell(table.rows.size() + 1), cell(one.pointer), cell(name_of(one.grade)), cell(one.text)});
  return table;
}

void add_fields(TidyTable& dictionary, const TidyTable& table) {
  for (const Field& field : table.fields)
    dictionary.rows.push_back(
        {cell(table.name + ".csv"), cell(field.name), cell(name_of(field.type)), cell(field.unit), cell(field.meaning)});
}

}  // namespace

std::vector<TidyTable> export_tables(const ExportContent& content) {
  return {segments_table(content), temperatures_table(content), ageing_table(content),
          damage_table(content),   bands_table(content),        spread_table(content),
          draws_table(content),    findings_table(content),     assumptions_table(content)};
}

TidyTable dictionary_of(const std::vector<TidyTable>& tables) {
  TidyTable dictionary{"dictionary",
                       "Every column of every table",
                       "One row a column.",
                       {{"file", text, "", "name of the file"},
                        {"field", text, "", "name of the column"},
                        {"type", text, "", "type as Table Schema has it"},
                        {"unit", text, "", "UCUM code; empty for what has no unit"},
                        {"meaning", text, "", "what it says"}},
                       {"file", "field"},
                       {}};
  for (const TidyTable& table : tables) add_fields(dictionary, table);
  const TidyTable itself = dictionary;
  add_fields(dictionary, itself);
  return dictionary;
}

}  // namespace heatside::report
