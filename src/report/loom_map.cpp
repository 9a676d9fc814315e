#include "heatside/report/loom_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "base/text.hpp"
#include "report/condition_ink.hpp"
#include "report/drawing_words.hpp"
#include "report/map_layout.hpp"

namespace heatside::report {

namespace {

using casefile::Case;
using population::Estimate;
using population::SegmentEstimate;

constexpr double margin = 8.0, column_gap = 10.0, one_column = 300.0;

// What the rows of a map are written from.
struct Subject {
  const Case& job;
  const library::Library& library;
  const Estimate& estimate;
  const std::map<std::string, std::size_t>& numbers;
  std::map<std::string, const SegmentEstimate*> by_id;

  [[nodiscard]] const SegmentEstimate& estimate_of(const casefile::Segment& segment) const {
    const auto found = by_id.find(segment.id);
    if (found == by_id.end()) throw DomainError("the estimate has no segment \"" + segment.id + "\"");
    return *found->second;
  }
};

// Where a field stands and how its lanes lie.
struct Frame {
  double x{}, y{}, width{};
  double lane_step{}, text_x{};
  [[nodiscard]] double lane(std::size_t number) const { return x + 16.0 + lane_step * static_cast<double>(number); }
};

Frame frame_of(const MapField& field, svg::Point corner, double width) {
  constexpr double lanes_take = 66.0;
  const double step = std::min(17.0, lanes_take / static_cast<double>(field.lanes));
  Frame frame{corner.x, corner.y, width, step, 0.0};
  frame.text_x = frame.lane(field.lanes - 1) + 15.0;
  return frame;
}

// "head-cover, hot part beside it"
std::string zones_words(const casefile::Segment& segment) {
  std::vector<std::string> zones;
  bool hot = false;
  for (const casefile::Stretch& stretch : segment.stretches) {
    if (std::find(zones.begin(), zones.end(), stretch.zone) == zones.end()) zones.push_back(stretch.zone);
    hot = hot || !stretch.hot_bodies.empty();
  }
  return join(zones, " + ") + (hot ? ", hot part beside it" : "");
}

// The last thing that was found at a segment.
std::string seen_words(const Case& job, const casefile::Segment& segment) {
  const casefile::Finding* last = nullptr;
  for (const casefile::Finding& finding : job.findings) {
    if (finding.segment == segment.id && finding.seen && (last == nullptr || finding.on.day >= last->on.day))
      last = &finding;
  }
  if (last == nullptr) return "";
  return fmt::format("seen {} {}", library::seen_names[static_cast<std::size_t>(*last->seen)],
                     format_date(last->on).substr(0, 7));
}

std::string third_line(const Case& job, const casefile::Segment& segment) {
  std::string words = segment.airbag ? "AIRBAG CIRCUIT, never opened; " : "";
  const std::string seen = seen_words(job, segment);
  return words + (seen.empty() ? "" : seen + "; ") + zones_words(segment);
}

std::string badge(svg::Point centre, std::size_t number) {
  return svg::circle(centre, 8.5, fmt::format("fill=\"{}\"", svg::ink)) +
         svg::text(centre.x, centre.y + 4.0, std::to_string(number),
                   {.size = 11.0, .anchor = "middle", .bold = true, .fill = svg::paper});
}

// Three bent rays beside a disc.
std::string hot_sign(svg::Point centre) {
  const auto at = [&](double dx, double dy) {
    return fmt::format("{} {}", svg::number(centre.x + dx), svg::number(centre.y + dy));
  };
  std::string rays;
  for (const double dy : {-3.0, 0.0, 3.0}) rays += fmt::format("M{}L{}", at(2.5, dy), at(6.0, 1.6 * dy));
  return svg::path(fmt::format("M{}A3.4 3.4 0 0 0 {}Z", at(0.5, -3.4), at(0.5, 3.4)), fmt::format("fill=\"{}\"", svg::ink)) +
         svg::path(rays, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.2\"", svg::ink));
}

std::string condition_line(const Subject& subject, const SegmentEstimate& segment, svg::Point at, double room) {
  std::string drawn = svg::text(at.x, at.y, ageing::name_of(segment.most_likely), {.bold = true});
  if (subject.estimate.likely_only)
    return drawn + svg::text(at.x + 80.0, at.y, "likely case, no chances", {.size = 10.5}, room - 80.0);
  const double bar = std::clamp(room - 80.0 - 82.0, 30.0, 110.0);
  drawn += chance_bar({at.x + 80.0, at.y - 8.5}, bar, 9.0, segment.chance);
  return drawn + svg::text(at.x + 86.0 + bar, at.y, chance_words(segment.chance_cracked()) + " cracked", {.size = 10.5},
                           room - 86.0 - bar);
}

std::string tooltip(const Subject& subject, const casefile::Segment& segment, const SegmentEstimate& estimate) {
  const auto name_of_node = [&](const std::string& id) {
    const casefile::Node* node = casefile::find_by_id(subject.job.nodes, id);
    return node == nullptr || node->name.empty() ? id : node->name;
  };
  std::string words = fmt::format("{}, from {} to {}: {}", segment_words(estimate), name_of_node(segment.from),
                                  name_of_node(segment.to), ageing::name_of(estimate.most_likely));
  if (!subject.estimate.likely_only) words += fmt::format(", {} cracked or worse", chance_words(estimate.chance_cracked()));
  if (const auto number = subject.numbers.find(segment.id); number != subject.numbers.end())
    words += fmt::format(", opening {}", number->second);
  return words + "; " + third_line(subject.job, segment);
}

std::string row_drawn(const Subject& subject, const MapLine& line, const Frame& frame) {
  const casefile::Segment& segment = subject.job.segments[line.segment];
  const SegmentEstimate& estimate = subject.estimate_of(segment);
  const double y = frame.y + line.row_y, room = frame.x + frame.width - frame.text_x - 6.0;
  const auto number = subject.numbers.find(segment.id);
  const double shift = number == subject.numbers.end() ? 0.0 : 22.0;
  std::string drawn;
  if (shift > 0.0) drawn += badge({frame.text_x + 8.5, y + 12.0}, number->second);
  const std::string id = svg::shortened(segment.id, 0.6 * room, 12.0, true);
  drawn += svg::text(frame.text_x + shift, y + 16.0, segment.id, {.size = 12.0, .bold = true}, 0.6 * room);
  if (!segment.name.empty() && segment.name != segment.id) {
    const double used = shift + svg::width_of(id, 12.0, true) + 5.0;
    drawn += svg::text(frame.text_x + used, y + 16.0, segment.name, {}, std::max(room - used, 12.0));
  }
  drawn += condition_line(subject, estimate, {frame.text_x, y + 30.5}, room);
  const bool hot = std::any_of(segment.stretches.begin(), segment.stretches.end(),
                               [](const casefile::Stretch& stretch) { return !stretch.hot_bodies.empty(); });
  if (hot) drawn += hot_sign({frame.text_x + 3.0, y + 40.5});
  const double indent = hot ? 13.0 : 0.0;
  return drawn + svg::text(frame.text_x + indent, y + 44.0, third_line(subject.job, segment),
                           {.size = 10.0, .fill = svg::soft_ink}, room - indent);
}

std::string line_data(const MapLine& line, const Frame& frame) {
  const double x = frame.lane(line.lane), y = frame.y + line.from_y, end = frame.y + line.to_y;
  if (line.from_lane == line.lane) return fmt::format("M{0} {1}V{2}", svg::number(x), svg::number(y), svg::number(end));
  const double bend = std::min(frame.lane_step, 9.0);
  return fmt::format("M{0} {1}H{2}Q{3} {1} {3} {4}V{5}", svg::number(frame.lane(line.from_lane)), svg::number(y),
                     svg::number(x - bend), svg::number(x), svg::number(y + bend), svg::number(end));
}

// From the line to its words; in its own row nothing lies to the right of it.
std::string leader(const MapLine& line, const Frame& frame) {
  const double y = frame.y + line.row_y + 26.5;
  return svg::line({frame.lane(line.lane), y}, {frame.text_x - 3.0, y},
                   fmt::format("stroke=\"{}\" stroke-width=\"0.8\"", svg::soft_ink));
}

std::string node_drawn(const Subject& subject, const MapNode& node, const Frame& frame) {
  const casefile::Node& of = subject.job.nodes[node.node];
  const std::string name = of.name.empty() ? of.id : of.name;
  const double x = frame.lane(node.lane), y = frame.y + node.y, to = frame.y + std::max(node.branches_to, node.y);
  const std::string look = fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.6\"{}", svg::paper, svg::ink,
                                       node.again ? " stroke-dasharray=\"2 1.6\"" : "");
  std::string drawn;
  if (to > y) drawn += svg::box({x - 4.0, y - 4.0}, 8.0, to - y + 8.0, look + " rx=\"4\"");
  if (!node.letter.empty()) {
    drawn += svg::circle({x, y}, node.letter.size() > 1 ? 9.0 : 7.5, look);
    drawn += svg::text(x, y + 3.8, node.letter, {.size = 10.5, .anchor = "middle", .bold = true});
  } else if (to <= y) {
    drawn += svg::circle({x, y}, 4.6, look);
  }
  if (of.terminal)
    drawn += svg::path(fmt::format("M{} {}h10m-7 2.6h4", svg::number(x - 5.0), svg::number(y + 8.0)),
                       fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.6\"", svg::ink));
  return svg::group(node.letter.empty() ? name : node.letter + ": " + name, drawn);
}

