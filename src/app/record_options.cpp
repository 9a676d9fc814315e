#include "app/record_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "app/exit_code.hpp"
#include "base/strict_json.hpp"

namespace heatside::app {

namespace {

void add_place(CLI::App& command, casefile::FindingWords& words) {
  command.add_option("--segment", words.segment, "id of the segment that was looked at");
  command.add_option("--stretch", words.stretch, "id of the stretch; else the segment as a whole");
  command.add_option("--lot", words.lot, "id of the wires it speaks of; alone: clues to this lot");
}

void add_look(CLI::App& command, casefile::FindingWords& words) {
  command.add_option("--seen", words.seen, "supple, stiff, flex-cracks, cracked, crumbling, not-seen, altered");
  command.add_option("--method", words.method, "how it was found: id of a method, see `heatside materials`");
  command.add_option("--cause", words.cause, "heat, chafe, gnawed, overload, fluid, workmanship or unsure");
  command.add_option("--sign", words.signs, "sticky, swollen, glue-or-silicone ...; may be given again")
      ->allow_extra_args(false);
  command.add_option("--clue", words.clues, "id of a clue to the compound; may be given again")->allow_extra_args(false);
  command.add_option("--on", words.on, "day of the look, YYYY-MM-DD; today when left out");
  command.add_option("--altered-on", words.altered_on, "when an earlier repair was made, with --seen altered");
  command.add_option("--by", words.by, "who looked");
  command.add_option("--note", words.note, "anything worth keeping");
}

void add_tests(CLI::App& command, RecordOptions& options) {
  casefile::FindingWords& words = options.words;
  command.add_option("--bend-diameter-mm", words.bend_diameter_mm, "a scrap tail was bent round this, mm");
  command.add_option("--bend-temperature-Cel", words.bend_temperature_celsius, "at this temperature, Cel");
  command.add_flag("--cracked", options.cracked, "and it cracked");
  command.add_flag("--whole", options.whole, "and it stayed whole");
  command.add_option("--elongation-percent", words.elongation_percent, "elongation at break of a scrap tail, %");
  command.add_option("--standard-error", words.standard_error_percent, "its standard error, %");
  command.add_option("--resistance-MOhm", words.megohms, "insulation resistance, MOhm");
  command.add_flag("--both-ends-unplugged", words.both_ends_unplugged, "with both ends of the wires unplugged");
  command.add_flag("--no-control-units", options.no_control_units, "and no control unit attached anywhere along them");
}

// What a shell can hand over, but JSON cannot hold.
void expect_utf8(const std::string& text) {
  try {
    static_cast<void>(Json(text).dump());
  } catch (const Json::exception&) {
    throw Stop{ExitCode::usage, "an option holds bytes that are not UTF-8 text; nothing was changed"};
  }
}

void expect_texts(const casefile::FindingWords& words) {
  for (const std::string* text : {&words.segment, &words.stretch, &words.lot, &words.seen, &words.method, &words.cause,
                                  &words.on, &words.altered_on, &words.by, &words.note}) {
    expect_utf8(*text);
  }
  for (const std::string& sign : words.signs) expect_utf8(sign);
  for (const std::string& clue : words.clues) expect_utf8(clue);
}

constexpr std::array<std::pair<std::string_view, std::string_view>, 21> option_of_member{
    {{"/segment", "--segment"},
     {"/stretch", "--stretch"},
     {"/lot", "--lot"},
     {"/seen", "--seen"},
     {"/method", "--method"},
     {"/cause", "--cause"},
     {"/signs", "--sign"},
     {"/clues", "--clue"},
     {"/on", "--on"},
     {"/altered_on", "--altered-on"},
     {"/by", "--by"},
     {"/note", "--note"},
     {"/bend/diameter_mm", "--bend-diameter-mm"},
     {"/bend/temperature_Cel", "--bend-temperature-Cel"},
     {"/bend", "--bend-diameter-mm with --cracked or --whole"},
     {"/elongation/percent", "--elongation-percent"},
     {"/elongation/standard_error", "--standard-error"},
     {"/elongation", "--elongation-percent with --standard-error"},
     {"/resistance/both_ends_unplugged", "--both-ends-unplugged"},
     {"/resistance/control_units_attached", "--no-control-units"},
     {"/resistance", "--resistance-MOhm"}}};

std::string option_for(const std::string& member) {
  for (const auto& [name, option] : option_of_member) {
    const bool same = member.rfind(name, 0) == 0 && (member.size() == name.size() || member[name.size()] == '/');
    if (same) return std::string{option} + ": ";
  }
  return "the finding: ";
}

}  // namespace

void add_record_options(CLI::App& command, RecordOptions& options) {
  command.add_option("FILE", options.file, "the case, changed in place; - reads and writes standard streams")->required();
  add_place(command, options.words);
  add_look(command, options.words);
  add_tests(command, options);
  command.add_flag("--consent", options.consent, "the owner knows that it may not run afterwards, and agrees");
  command.add_flag("--undo", options.undo, "take back what was recorded last");
  command.add_option("--materials", options.materials, "folder of records that add to or replace the built-in ones");
  command.add_flag("--json", options.json, "one JSON document");
}

void expect_one_deed(const RecordOptions& options) {
  const casefile::FindingWords& words = options.words;
  const bool finds = !(words.segment + words.lot + words.stretch + words.seen + words.method + words.cause + words.on +
                       words.altered_on + words.by + words.note)
                          .empty() ||
                     !words.clues.empty() || !words.signs.empty() || words.bend_diameter_mm || words.elongation_percent ||
                     words.megohms;
  if (static_cast<int>(finds) + static_cast<int>(options.consent) + static_cast<int>(options.undo) != 1) {
    throw Stop{
        ExitCode::usage,
        "one thing at a time: a finding (--segment, or --clue with --lot), --consent, or --undo; nothing was changed"};
  }
  if (options.cracked && options.whole) throw Stop{ExitCode::usage, "--cracked excludes --whole: the tail did one of them"};
  if (options.file == "-" && options.json) {
    throw Stop{ExitCode::usage, "with - the changed case goes to standard output, so there is no place for --json"};
  }
}

casefile::FindingWords words_of(const RecordOptions& options) {
  casefile::FindingWords words = options.words;
  expect_texts(words);
  const std::optional<Date> day = words.on.empty() ? std::nullopt : parse_date(words.on);
  if (!words.on.empty() && !(day && day->exact())) {
    throw Stop{ExitCode::usage, fmt::format("--on: \"{}\" is not a day; allowed: YYYY-MM-DD", words.on)};
  }
  if (options.cracked || options.whole) words.cracked = options.cracked;
  words.control_units_attached = !options.no_control_units;
  return words;
}

std::string in_words_of_options(const InputError& error, const std::string& pointer) {
  std::string text;
  for (const Problem& problem : error.problems()) {
    const bool of_finding = problem.pointer == pointer || problem.pointer.rfind(pointer + '/', 0) == 0;
    text += of_finding ? option_for(problem.pointer.substr(pointer.size())) + problem.message : describe(problem);
    text += ";\n";
  }
  return text;
}

}  // namespace heatside::app
