#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "heatside/base/constants.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/story_report.hpp"
#include "report/classroom_words.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using library::ModelConstants;
using population::CaseStory;
using population::Explanation;
using population::LoomEnd;

std::string times(double factor) { return two_digits(factor) + " times"; }

std::string paragraph(const std::string& text) { return wrapped(text, ""); }

std::string life_words(Years life, const ModelConstants& model) {
  const double cap = model.report.plain_words_cap.value;
  return life.value() > cap ? fmt::format("over {:.0f} a", cap) : two_digits(life.value()) + " a";
}

// The hottest hours that did at least half of the ageing.
std::string hottest_half(const Explanation& end) {
  double share = 0.0, hours = 0.0;
  int from = 0;
  for (auto band = end.by_temperature.rbegin(); band != end.by_temperature.rend() && share < 0.5; ++band) {
    share += band->share;
    hours += band->hours_a_year;
    from = band->from_celsius;
  }
  return fmt::format("{} of its ageing came in the {:.0f} hours a year above {} degC, {} of the time", percent_of(share),
                     hours, from, two_digits(100.0 * hours / hours_per_year) + " %");
}

std::vector<std::string> end_row(const char* which, const Explanation& end, const ModelConstants& model) {
  return {which,
          end.id,
          end.zone,
          degrees(end.equivalent_temperature),
          percent_of(end.by_regime[0]),
          percent_of(end.by_regime[1]),
          percent_of(end.by_regime[2]),
          life_words(end.new_wire, model)};
}

std::string where_from(const CaseStory& story, const ModelConstants& model) {
  std::vector<std::vector<std::string>> rows{end_row("heat side", story.heat.explained, model)};
  if (story.cool) rows.push_back(end_row("cool end", story.cool->explained, model));
  std::string text = "Where the damage comes from, and how long a new wire takes until it cracks when handled\n";
  text += table({"", "segment", "zone", "as if at", "running", "soak", "parked", "a new wire"}, rows);
  const Explanation& heat = story.heat.explained;
  text +=
      paragraph(fmt::format("On the heat side {}. {} came in the hot soak after key-off, when no air moves and the engine "
                            "gives off what it has stored.",
                            hottest_half(heat), percent_of(heat.by_regime[1])));
  if (!story.cool) return text + paragraph("The case has one segment: there is no cool end to hold against it.");
  return text + paragraph(fmt::format("The same compound ({}) has aged {} as fast there as it would have at the cool end. "
                                      "There {} came parked and cold: the climate's part, which nothing done about the "
                                      "engine bay changes.",
                                      heat.insulation, times(story.pace), percent_of(story.cool->explained.by_regime[2])));
}

std::vector<std::string> ten_row(const char* which, const LoomEnd& end, const ModelConstants& model) {
  return {which,
          end.explained.insulation,
          fmt::format("{:.2f}", end.ten_hotter.pace),
          life_words(end.ten_hotter.new_wire, model),
          fmt::format("{:.2f}", end.ten_cooler.pace),
          life_words(end.ten_cooler.new_wire, model),
          fmt::format("{:.0f} K", end.halving.value())};
}

std::string ten_kelvin(const CaseStory& story, const ModelConstants& model) {
  std::vector<std::vector<std::string>> rows{ten_row("heat side", story.heat, model)};
  if (story.cool) rows.push_back(ten_row("cool end", *story.cool, model));
  return "What ten kelvin does here\n" +
         table({"", "compound", "10 K more", "a new wire", "10 K less", "a new wire", "halves every"}, rows) +
         paragraph(
             "Times as fast as it ages today, and when a new wire would crack when handled, with ten kelvin more or "
             "less while the engine runs and in the soak after it: parked cold it keeps the air's temperature. The "
             "rise that halves life is for a constant temperature; it is no law of nature but depends on compound and "
             "temperature.");
}

std::string straight_line(const CaseStory& story, const ModelConstants& model) {
  if (!story.oven) return "";
  const population::OvenSight& oven = *story.oven;
  const std::string& compound = story.heat.explained.insulation;
  std::string text = "Why the straight line from the oven misleads at the cool end\n";
  const std::string ovens =
      fmt::format("Ovens would test {} at {:.0f} to {}", compound, in_celsius(oven.coolest), degrees(oven.hottest));
  if (!oven.bends) {
    return text + paragraph(fmt::format(
                      "{}. The library knows one way in which it ages, {:.0f} kJ/mol, so line and law are the same here: {} "
                      "years until a new wire of it cracks when handled at the cool end. That is what ovens have seen, not "
                      "what happens: a second way that takes over in the cold stays hidden in them. `heatside explain "
                      "--topic life-line` shows a compound where it is known.",
                      ovens, 1.0e-3 * oven.line_energy.value(), two_digits(oven.by_law.value())));
  }
  const double cap = model.report.plain_words_cap.value;
  return text +
         paragraph(fmt::format(
             "{}. The straight line through what they show has {:.0f} kJ/mol and promises a new wire of it at the cool end "
             "{} "
             "years until it cracks when handled. The compound ages in more than one way, and the one with the low energy "
             "leads in the cold: {} years, so the line says {} too much.{}",
             ovens, 1.0e-3 * oven.line_energy.value(), two_digits(oven.by_line.value()), two_digits(oven.by_law.value()),
             times(oven.by_line / oven.by_law),
             oven.by_line.value() > cap ? fmt::format(" Beyond {:.0f} years other causes come first.", cap) : ""));
}

std::string hill(const CaseStory& story) {
  const population::HillTrip& trip = story.hill;
  const double more = (trip.hill - trip.city).value();
  return "What one trip up a hill costs\n" +
         paragraph(fmt::format(
             "On a warm afternoon ({}) {:.0f} minutes up a hill under load, and six hours after it, take {} on the heat "
             "side "
             "to {} and age it as much as {:.0f} hours of ordinary use. The same trip in the city: {} and {:.0f} hours. So "
             "the hill costs {} hours of life, of the wires by themselves without heat along the copper.",
             degrees(trip.ambient), trip.length.value(), story.heat.explained.id, degrees(trip.hill_hottest),
             trip.hill.value(), degrees(trip.city_hottest), trip.city.value(), two_digits(more)));
}

}  // namespace

std::string story_text(const CaseStory& story, const casefile::Case& job, const library::Library& library,
                       const BirthCertificate& certificate) {
  std::string text = paragraph(job.title);
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  for (const std::string& part : {where_from(story, library.model), ten_kelvin(story, library.model),
                                  straight_line(story, library.model), hill(story)}) {
    if (!part.empty()) text += '\n' + part;
  }
  text +=
      '\n' + paragraph(
                 "The likely case: every quantity at its likely value, no interval. Zone temperatures, duty and compound "
                 "rest on judgement; `heatside estimate` lists everything that was assumed, `heatside explain FILE "
                 "--segment ID` shows any other segment.");
  return text + fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                            certificate.case_sha256.substr(0, 16));
}

}  // namespace heatside::report
