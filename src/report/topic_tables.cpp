#include "report/topic_tables.hpp"

#include <fmt/format.h>

/// The rows of the experiments.

namespace heatside::report {

namespace {

using namespace population;
using enum FieldType;

Cell words(std::string_view value) { return std::string{value}; }

TidyTable rows_of_topic(const OvenLine& line) {
  TidyTable table{"life-line",
                  "Life at constant temperature",
                  "One row a temperature: life of a likely lot to the end point of its thermal-life record, in a dry oven.",
                  {{"insulation", text, "", "id of the compound"},
                   {"temperature_Cel", number, "Cel", "constant temperature"},
                   {"oven", truth, "", "whether an oven would test it there; the line goes through these"},
                   {"law_h", number, "h", "life with every dry path of the compound"},
                   {"line_h", number, "h", "life by the straight line of ln life over 1/T through the ovens"},
                   {"ten_kelvin_more", number, "1", "how many times as fast it ages 10 K hotter, by the law"}},
                  {"insulation", "temperature_Cel"},
                  {}};
  for (const OvenLinePoint& point : line.points)
    table.rows.push_back({line.insulation, in_celsius(point.temperature), point.oven, point.by_law.value(),
                          point.by_line.value(), point.ten_kelvin_more});
  return table;
}

TidyTable rows_of_topic(const SoakTopic& topic) {
  TidyTable table{"soak",
                  "One trip and what comes after it",
                  "One row a piece and minute, from key-on on.",
                  {{"insulation", text, "", "id of the compound"},
                   {"segment", text, "", "hot, middle or cool piece"},
                   {"zone", text, "", "where it lies"},
                   {"time_min", number, "min", "since key-on"},
                   {"phase", text, "", "warm-up, run, soak, parked"},
                   {"temperature_Cel", number, "Cel", "of the insulation"},
                   {"pace", number, "1", "how many times as fast it ages as at the ambient temperature"}},
                  {"segment", "time_min"},
                  {}};
  for (const SoakPiece& piece : topic.pieces) {
    for (const SoakMinute& minute : piece.minutes)
      table.rows.push_back({topic.insulation, piece.segment, piece.zone, minute.since_key_on.value(),
                            words(exposure::trip_phase_names[static_cast<std::size_t>(minute.phase)]),
                            in_celsius(minute.insulation), minute.pace});
  }
  return table;
}

TidyTable rows_of_topic(const PathsTopic& topic) {
  TidyTable table{"paths",
                  "Which way of ageing does how much",
                  "One row a temperature and path, then one a piece of the classroom loom and path: share of the ageing.",
                  {{"insulation", text, "", "id of the compound"},
                   {"at", text, "", "constant: at a constant temperature; otherwise the piece, over its service"},
                   {"temperature_Cel", number, "Cel", "constant temperature; empty for a piece"},
                   {"path", text, "", "id of the path"},
                   {"activation_energy_kJ_per_mol", number, "kJ/mol", "of the path"},
                   {"share", number, "1", "of the ageing in the dry; sums to 1 over the paths"}},
                  {},
                  {}};
  const auto add = [&](const std::string& at, const Cell& temperature, const std::vector<double>& shares) {
    for (std::size_t path = 0; path < shares.size(); ++path)
      table.rows.push_back(
          {topic.insulation, at, temperature, topic.paths[path], 1.0e-3 * topic.energies[path].value(), shares[path]});
  };
  for (const PathsPoint& point : topic.points) add("constant", in_celsius(point.temperature), point.share);
  for (const PathsPlace& place : topic.places) add(place.segment, Cell{}, place.share);
  return table;
}

TidyTable rows_of_topic(const DrawsTopic& topic) {
  TidyTable table{"draws",
                  "Few and many draws",
                  "One row a run: years until the middle piece cracks when handled, from the inspection on.",
                  {{"insulation", text, "", "id of the compound"},
                   {"segment", text, "", "piece of the classroom loom"},
                   {"draws", whole, "", "number of draws"},
                   {"seed", whole, "", "which draws"},
                   {"years_p10", number, "a", "a tenth of the draws crack sooner"},
                   {"years_p50", number, "a", "half of the draws crack sooner"},
                   {"years_p90", number, "a", "nine tenths of the draws crack sooner"},
                   {"chance_cracked_now", number, "1", "chance that it is cracked or crumbling at the inspection"}},
                  {"draws", "seed"},
                  {}};
  for (const DrawsRun& run : topic.runs)
    table.rows.push_back({topic.insulation, topic.segment, static_cast<long long>(run.draws),
                          static_cast<long long>(run.seed), run.years.p10.value(), run.years.p50.value(),
                          run.years.p90.value(), run.chance_cracked});
  return table;
}

TidyTable rows_of_topic(const FindingsTopic& topic) {
  TidyTable table{"findings",
                  "What one look says about the rest",
                  "One row a finding at the hot piece and a piece that it speaks about.",
                  {{"insulation", text, "", "id of the compound"},
                   {"method", text, "", "id of the method"},
                   {"seen", text, "", "what was seen at the hot piece; nothing: before any look"},
                   {"segment", text, "", "piece of the classroom loom"}},
                  {"seen", "segment"},
                  {}};
  for (const std::string_view condition : ageing::condition_names) {
    const std::string name = condition == "flex-cracks" ? "flex_cracks" : std::string{condition};
    table.fields.push_back({"chance_" + name, number, "1", fmt::format("chance that the piece is {}", condition)});
  }
  for (const char* quantile : {"p10", "p50", "p90"})
    table.fields.push_back({fmt::format("years_{}", quantile), number, "a",
                            fmt::format("until it cracks when handled, {} of the draws", quantile)});
  table.fields.push_back({"effective_sample", number, "1", "draws that still count after the finding"});
  for (const FindingsRow& one : topic.rows) {
    std::vector<Cell> row{topic.insulation, topic.method, one.seen, one.segment};
    row.insert(row.end(), one.chance.begin(), one.chance.end());
    for (const Years years : {one.years.p10, one.years.p50, one.years.p90}) row.emplace_back(years.value());
    row.emplace_back(one.effective_sample);
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

TidyTable topic_table(const Topic& topic) {
  return std::visit([](const auto& one) { return rows_of_topic(one); }, topic);
}

}  // namespace heatside::report
