#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"
#include "heatside/library/library.hpp"
#include "heatside/library/reliance.hpp"

using namespace heatside;
using namespace heatside::library;
using Catch::Contains;

/// The numbers of methods and clues are judgement: what is checked here is what any such table must have, by probability
/// theory and by the rest of the library.

namespace {

const Library& built_in() {
  static const Library library = built_in_library();
  return library;
}

const LookTable& look(const std::string& id) { return std::get<LookTable>(built_in().methods.at(id).evidence); }

std::vector<std::string> looks() {
  std::vector<std::string> ids;
  for (const auto& [id, method] : built_in().methods) {
    if (std::holds_alternative<LookTable>(method.evidence)) ids.push_back(id);
  }
  return ids;
}

// Mutual information of what is so and what is said, all conditions equally likely [nat].
double information(const LookTable& table) {
  std::array<double, condition_count> said{};
  for (const ChanceRow& row : table.seen) {
    for (std::size_t i = 0; i < said.size(); ++i) said[i] += row.chance[i] / static_cast<double>(said.size());
  }
  double sum = 0.0;
  for (const ChanceRow& row : table.seen) {
    for (std::size_t i = 0; i < said.size(); ++i) {
      sum += row.chance[i] / static_cast<double>(said.size()) * std::log(row.chance[i] / said[i]);
    }
  }
  return sum;
}

Json document_of(const std::string& name) {
  for (const RecordText& record : built_in_records()) {
    if (record.name == name) return read_strict_json(record.text, name);
  }
  FAIL("no built-in record " + name);
  return {};
}

std::vector<std::string> problems_of(const Json& document) {
  std::vector<std::string> lines;
  try {
    static_cast<void>(with_record(built_in(), {"changed.json", document.dump()}));
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) lines.push_back(problem.pointer + ": " + problem.message);
  }
  return lines;
}

}  // namespace

TEST_CASE("methods: the seven ways to find something out are there", "[library][methods]") {
  // Scope of the project.
  CHECK(ids_of(built_in().methods) == std::vector<std::string>{"bend-tail", "elongation-tail", "look-boot", "look-borescope",
                                                               "look-opening", "look-touch", "resistance-reading"});
  CHECK(looks().size() == 4);
}

TEST_CASE("methods: rows of a look are distributions, and nothing is impossible", "[library][methods]") {
  for (const std::string& id : looks()) {
    for (const ChanceRow& row : look(id).seen) {
      CAPTURE(id);
      CHECK(std::accumulate(row.chance.begin(), row.chance.end(), 0.0) == Approx(1.0).margin(1e-12));
      // A chance of 0 would let one slip of an eye rule a condition out for ever.
      CHECK(*std::min_element(row.chance.begin(), row.chance.end()) > 0.0);
    }
  }
}

TEST_CASE("methods: the worse it is, the worse it is called", "[library][methods][property]") {
  // Stochastic order: the chance of being called so bad or worse rises with the true condition.
  for (const std::string& id : looks()) {
    for (std::size_t truth = 0; truth + 1 < condition_count; ++truth) {
      double better = 0.0, worse = 0.0;
      for (std::size_t said = condition_count - 1; said > 0; --said) {
        better += look(id).seen[truth].chance[said];
        worse += look(id).seen[truth + 1].chance[said];
        CAPTURE(id, truth, said);
        CHECK(worse > better);
      }
    }
  }
}

TEST_CASE("methods: touching tells more than looking, and a borescope tells least", "[library][methods]") {
  // Common practice, no source.
  CHECK(information(look("look-touch")) > information(look("look-opening")));
  CHECK(information(look("look-touch")) > information(look("look-boot")));
  CHECK(information(look("look-borescope")) < information(look("look-boot")));
  CHECK(information(look("look-borescope")) < information(look("look-opening")));
}

TEST_CASE("methods: a high insulation resistance says next to nothing", "[library][methods]") {
  // Common practice, no source: dry cracked insulation reads high, because air insulates too.
  const auto& reading = std::get<ResistanceReading>(built_in().methods.at("resistance-reading").evidence);
  const double cracked_to_supple = reading.high.chance[3] / reading.high.chance[0];
  CHECK(cracked_to_supple > 0.9);
  CHECK(cracked_to_supple <= 1.0);
  CHECK(reading.high_from.unit == "MOhm");
}

TEST_CASE("methods: the resistance reading says when it must not be made", "[library][methods]") {
  // Common practice, no source.
  std::string before;
  for (const SourcedText& sentence : built_in().methods.at("resistance-reading").before) before += sentence.text + ' ';
  CHECK_THAT(before, Contains("unplugged") && Contains("control unit") && Contains("airbag"));
}

TEST_CASE("methods: a bend round the default rod tells cracking when handled from stiff", "[library][methods]") {
  // The condition is defined by that bend (model.json, handling_diameters).
  const auto& bend = std::get<BendTest>(built_in().methods.at("bend-tail").evidence);
  CHECK(bend.diameters.value == built_in().model.condition.handling_diameters.value);
  CHECK(bend.cracks.chance[1] < 0.5);
  CHECK(bend.cracks.chance[2] > 0.5);
  CHECK(std::is_sorted(bend.cracks.chance.begin(), bend.cracks.chance.end()));
}

TEST_CASE("methods: only what takes covering off or cuts counts as an opening", "[library][methods]") {
  std::vector<std::string> opening;
  for (const auto& [id, method] : built_in().methods) {
    if (method.opens) opening.push_back(id);
  }
  CHECK(opening == std::vector<std::string>{"bend-tail", "elongation-tail", "look-opening", "look-touch"});
}