// Where a run starts: which loom, and at what.
std::string start_words(const Subject& subject, const MapField& field, std::size_t at) {
  const casefile::Node& node = subject.job.nodes[field.nodes[at].node];
  for (const MapLine& line : field.lines) {
    if (line.row_y >= field.nodes[at].y)
      return subject.job.segments[line.segment].loom + ": " + (node.name.empty() ? node.id : node.name);
  }
  return node.id;
}

std::string minutes_words(const Subject& subject, const MapField& field) {
  std::optional<double> least;
  for (const MapLine& line : field.lines) {
    if (const auto& minutes = subject.job.segments[line.segment].to_open)
      least = std::min(least.value_or(minutes->value()), minutes->value());
  }
  const std::string count = field.lines.size() == 1 ? "1 segment" : fmt::format("{} segments", field.lines.size());
  return least ? fmt::format("{}, {:.0f} min or more to reach one", count, *least) : count;
}

// A lid with a grip for what has to come off, an open outline for what lies open.
std::string field_drawn(const Subject& subject, const MapField& field, const Frame& frame) {
  const bool open = field.cover.empty();
  const std::string look = open ? fmt::format("fill=\"none\" stroke=\"{}\" stroke-dasharray=\"4 4\" rx=\"6\"", svg::soft_ink)
                                : fmt::format("fill=\"#f6f6f4\" stroke=\"{}\" rx=\"6\"", svg::soft_ink);
  std::string drawn = svg::box({frame.x, frame.y}, frame.width, field.height, look);
  if (!open) {
    drawn += svg::box({frame.x, frame.y}, frame.width, 6.0, fmt::format("fill=\"{}\" rx=\"3\"", svg::soft_ink));
    drawn += svg::box({frame.x + 0.5 * frame.width - 18.0, frame.y - 4.0}, 36.0, 5.0,
                      fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.6\" rx=\"2.5\"", svg::soft_ink));
  }
  drawn += svg::text(frame.x + 9.0, frame.y + 22.0, open ? "In the open: nothing comes off" : "Under: " + field.cover,
                     {.size = 12.0, .bold = true}, frame.width - 18.0);
  drawn += svg::text(frame.x + 9.0, frame.y + 36.0, minutes_words(subject, field), {.size = 10.0, .fill = svg::soft_ink},
                     frame.width - 18.0);
  for (const MapLine& line : field.lines) {
    const casefile::Segment& segment = subject.job.segments[line.segment];
    const SegmentEstimate& estimate = subject.estimate_of(segment);
    drawn += svg::group(
        tooltip(subject, segment, estimate),
        leader(line, frame) + loom_line(line_data(line, frame), estimate.most_likely) + row_drawn(subject, line, frame),
        fmt::format("data-segment=\"{}\"", svg::escaped(segment.id)));
  }
  for (std::size_t i = 0; i < field.nodes.size(); ++i) {
    drawn += node_drawn(subject, field.nodes[i], frame);
    if (field.nodes[i].start)
      drawn += svg::text(frame.lane(0) + 14.0, frame.y + field.nodes[i].y + 4.0, start_words(subject, field, i),
                         {.size = 10.5, .fill = svg::soft_ink}, frame.x + frame.width - frame.lane(0) - 20.0);
  }
  return drawn;
}

