#include "heatside/casefile/read.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/measured.hpp"
#include "casefile/place.hpp"
#include "casefile/reading.hpp"

namespace heatside::casefile {

namespace {

[[noreturn]] void refuse(const Reading& reading) {
  struct Placed {
    std::vector<std::size_t> order;
    Problem problem;
  };
  std::vector<Placed> placed;
  for (const Problem& problem : reading.problems) {
    placed.push_back({order_in_text(reading.document, problem.pointer), problem});
  }
  std::stable_sort(placed.begin(), placed.end(), [](const Placed& a, const Placed& b) { return a.order < b.order; });
  std::vector<Problem> in_order;
  for (Placed& place : placed) in_order.push_back(std::move(place.problem));
  throw InputError(std::move(in_order));
}

// A text of another kind would only give a list of unknown keys, so it is refused at once.
void expect_case(Fields& top, Reading& reading) {
  const std::string format = top.text("format");
  if (!format.empty() && format != "heatside-case") {
    top.complain("format", fmt::format("\"{}\" is not a case; expected \"heatside-case\"", format));
  }
  const double version = top.number("version", {1.0, 1.0e6, ""});
  if (version != 1.0) {
    top.complain("version", fmt::format("version {} is not known; this program reads version 1", plain_number(version, 10)));
  }
  if (!reading.problems.empty()) refuse(reading);
}

void read_head(Fields& top, Reading& reading) {
  Case& result = reading.result;
  result.title = top.text("title");
  result.note = top.optional_text("note").value_or("");
  result.invented = top.optional_flag("invented").value_or(false);
  result.currency = top.optional_text("currency").value_or("");
  const bool is_code = result.currency.size() == 3 && std::all_of(result.currency.begin(), result.currency.end(),
                                                                  [](char c) { return c >= 'A' && c <= 'Z'; });
  if (!result.currency.empty() && !is_code) {
    top.complain("currency",
                 fmt::format("\"{}\" is no currency code; expected three capitals such as EUR", result.currency));
  }
}

Terminal read_terminal(Fields fields, Reading& reading) {
  Terminal terminal;
  terminal.zone = read_record_id(fields, "zone", "zone", reading.library.zones);
  if (auto surface = fields.optional_object("surface_Cel"))
    terminal.surface_celsius = read_by_running_state(*surface, {0.0, 900.0, "degC"});
  const std::optional<std::string> cools = fields.optional_choice("cools_with", {"engine", "exhaust"});
  terminal.cools_with_exhaust = cools == "exhaust";
  if (cools && !terminal.surface_celsius) {
    fields.complain("cools_with", "without \"surface_Cel\" the part has the temperature of its zone and cools with it");
  }
  if (!cools && terminal.surface_celsius) {
    reading.assume(
        fields.pointer("cools_with"),
        "the part that the wires are screwed to cools slowly, with the engine; write exhaust where it cools fast");
  }
  fields.refuse_unknown();
  return terminal;
}

void read_nodes(Fields& top, Reading& reading) {
  std::vector<Fields> nodes = read_list(top, "nodes", 2, reading.nodes);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    Node node;
    node.id = read_id(nodes[i], reading.nodes, i);
    node.name = read_name(nodes[i], node.id);
    if (auto terminal = nodes[i].optional_object("terminal")) node.terminal = read_terminal(*terminal, reading);
    nodes[i].optional_text("note");
    nodes[i].refuse_unknown();
    reading.result.nodes.push_back(std::move(node));
  }
}

void settle_case_dates(Reading& reading) {
  Case& result = reading.result;
  result.built = *reading.built;
  result.entered_service = *reading.entered_service;
  result.inspected = *reading.inspected;
  list_inexact_dates(reading);
}

// What moves the answer most: the compound, the temperatures, the use; dates last.
int importance(const Assumption& assumption) {
  const std::string& at = assumption.pointer;
  const auto ends_with = [&](const std::string& end) {
    return at.size() >= end.size() && at.compare(at.size() - end.size(), end.size(), end) == 0;
  };
  if (at.rfind("/remedies", 0) == 0 || at.rfind("/circuits", 0) == 0) return 3;  // they do not move the estimate
  if (ends_with("/insulation")) return 0;
  if (ends_with("/zone")) return 1;
  if (assumption.text.find(" is taken as ") != std::string::npos) return 4;
  return at.rfind("/service", 0) == 0 || at.rfind("/future", 0) == 0 || ends_with("odometer_km") ? 2 : 3;
}

// What the case lists itself comes first, in its own order.
void put_listed_first(std::vector<Assumption> listed, Case& result) {
  std::stable_sort(result.assumptions.begin(), result.assumptions.end(),
                   [](const Assumption& a, const Assumption& b) { return importance(a) < importance(b); });
  std::move(result.assumptions.begin(), result.assumptions.end(), std::back_inserter(listed));
  result.assumptions = std::move(listed);
}

}  // namespace

Case read_case(std::string_view text, const std::string& file, const library::Library& library,
               const ReadBeside& read_beside) {
  const Json document = read_strict_json(text, file);
  Reading reading{library, document, file};
  Fields top{document, "", file, reading.problems};
  expect_case(top, reading);

  read_head(top, reading);
  read_vehicle(top, reading);
  read_service(top, reading);
  read_looms(top, reading);
  read_lots(top, reading);
  read_nodes(top, reading);
  read_segments(top, reading);
  read_measured(top, reading, read_beside);
  read_recorded(top, reading);
  std::vector<Assumption> listed;
  read_assumed(top, reading, listed);
  top.refuse_unknown();
  if (!reading.problems.empty()) refuse(reading);

  settle_case_dates(reading);
  put_listed_first(std::move(listed), reading.result);
  return std::move(reading.result);
}

}  // namespace heatside::casefile
