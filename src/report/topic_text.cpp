#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/topic_report.hpp"
#include "report/classroom_words.hpp"
#include "report/json_parts.hpp"
#include "report/layout.hpp"
#include "report/topic_tables.hpp"

/// The experiments in words.

namespace heatside::report {

namespace {

using namespace population;

std::string whole_degrees(Kelvin temperature) { return fmt::format("{:.0f}", in_celsius(temperature)); }

TopicWords words_of(const OvenLine& line) {
  TopicWords words{fmt::format("Why the straight line from the oven misleads: {}", line.insulation), {}, {}, {}};
  std::string ovens;
  const OvenLinePoint* farthest = &line.points.front();
  for (const OvenLinePoint& point : line.points) {
    if (point.oven) ovens += (ovens.empty() ? "" : ", ") + whole_degrees(point.temperature);
    if (std::abs(in_celsius(point.temperature) - 40.0) < 1.0) farthest = &point;
  }
  words.paragraphs.push_back(fmt::format(
      "Ovens at {} degC test {} until its end point, and a straight line through ln life over 1/T is drawn on "
      "to the temperatures of service: {:.0f} kJ/mol, and 20 000 h at {:.1f} degC where the law has {:.1f}.",
      ovens, line.name, 1.0e-3 * line.line_energy.value(), in_celsius(line.index_by_line), in_celsius(line.index_by_law)));
  words.paragraphs.push_back(
      line.bends
          ? fmt::format("Among the ovens both agree. At {} degC the line promises {} times the life: a way of ageing with a "
                        "low activation energy, too slow to be seen in an oven, does most of the work there.",
                        whole_degrees(farthest->temperature), two_digits(farthest->by_line / farthest->by_law))
          : "This compound has one way of ageing in the library, so law and line are the same: a straight line is right as "
            "long as nothing else happens in the cold, and ovens cannot tell whether it does.");
  words.paragraphs.emplace_back(
      "Ten kelvin do not simply double the rate: how much they do depends on the compound, and on where one stands.");
  words.heading = {"degC", "by the law", "by the line", "line / law", "10 K more", ""};
  for (const OvenLinePoint& point : line.points) {
    const long whole = std::lround(in_celsius(point.temperature));
    if (whole % 20 != 0 && !point.oven) continue;
    words.rows.push_back({whole_degrees(point.temperature), time_words(point.by_law), time_words(point.by_line),
                          two_digits(point.by_line / point.by_law), fmt::format("{:.2f}", point.ten_kelvin_more),
                          point.oven ? "oven" : ""});
  }
  return words;
}

const SoakMinute& hottest_of(const SoakPiece& piece) {
  return *std::max_element(piece.minutes.begin(), piece.minutes.end(),
                           [](const SoakMinute& a, const SoakMinute& b) { return a.insulation < b.insulation; });
}

TopicWords words_of(const SoakTopic& topic) {
  const SoakPiece& hot = topic.pieces.front();
  const SoakMinute& hottest = hottest_of(hot);
  TopicWords words{"The hot soak: it is hottest when nobody drives", {}, {}, {}};
  words.paragraphs.push_back(fmt::format(
      "{:.0f} minutes in the city from a cold start at {} degC, then six hours parked; wires of {}. At the hot "
      "piece it is hottest {:.0f} minutes after key-off, {} degC: no air moves, and the engine gives off what it "
      "has stored. {} of what the trip costs there comes after key-off.",
      topic.length.value(), whole_degrees(topic.ambient), topic.insulation, (hottest.since_key_on - topic.length).value(),
      whole_degrees(hottest.insulation), percent_of(hot.share_after)));
  words.paragraphs.push_back(fmt::format(
      "One trip ages the hot piece {} times as much as the cool one: differences in temperature are moderate, differences "
      "in "
      "rate are not. Many short trips with long stops between them are worse than one long drive of as many minutes.",
      two_digits(hot.against_cool)));
  words.heading = {"piece", "zone", "hottest", "minutes after key-on", "while running", "after key-off", "against cool"};
  for (const SoakPiece& piece : topic.pieces) {
    const SoakMinute& most = hottest_of(piece);
    words.rows.push_back({piece.segment, piece.zone, degrees(most.insulation),
                          fmt::format("{:.0f}", most.since_key_on.value()), percent_of(piece.share_running),
                          percent_of(piece.share_after), two_digits(piece.against_cool)});
  }
  return words;
}

std::vector<std::string> path_row(std::string at, const std::vector<double>& shares) {
  std::vector<std::string> row{std::move(at)};
  for (const double share : shares) row.push_back(percent_of(share));
  return row;
}

TopicWords words_of(const PathsTopic& topic) {
  TopicWords words{fmt::format("Which way of ageing leads where: {}", topic.insulation), {}, {"at"}, {}};
  std::vector<std::string> list;
  for (std::size_t path = 0; path < topic.paths.size(); ++path) {
    list.push_back(fmt::format("{} ({} kJ/mol)", topic.paths[path], plain_number(1.0e-3 * topic.energies[path].value(), 4)));
    words.heading.push_back(topic.paths[path]);
  }
  words.paragraphs.push_back(
      topic.paths.size() > 1
          ? fmt::format(
                "The compound ages in {} ways at once: {}. Their rates add up. The higher the energy, the steeper the "
                "rate rises with temperature, so the hot end of a loom and its cool end age by different chemistry, "
                "and one test cannot stand for both.",
                topic.paths.size(), join(list))
          : fmt::format("The library knows one way in which this compound ages in the dry: {}. Try pp-fr or "
                        "short-lived-1990s.",
                        join(list)));
  for (const PathsPoint& point : topic.points) {
    if (std::lround(in_celsius(point.temperature)) % 20 == 0)
      words.rows.push_back(path_row(degrees(point.temperature), point.share));
  }
  for (const PathsPlace& place : topic.places)
    words.rows.push_back(path_row(fmt::format("{} piece, {}", place.segment, place.zone), place.share));
  return words;
}

// Mean and scatter of the middles of runs with as many draws.
std::vector<std::string> draws_row(const DrawsTopic& topic, std::size_t draws) {
  double sum = 0.0, squares = 0.0, count = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
  for (const DrawsRun& run : topic.runs) {
    if (run.draws != draws) continue;
    const double years = run.years.p50.value();
    sum += years;
    squares += years * years;
    count += 1.0;
    low = std::min(low, years);
    high = std::max(high, years);
  }
  const double mean = sum / count;
  const double sd = std::sqrt(std::max(0.0, (squares - count * mean * mean) / (count - 1.0)));
  return {fmt::format("{}", draws),   fmt::format("{:.2f}", mean),
          fmt::format("{:.2f}", low), fmt::format("{:.2f}", high),
          fmt::format("{:.2f}", sd),  fmt::format("{:.1f}", sd * std::sqrt(static_cast<double>(draws)))};
}

TopicWords words_of(const DrawsTopic& topic) {
  const DrawsRun& last = topic.runs.back();
  TopicWords words{"Draws: how far a number is known, and how well it is computed", {}, {}, {}};
  words.paragraphs.push_back(fmt::format(
      "The middle piece ({}) takes {:.1f} years until it cracks when handled if every quantity has its likely value. Nobody "
      "knows that they have. Drawing everything that is not known gives half of the cars by {:.1f} years, a tenth by {:.1f} "
      "and "
      "nine tenths by {:.1f}: that is how far it is known, and more draws do not narrow it.",
      topic.insulation, topic.likely.value(), last.years.p50.value(), last.years.p10.value(), last.years.p90.value()));
  words.paragraphs.emplace_back(
      "What more draws do narrow is the scatter from seed to seed: four times the draws, half the scatter. The last column "
      "would stay the same if there were more than eight runs of each: eight tell a scatter to about a quarter.");
  std::string causes;
  for (const SpreadShare& part : topic.spread) {
    if (part.share < 0.04 || part.cause == "together") continue;
    causes += fmt::format("{}{} {}", causes.empty() ? "" : ", ", part.cause, percent_of(part.share));
  }
  words.paragraphs.push_back("The spread itself comes from: " + causes + ".");
  words.heading = {"draws", "middle, a", "lowest", "highest", "scatter", "scatter x root of draws"};
  std::size_t before = 0;
  for (const DrawsRun& run : topic.runs) {
    if (run.draws != before) words.rows.push_back(draws_row(topic, run.draws));
    before = run.draws;
  }
  return words;
}

TopicWords words_of(const FindingsTopic& topic) {
  TopicWords words{"Findings: what one look says about the rest", {}, {}, {}};
  words.paragraphs.push_back(fmt::format(
      "Three pieces of one lot ({}). Somebody looks at the hot one ({}) and nowhere else. Compound, lot and use are "
      "shared, so what is seen there speaks about the others too: the worse it is, the sooner they follow; still "
      "supple on the heat side is the best news there is for the cool end.",
      topic.insulation, topic.method));
  words.paragraphs.emplace_back(
      "A look that shows what was expected moves little. One that surprises moves much, and leaves fewer draws that still "
      "count. Below: the chance that a piece is cracked or worse, and the years until half of the draws crack when "
      "handled.");
  words.heading = {"seen at hot", "hot cracked", "middle cracked", "cool cracked", "middle, a", "cool, a", "draws left"};
  for (std::size_t i = 0; i + 2 < topic.rows.size(); i += 3) {
    std::vector<std::string> row{topic.rows[i].seen};
    for (std::size_t piece = 0; piece < 3; ++piece)
      row.push_back(percent_of(topic.rows[i + piece].chance[3] + topic.rows[i + piece].chance[4]));
    for (std::size_t piece = 1; piece < 3; ++piece)
      row.push_back(fmt::format("{:.0f}", topic.rows[i + piece].years.p50.value()));
    row.push_back(fmt::format("{:.0f}", topic.rows[i].effective_sample));
    words.rows.push_back(std::move(row));
  }
  return words;
}

constexpr const char* made_of =
    "A model experiment with likely numbers of the library; the loom in it is invented. `heatside materials ID` shows "
    "sources and grades.";

Json fields_json(const TidyTable& table) { return schema_of(table).at("fields"); }

Json facts_of(const OvenLine& line) {
  return {{"bends", line.bends},
          {"line_kJ_per_mol", 1.0e-3 * line.line_energy.value()},
          {"index_by_law_Cel", in_celsius(line.index_by_law)},
          {"index_by_line_Cel", in_celsius(line.index_by_line)}};
}

Json facts_of(const SoakTopic& topic) {
  Json pieces = Json::array();
  for (const SoakPiece& piece : topic.pieces)
    pieces.push_back({{"segment", piece.segment},
                      {"share_running", piece.share_running},
                      {"share_after", piece.share_after},
                      {"against_cool", piece.against_cool}});
  return {{"trip_min", topic.length.value()}, {"ambient_Cel", in_celsius(topic.ambient)}, {"pieces", pieces}};
}

Json facts_of(const DrawsTopic& topic) {
  Json spread = Json::array();
  for (const SpreadShare& part : topic.spread) spread.push_back({{"cause", part.cause}, {"share", part.share}});
  return {{"likely_years", topic.likely.value()}, {"spread", spread}};
}

Json facts_of(const PathsTopic&) { return Json::object(); }
Json facts_of(const FindingsTopic&) { return Json::object(); }

}  // namespace

TopicWords topic_words(const Topic& topic) {
  return std::visit([](const auto& one) { return words_of(one); }, topic);
}

std::string topic_text(const Topic& topic, const std::string& engine) {
  const TopicWords words = topic_words(topic);
  std::string text = words.title + "\n\n";
  for (const std::string& one : words.paragraphs) text += wrapped(one, "");
  if (!words.rows.empty()) text += '\n' + table(words.heading, words.rows);
  return text + '\n' + wrapped(made_of, "") + '\n' + engine + '\n';
}

std::string topic_json(const Topic& topic, const std::string& engine) {
  const TopicWords words = topic_words(topic);
  const TidyTable table = topic_table(topic);
  const Json document{{"format", "heatside-topic"},
                      {"version", 1},
                      {"engine", engine},
                      {"topic", population::topic_names[topic.index()]},
                      {"title", words.title},
                      {"paragraphs", words.paragraphs},
                      {"note", made_of},
                      {"facts", std::visit([](const auto& one) { return facts_of(one); }, topic)},
                      {"fields", fields_json(table)},
                      {"rows", rows_of(table)},
                      {"cautions", cautions()}};
  return document_text(document);
}

std::string topic_csv(const Topic& topic) { return csv_of(topic_table(topic)); }

}  // namespace heatside::report