// Fields of one column joined along the left edge where the loom goes on from one to the next.
struct Placed {
  const MapField* field;
  Frame frame;
};

std::vector<Placed> placed_fields(const std::vector<MapField>& fields, double top, double width, double& bottom) {
  constexpr double gap = 14.0;
  const auto columns =
      std::max<std::size_t>(1, static_cast<std::size_t>((width - 2.0 * margin + column_gap) / (one_column + column_gap)));
  const double wide = (width - 2.0 * margin + column_gap) / static_cast<double>(columns) - column_gap;
  double whole = 0.0;
  for (const MapField& field : fields) whole += field.height + gap;
  const double share = whole / static_cast<double>(columns);
  std::vector<Placed> placed;
  double y = top, before = 0.0;
  std::size_t column = 0;
  bottom = top;
  for (const MapField& field : fields) {
    // A field goes where its middle belongs if all columns are to be alike.
    const auto belongs = std::min(columns - 1, static_cast<std::size_t>((before + 0.5 * field.height) / share));
    if (belongs > column) {
      ++column;
      y = top;
    }
    placed.push_back({&field, frame_of(field, {margin + static_cast<double>(column) * (wide + column_gap), y + 4.0}, wide)});
    y += field.height + gap;
    before += field.height + gap;
    bottom = std::max(bottom, y);
  }
  return placed;
}

