#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "heatside/report/case_drawings.hpp"
#include "report/drawing_words.hpp"
#include "report/svg.hpp"

namespace heatside::report {

namespace {

using inspection::CaseOrder;
using population::TreeBranch;
using population::TreeNode;

constexpr double indent = 20.0, margin = 10.0;

// "top: used loom, main: leave and watch"
std::string actions_words(const CaseOrder& order, const std::vector<std::size_t>& actions) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < actions.size(); ++i) {
    const population::Choice& choice = order.question.choices[i];
    const bool has_name = i < order.actions.size() && actions[i] < order.actions[i].size();
    const std::string name = has_name ? order.actions[i][actions[i]].name : "";
    words.push_back(choice.id + ": " + (name.empty() ? choice.actions[actions[i]].id : name));
  }
  return join(words, ", ");
}

std::string outcomes_words(const TreeBranch& branch) {
  std::vector<std::string> words;
  for (const std::size_t outcome : branch.outcomes) words.emplace_back(library::seen_names[outcome]);
  return fmt::format("{}: {:.0f} in 100", join(words, " or "), 100.0 * branch.chance);
}

// The end of looking: white and round.
svg::Block stop_box(const CaseOrder& order, const TreeNode& node, const std::string& when, svg::Point at, double room) {
  const svg::Block found =
      svg::paragraph({at.x + 9.0, at.y + 4.0}, room - 18.0, when, {.size = 10.5, .fill = svg::soft_ink});
  const svg::Block words = svg::paragraph({at.x + 9.0, at.y + 4.0 + found.height}, room - 18.0,
                                          "Stop looking; then " + actions_words(order, node.actions));
  const double height = found.height + words.height + 9.0;
  return {svg::box(at, room, height, fmt::format("fill=\"{}\" stroke=\"{}\" rx=\"9\"", svg::paper, svg::soft_ink)) +
              found.drawn + words.drawn,
          height};
}

// An opening: grey and numbered.
svg::Block opening_box(const std::string& id, std::size_t number, const std::string& when, svg::Point at, double room) {
  const svg::Block found =
      svg::paragraph({at.x + 9.0, at.y + 4.0}, room - 18.0, when, {.size = 10.5, .fill = svg::soft_ink});
  const double middle = at.y + found.height + (when.empty() ? 13.0 : 15.0), height = middle + 12.0 - at.y;
  return {svg::box(at, room, height, fmt::format("fill=\"#ececea\" stroke=\"{}\" stroke-width=\"1.4\"", svg::ink)) +
              found.drawn + svg::circle({at.x + 16.0, middle}, 8.5, fmt::format("fill=\"{}\"", svg::ink)) +
              svg::text(at.x + 16.0, middle + 4.0, std::to_string(number),
                        {.anchor = "middle", .bold = true, .fill = svg::paper}) +
              svg::text(at.x + 31.0, middle + 4.5, "open " + id, {.size = 12.5, .bold = true}, room - 38.0),
          height};
}

// A node with all that follows below it; branches are as thick as they are likely.
svg::Block subtree(const CaseOrder& order, const TreeNode& node, std::size_t depth, const std::string& when, svg::Point at,
                   double width) {
  const double room = width - at.x - margin;
  if (!node.look) return stop_box(order, node, when, at, room);
  svg::Block all = opening_box(order.question.candidates[*node.look].id, depth + 1, when, at, room);
  const double from = at.y + all.height, trunk = at.x + 10.0;
  std::string joints;
  for (const TreeBranch& branch : node.branches) {
    const svg::Point child{at.x + indent, at.y + all.height + 6.0};
    const svg::Block below = subtree(order, branch.next, depth + 1, outcomes_words(branch), child, width);
    joints += svg::path(
        fmt::format("M{} {}V{}H{}", svg::number(trunk), svg::number(from), svg::number(child.y + 12.0),
                    svg::number(child.x)),
        fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"", svg::ink, svg::number(1.0 + 5.0 * branch.chance)));
    all.drawn += below.drawn;
    all.height += 6.0 + below.height;
  }
  return {joints + all.drawn, all.height};
}

std::string description(const CaseOrder& order, const TreeNode& node) {
  if (!node.look) return "stop looking, " + actions_words(order, node.actions);
  std::string words = "open " + order.question.candidates[*node.look].id;
  for (const TreeBranch& branch : node.branches)
    words += " (" + outcomes_words(branch) + ": " + description(order, branch.next) + ")";
  return words;
}

const char* reason(inspection::Looking looking) {
  switch (looking) {
    case inspection::Looking::changes_nothing:
      return "More looking would not change this choice.";
    case inspection::Looking::not_allowed:
      return "The owner allows no further opening.";
    case inspection::Looking::nothing_left:
      return "Nothing is left to open.";
    case inspection::Looking::pays:
    case inspection::Looking::costs_more:
      break;
  }
  return "More looking costs more than it is expected to save.";
}

std::string summary(const CaseOrder& order) {
  const bool pays = order.order.looking == inspection::Looking::pays && order.order.tree.root.look;
  if (!pays) return std::string{reason(order.order.looking)} + " Not opened, nothing claimed.";
  return fmt::format("Expected to save {:.0f} {} after the costs of looking. Thick lines are the likelier ways.",
                     order.order.tree.net_saving, order.currency.empty() ? "min of work" : order.currency);
}

}  // namespace

std::string order_drawing(const CaseOrder& order, const DrawingPlace& place) {
  require_width(place);
  const bool pays = order.order.looking == inspection::Looking::pays;
  TreeNode closed;
  closed.actions = order.order.now.best;
  const TreeNode& root = pays ? order.order.tree.root : closed;
  const std::string title = "What to open, and what then";
  const svg::Block head = svg::heading(title, summary(order), place.width);
  const svg::Block tree = subtree(order, root, 0, "", {margin, head.height + 4.0}, place.width);
  const std::string before = order.consent ? "The owner has agreed to openings. "
                                           : "Before the first opening ask the owner: the vehicle may not run afterwards. ";
  std::vector<std::string> kept_out;
  for (const std::size_t candidate : order.order.kept_out) kept_out.push_back(order.question.candidates[candidate].id);
  const std::string never =
      kept_out.empty() ? "" : "Airbag or belt-tensioner circuits, never in this plan: " + join(kept_out) + ". ";
  const svg::Block more =
      svg::paragraph({margin, head.height + tree.height + 12.0}, place.width - 2.0 * margin,
                     before + never + "Brittle insulation cracks when it is moved.", {.size = 10.0, .fill = svg::soft_ink});
  return svg::drawn({place.prefix, title, summary(order) + " Plan: " + description(order, root) + ". " + before + never,
                     place.width, head.height + tree.height + more.height + 22.0},
                    head.drawn + tree.drawn + more.drawn);
}

}  // namespace heatside::report
