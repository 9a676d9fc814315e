#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "app/draw_options.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/base/date.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/compare.hpp"
#include "heatside/report/compare_report.hpp"

namespace heatside::app {

namespace {

struct CompareOptions {
  std::string file, materials, duty;
  std::vector<std::string> insulations, looms, sleeves, reroutes;
  std::optional<std::string> date;
  std::string years = "15", chance = "50", ambient = "0";
  bool all = false, json = false;
  DrawChoice drawn;
};

// Words of the command line with everything that is wrong in them.
class Words {
 public:
  void complain(std::string problem) { problems_.push_back(std::move(problem)); }

  double number(const char* option, const std::string& text, double low, double high) {
    try {
      std::size_t read = 0;
      const double value = std::stod(text, &read);
      if (read == text.size() && value >= low && value <= high) return value;
    } catch (const std::exception&) {
      // Not a number at all: the same words as for one out of range.
    }
    complain(
        fmt::format("--{} takes a number from {} to {}, not \"{}\"", option, plain_number(low), plain_number(high), text));
    return low;
  }

  std::optional<Date> date(const std::optional<std::string>& text) {
    if (!text) return std::nullopt;
    const std::optional<Date> date = parse_date(*text);
    if (!date) complain("--date takes a date such as 2030 or 2030-06-01, not \"" + *text + "\"");
    return date;
  }

  std::optional<remedy::PlacedId> change(const char* option, const std::string& text, const char* usual) {
    std::optional<remedy::PlacedId> change = remedy::placed_id(text, usual);
    if (!change)
      complain(fmt::format("--{} takes SEGMENT{} or SEGMENT/STRETCH{}, not \"{}\"", option,
                           usual == nullptr ? "=ID" : "[=ID]", usual == nullptr ? "=ID" : "[=ID]", text));
    return change;
  }

  void stop_if_wrong() const {
    if (!problems_.empty()) throw Stop{ExitCode::usage, join(problems_, "\n  ")};
  }

 private:
  std::vector<std::string> problems_;
};

remedy::CompareRequest request_of(const CompareOptions& options, Words& words) {
  remedy::CompareRequest request;
  request.insulations = options.insulations;
  request.looms = options.looms;
  request.made = words.date(options.date);
  request.wanted = Years{words.number("years", options.years, 0.1, 200.0)};
  request.chance = 0.01 * words.number("chance", options.chance, 1.0, 99.0);
  request.what_if.ambient = KelvinRise{words.number("ambient", options.ambient, -30.0, 30.0)};
  request.what_if.duty = options.duty;
  for (const std::string& text : options.sleeves) {
    if (auto sleeve = words.change("sleeve", text, remedy::usual_sleeve))
      request.what_if.sleeves.push_back({std::move(sleeve->at), std::move(sleeve->id)});
  }
  for (const std::string& text : options.reroutes) {
    if (auto route = words.change("reroute", text, nullptr))
      request.what_if.reroutes.push_back({std::move(route->at), std::move(route->id)});
  }
  return request;
}

// The insulations that a folder of records adds or replaces.
std::vector<std::string> own_insulations(const Records& records) {
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < records.names.size(); ++i) {
    const Json document = read_strict_json(records.texts[i], records.names[i]);
    if (document.value("kind", "") == "insulation") ids.push_back(document.value("id", ""));
  }
  return ids;
}

void choose_insulations(const CompareOptions& options, const Records& records, const library::Library& library,
                        remedy::CompareRequest& request, Words& words) {
  if (options.all && !request.insulations.empty()) words.complain("--all and --insulation: give one of them");
  if (options.all) request.insulations = library::ids_of(library.insulations);
  if (request.insulations.empty() && !request.what_if.any()) request.insulations = own_insulations(records);
  if (request.insulations.empty() && !request.what_if.any())
    words.complain(
        "nothing to compare; give --insulation A,B, or --all, or --materials with insulations of your own, or a change: "
        "--sleeve, --reroute, --ambient, --duty");
  if (request.insulations.empty() && request.made) words.complain("--date is the day of new looms; give --insulation too");
}

std::string composed(const CompareOptions& options) {
  Words words;
  remedy::CompareRequest request = request_of(options, words);
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  choose_insulations(options, records, library, request, words);
  for (std::string& problem : remedy::problems_of(request, job, library)) words.complain(std::move(problem));
  words.stop_if_wrong();
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = options.drawn.draws, .seed = options.drawn.seed});
  const remedy::Comparison comparison = remedy::compare(job, library, answer, request);
  const report::BirthCertificate certificate = certificate_for(options.file, text, options.drawn.seed, records);
  return options.json ? report::compare_json(comparison, answer.estimate, job, library, certificate)
                      : report::compare_text(comparison, answer.estimate, job, library, certificate);
}

void add_changes(CLI::App& command, CompareOptions& options) {
  command.add_option("--sleeve", options.sleeves, "what if: SEGMENT[/STRETCH][=COVERING]; else a foil sleeve")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--reroute", options.reroutes, "what if: SEGMENT=ZONE, or SEGMENT/STRETCH=ZONE")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--ambient", options.ambient, "what if: kelvin on the climate to come, such as +5")
      ->capture_default_str();
  command.add_option("--duty", options.duty, "what if: id of the duty to come");
}

}  // namespace

Verb add_compare(CLI::App& program) {
  auto options = std::make_shared<CompareOptions>();
  CLI::App* command = program.add_subcommand("compare", "insulations on the same route, and what a change would do");
  command->footer(
      "heatside compare examples/hillside-estate.case.json --insulation xlpo-125,xlpo-150,etfe\n"
      "          heatside compare examples/hillside-estate.case.json --sleeve to-coil-2 --ambient +5");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("--insulation", options->insulations, "ids of insulations, each for the whole loom")
      ->delimiter(',')
      ->allow_extra_args(false);
  command->add_flag("--all", options->all, "every insulation of the library");
  command->add_option("--materials", options->materials,
                      "folder of records, added to the built-in; alone: compares its own");
  command->add_option("--loom", options->looms, "only these looms [all]")->delimiter(',')->allow_extra_args(false);
  command->add_option("--date", options->date, "new looms made and fitted then [day of the inspection]");
  command->add_option("--years", options->years, "how long they should last")->capture_default_str();
  command->add_option("--chance", options->chance, "of lasting so long that a zone asks for, in 100")->capture_default_str();
  add_changes(*command, *options);
  add_draws(*command, options->drawn);
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