svg::Block legend(const Subject& subject, double top, double width) {
  const std::size_t in_a_row = width >= 560.0 ? 5 : 2;
  const double step = (width - 2.0 * margin) / static_cast<double>(in_a_row);
  std::string drawn = svg::text(margin, top + 12.0, "Condition by heat, the likeliest", {.bold = true});
  double y = top + 28.0;
  for (std::size_t i = 0; i < ageing::condition_names.size(); ++i) {
    const double x = margin + step * static_cast<double>(i % in_a_row);
    y = top + 28.0 + 17.0 * static_cast<double>(i / in_a_row);
    drawn += loom_line(fmt::format("M{} {}h24", svg::number(x), svg::number(y)), static_cast<ageing::Condition>(i));
    drawn += svg::text(x + 30.0, y + 3.5, ageing::condition_names[i], {.size = 10.0}, step - 32.0);
  }
  y += 14.0;
  std::string notes = "flex-cracks: cracks when handled; cracked: as it lies. ";
  if (!subject.estimate.likely_only)
    notes += fmt::format("Bar: chances of all five, from good to bad ({} draws). Percent: cracked or crumbling by now. ",
                         subject.estimate.draws);
  notes +=
      "Grey words: what was seen, and the zones it runs through. White dot: plug or clip; long one: break-out; with strokes "
      "below: screwed to metal. A letter: the same place is in "
      "another field too. Half disc with rays: a hot part beside it. ";
  notes += subject.numbers.empty()
               ? "No numbers: no opening is worth its cost by this estimate. "
               : "Black number: which opening of the plan; what one shows decides which of the next comes. ";
  const svg::Block more = svg::paragraph({margin, y}, width - 2.0 * margin, notes + std::string{not_claimed},
                                         {.size = 10.0, .fill = svg::soft_ink});
  return {drawn + more.drawn, y + more.height - top};
}

std::string description(const Subject& subject, const std::vector<MapField>& fields) {
  std::string words = "The looms by what has to come off to reach them. ";
  for (const MapField& field : fields) {
    words += field.cover.empty() ? "In the open: " : "Under " + field.cover + ": ";
    std::vector<std::string> rows;
    for (const MapLine& line : field.lines) {
      const casefile::Segment& segment = subject.job.segments[line.segment];
      rows.push_back(tooltip(subject, segment, subject.estimate_of(segment)));
    }
    words += join(rows, ". ") + ". ";
  }
  return words + std::string{not_claimed};
}

}  // namespace

std::map<std::string, std::size_t> opening_numbers(const inspection::CaseOrder& order) {
  std::map<std::string, std::size_t> numbers;
  if (order.order.looking != inspection::Looking::pays) return numbers;
  std::vector<const population::TreeNode*> level{&order.order.tree.root};
  for (std::size_t number = 1; !level.empty(); ++number) {
    std::vector<const population::TreeNode*> next;
    for (const population::TreeNode* node : level) {
      if (!node->look) continue;
      numbers.emplace(order.question.candidates[*node->look].id, number);
      for (const population::TreeBranch& branch : node->branches) next.push_back(&branch.next);
    }
    level = std::move(next);
  }
  return numbers;
}

std::string loom_map(const Case& job, const library::Library& library, const Estimate& estimate,
                     const std::map<std::string, std::size_t>& numbers, const DrawingPlace& place) {
  require_width(place);
  Subject subject{job, library, estimate, numbers, {}};
  for (const SegmentEstimate& segment : estimate.segments) subject.by_id.emplace(segment.id, &segment);
  const std::vector<MapField> fields = map_fields(job);
  const std::string title = "What comes off to reach it: " + job.title;
  const svg::Block head = svg::heading(
      title, job.invented ? "Invented scenario: an example, not a vehicle." : "A strip map, not to scale.", place.width);
  double bottom = 0.0;
  std::string drawn = head.drawn;
  for (const Placed& one : placed_fields(fields, head.height + 6.0, place.width, bottom))
    drawn += field_drawn(subject, *one.field, one.frame);
  const svg::Block key = legend(subject, bottom, place.width);
  return svg::drawn({place.prefix, title, description(subject, fields), place.width, bottom + key.height + 6.0},
                    drawn + key.drawn);
}

}  // namespace heatside::report
