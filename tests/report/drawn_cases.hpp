#pragma once

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <random>
#include <string>

#include "heatside/casefile/read.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/population/drawn_estimate.hpp"

/// Cases to draw. All of them are invented.

namespace heatside::report::testing {

using Json = nlohmann::json;

inline const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

inline Json hillside() {
  std::ifstream in{HEATSIDE_SOURCE_DIR "/examples/hillside-estate.case.json"};
  return Json::parse(std::string{std::istreambuf_iterator<char>{in}, {}});
}

inline casefile::Case read(const Json& document) {
  return casefile::read_case(document.dump(), "invented.case.json", records());
}

inline population::DrawnAnswer answer_of(const casefile::Case& job) {
  return population::drawn_answer(job, records(), {.draws = 400});
}

/// A plan over three segments of the demo: the first is opened, then what it shows decides whether the next ones are.
inline inspection::CaseOrder plan_of_three() {
  using population::TreeBranch;
  using population::TreeNode;
  inspection::CaseOrder order;
  for (const char* id : {"shelf-engine", "shelf-relays", "grommet-shelf"}) {
    inspection::Candidate candidate;
    candidate.id = id;
    order.question.candidates.push_back(candidate);
  }
  for (const char* loom : {"top", "main"}) {
    population::Choice choice{loom, {}};
    for (const char* id : {"leave", "replace"}) {
      population::Action action;
      action.id = id;
      choice.actions.push_back(action);
    }
    order.question.choices.push_back(choice);
  }
  const auto stop = [](std::size_t top, std::size_t main) {
    TreeNode node;
    node.actions = {top, main};
    return node;
  };
  TreeNode third = stop(1, 1), second = stop(1, 0), first = stop(1, 1);
  third.look = 2;
  third.branches = {TreeBranch{{0, 1}, 0.55, stop(1, 0)}, TreeBranch{{2, 3, 4}, 0.45, stop(1, 1)}};
  second.look = 1;
  second.branches = {TreeBranch{{0, 1, 2}, 0.8, stop(1, 0)}, TreeBranch{{3, 4}, 0.2, third}};
  first.look = 0;
  first.branches = {TreeBranch{{0, 1}, 0.3, second}, TreeBranch{{2, 3, 4}, 0.7, stop(1, 1)}};
  order.order.tree.root = first;
  order.order.tree.net_saving = 123.0;
  order.order.now.best = {1, 0};
  order.order.looking = inspection::Looking::pays;
  order.currency = "EUR";
  return order;
}

/// The demo with a look and a pulled tail.
inline Json with_findings() {
  Json document = hillside();
  const std::string lot = document["segments"][5]["groups"][0]["lot"];
  const std::string id = document["segments"][5]["id"];
  document["findings"] = {
      {{"segment", id}, {"seen", "flex-cracks"}, {"method", "look-opening"}, {"cause", "heat"}, {"on", "2014-05-03"}},
      {{"segment", id},
       {"method", "elongation-tail"},
       {"elongation", {{"percent", 8}, {"standard_error", 3}}},
       {"cause", "heat"},
       {"on", "2010-05-03"},
       {"lot", lot}}};
  return document;
}

/// Looms of `segments` segments that branch at random, under nine covers, four of them closing loops.
inline Json branching(std::size_t segments) {
  Json document = hillside();
  const Json pattern = document["segments"][0];
  document["assumed"] = Json::array();
  document["looms"].erase(1);
  Json lots = Json::array();
  for (const Json& lot : document["lots"]) {
    for (const Json& group : pattern["groups"]) {
      if (group["lot"] == lot["id"]) lots.push_back(lot);
    }
  }
  document["lots"] = lots;
  document["nodes"] = {{{"id", "n0"}, {"name", "where it all begins"}}};
  document["segments"] = Json::array();
  std::mt19937 random{20240607};
  const auto below = [&](std::size_t limit) { return static_cast<std::size_t>(random()) % limit; };
  for (std::size_t i = 0; i < segments; ++i) {
    document["nodes"].push_back({{"id", "n" + std::to_string(i + 1)}, {"name", "place " + std::to_string(i + 1)}});
    Json segment = pattern;
    segment["id"] = "seg-" + std::to_string(i);
    segment["name"] = "stretch number " + std::to_string(i) + " of a loom that goes on and on";
    segment["from"] = "n" + std::to_string(i - below(std::min<std::size_t>(i + 1, 12)));
    segment["to"] = "n" + std::to_string(i + 1);
    segment.erase("cover_group");
    const std::size_t cover = below(7) == 0 ? below(9) : i / 11 % 9;
    if (cover > 0) segment["cover_group"] = "cover " + std::to_string(cover);
    document["segments"].push_back(segment);
  }
  for (std::size_t i = 0; segments > 40 && i < 4; ++i) {
    Json segment = document["segments"][20 * i / (segments > 80 ? 1 : 2)];
    segment["id"] = "loop-" + std::to_string(i);
    segment["to"] = "n" + std::to_string(10 * i + 9);
    document["segments"].push_back(segment);
  }
  return document;
}

}  // namespace heatside::report::testing