TEST_CASE("methods: judgement is confessed", "[library][methods]") {
  for (const auto& [id, method] : built_in().methods) {
    CAPTURE(id);
    CHECK(weakest_grade(method) == Grade::judgement);
  }
  for (const auto& [id, clue] : built_in().clues) {
    CAPTURE(id);
    CHECK(is_soft(weakest_grade(clue)));
  }
}

TEST_CASE("clues: every compound but the short-lived one has a clue that points to it", "[library][clues]") {
  // What the short-lived looms were made of is not known, so nothing can point to it.
  for (const auto& [insulation, record] : built_in().insulations) {
    if (insulation == "short-lived-1990s") continue;
    CAPTURE(insulation);
    const bool pointed_to =
        std::any_of(built_in().clues.begin(), built_in().clues.end(), [&, id = insulation](const auto& entry) {
          return chance_of(entry.second, id).value >= 5.0 * entry.second.others.value;
        });
    CHECK(pointed_to);
  }
}

TEST_CASE("clues: what is not named takes the chance of the others", "[library][clues]") {
  const Clue& clue = built_in().clues.at("print-code-2x");
  CHECK(chance_of(clue, "xlpo-125").value == clue.chance.at("xlpo-125").value);
  CHECK(chance_of(clue, "sir").value == clue.others.value);
}

TEST_CASE("clues: a print names the compounds whose types bear it", "[library][clues]") {
  // Type codes as the records of the insulations have them from type-code-lists, vehicle-wire-guide and
  // jaso-d611-2009-quoted.
  const auto most_likely = [](const std::string& id) {
    const Clue& clue = built_in().clues.at(id);
    return std::max_element(clue.chance.begin(), clue.chance.end(),
                            [](const auto& a, const auto& b) { return a.second.value < b.second.value; })
        ->first;
  };
  CHECK(most_likely("print-code-2x") == "xlpo-125");
  CHECK(most_likely("print-code-13y") == "tpe-e");
  CHECK(most_likely("print-code-2g") == "sir");
  CHECK(most_likely("print-sae-xl") == "xlpo-125");
  CHECK(most_likely("print-jaso-avx") == "xlpvc");
  CHECK(most_likely("print-class-a") == "pvc-std");
  CHECK(most_likely("braid-outside") == "nr-sbr-braid");
}

TEST_CASE("clues: only what can be lighter than water floats", "[library][clues]") {
  // Densities of the insulation records (catalogue).
  const Clue& clue = built_in().clues.at("sample-floats");
  for (const auto& [id, record] : built_in().insulations) {
    CAPTURE(id);
    const double lightest = record.density.low.value_or(record.density.value);
    CHECK((chance_of(clue, id).value > clue.others.value) == (lightest <= 1.0));
  }
}

TEST_CASE("clues: no clue asks for a flame, and heat stays away from fuel", "[library][clues]") {
  for (const auto& [id, clue] : built_in().clues) {
    CAPTURE(id);
    CHECK_THAT(clue.how.text, !Contains("lighter") && !Contains("match"));
    if (clue.how.text.find("tip") != std::string::npos) CHECK_THAT(clue.how.text, Contains("No flame") && Contains("fuel"));
  }
}

TEST_CASE("methods: a row must be five chances that sum to 1", "[library][methods][error]") {
  const auto after = [](const char* key, const Json& value) {
    Json document = document_of("methods/look-touch.json");
    document["look"]["seen"][key]["value"] = value;
    return problems_of(document);
  };
  CHECK(after("stiff", Json::array({0.2, 0.2, 0.2, 0.2, 0.2})).empty());
  CHECK_THAT(after("stiff", Json::array({0.2, 0.2, 0.2, 0.2, 0.1})).at(0),
             Contains("/look/seen/stiff: the chances sum to 0.9"));
  CHECK_THAT(after("cracked", Json::array({0.5, 0.5})).at(0),
             Contains("/look/seen/cracked/value") && Contains("five chances"));
  CHECK_THAT(after("cracked", Json::array({1.5, -0.5, 0, 0, 0})).at(0), Contains("five chances of 0 to 1"));
  CHECK_THAT(after("cracked", 1.0).at(0), Contains("five chances"));
}

TEST_CASE("methods: one sort of evidence and no more", "[library][methods][error]") {
  Json document = document_of("methods/look-touch.json");
  document["elongation"] = document_of("methods/elongation-tail.json")["elongation"];
  CHECK_THAT(problems_of(document).at(0), Contains("exactly one of"));
  document.erase("elongation");
  document.erase("look");
  CHECK_THAT(problems_of(document).at(0), Contains("exactly one of"));
}

TEST_CASE("clues: insulations must exist and are named once", "[library][clues][error]") {
  Json document = document_of("clues/print-code-2x.json");
  document["likelihood"][0]["insulation"] = "xlpo-152";
  CHECK_THAT(problems_of(document).at(0),
             Contains("/likelihood/0/insulation") && Contains("unknown insulation \"xlpo-152\""));
  document = document_of("clues/print-code-2x.json");
  document["likelihood"].push_back(document["likelihood"][0]);
  CHECK_THAT(problems_of(document).at(0), Contains("is listed twice"));
  document = document_of("clues/print-code-2x.json");
  document["others"]["value"] = 0;
  CHECK_THAT(problems_of(document).at(0), Contains("/others/value"));
}
