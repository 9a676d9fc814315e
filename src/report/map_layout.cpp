#include "report/map_layout.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "heatside/base/error.hpp"

namespace heatside::report {

namespace {

using casefile::Case;

struct Ends {
  std::size_t from{}, to{};
};

std::vector<Ends> ends_of_segments(const Case& job) {
  std::map<std::string, std::size_t> numbers;
  for (std::size_t i = 0; i < job.nodes.size(); ++i) numbers.emplace(job.nodes[i].id, i);
  std::vector<Ends> ends;
  for (const casefile::Segment& segment : job.segments) {
    const auto from = numbers.find(segment.from), to = numbers.find(segment.to);
    if (from == numbers.end() || to == numbers.end())
      throw DomainError("segment \"" + segment.id + "\" runs between nodes that the case does not have");
    ends.push_back({from->second, to->second});
  }
  return ends;
}

// Segments of one loom under one cover that hang together.
using Run = std::vector<std::size_t>;

std::vector<Run> runs_of(const std::vector<std::size_t>& segments, const std::vector<Ends>& ends, const Case& job) {
  std::map<std::pair<std::string, std::size_t>, std::vector<std::size_t>> at_node;  // by loom and node
  for (const std::size_t segment : segments) {
    at_node[{job.segments[segment].loom, ends[segment].from}].push_back(segment);
    at_node[{job.segments[segment].loom, ends[segment].to}].push_back(segment);
  }
  std::set<std::size_t> taken;
  std::vector<Run> runs;
  for (const std::size_t first : segments) {
    if (!taken.insert(first).second) continue;
    Run run{first};
    for (std::size_t i = 0; i < run.size(); ++i) {
      for (const std::size_t node : {ends[run[i]].from, ends[run[i]].to}) {
        for (const std::size_t next : at_node[{job.segments[first].loom, node}]) {
          if (taken.insert(next).second) run.push_back(next);
        }
      }
    }
    std::sort(run.begin(), run.end());
    runs.push_back(std::move(run));
  }
  return runs;
}

struct FieldRuns {
  std::string cover;
  std::vector<Run> runs;
};

std::vector<FieldRuns> runs_by_cover(const Case& job, const std::vector<Ends>& ends) {
  std::vector<std::string> covers;
  std::map<std::string, std::vector<std::size_t>> segments;
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    const std::string& cover = job.segments[i].cover_group;
    if (segments[cover].empty() && !cover.empty()) covers.push_back(cover);
    segments[cover].push_back(i);
  }
  if (!segments[""].empty()) covers.insert(covers.begin(), "");
  std::vector<FieldRuns> fields;
  for (const std::string& cover : covers) fields.push_back({cover, runs_of(segments[cover], ends, job)});
  return fields;
}

std::string letter_of(std::size_t number) {
  std::string letters;
  for (++number; number > 0; number = (number - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (number - 1) % 26));
  return letters;
}

// A run as a tree from its start: what hangs on each node, and how much is behind it.
struct Tree {
  struct Branch {
    std::size_t segment{}, to{};
    bool closes = false;  // a loop
  };
  std::map<std::size_t, std::vector<Branch>> branches;
  std::map<std::size_t, std::size_t> behind;  // segments beyond a node
  [[nodiscard]] std::size_t size(const Branch& branch) const { return branch.closes ? 0 : behind.at(branch.to); }
};

Tree tree_of(const Run& run, const std::vector<Ends>& ends, std::size_t start) {
  std::map<std::size_t, std::vector<std::size_t>> at_node;
  for (const std::size_t segment : run) {
    at_node[ends[segment].from].push_back(segment);
    if (ends[segment].to != ends[segment].from) at_node[ends[segment].to].push_back(segment);
  }
  Tree tree;
  std::set<std::size_t> used;
  std::vector<std::size_t> order{start};
  std::map<std::size_t, std::size_t> above;
  tree.behind[start] = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::size_t node = order[i];
    for (const std::size_t segment : at_node[node]) {
      if (!used.insert(segment).second) continue;
      const std::size_t other = ends[segment].from == node ? ends[segment].to : ends[segment].from;
      const bool closes = !tree.behind.emplace(other, 0).second;
      tree.branches[node].push_back({segment, other, closes});
      if (closes) continue;
      above[other] = node;
      order.push_back(other);
    }
  }
  for (std::size_t i = order.size(); i-- > 0;) {
    const std::size_t node = order[i];
    for (const Tree::Branch& branch : tree.branches[node]) tree.behind[node] += 1 + tree.size(branch);
  }
  for (auto& [node, list] : tree.branches) {
    std::stable_sort(list.begin(), list.end(),
                     [&](const Tree::Branch& a, const Tree::Branch& b) { return tree.size(a) < tree.size(b); });
  }
  return tree;
}

class FieldLayout {
 public:
  explicit FieldLayout(std::string cover) { field_.cover = std::move(cover), field_.height = map_height::field_head; }

  void add(const Tree& tree, std::size_t start) {
    field_.nodes.push_back({start, 0, field_.height + map_height::start - 11.0, 0.0, "", true, false});
    field_.height += map_height::start;
    grow(tree, field_.nodes.size() - 1);
  }

  MapField finished() {
    field_.height += map_height::field_end;
    return std::move(field_);
  }

 private:
  // Down the lane of a node; only what leaves the lane is a call of its own.
  void grow(const Tree& tree, std::size_t at) {
    while (true) {
      const MapNode here = field_.nodes[at];
      field_.nodes[at].branches_to = here.y;
      const auto found = tree.branches.find(here.node);
      if (here.again || found == tree.branches.end() || found->second.empty()) return;
      const std::vector<Tree::Branch>& branches = found->second;
      for (std::size_t i = 0; i + 1 < branches.size(); ++i) {
        const double from = field_.height + 9.0;
        field_.nodes[at].branches_to = from;
        grow(tree, add_segment(branches[i], here.lane, here.lane + 1, from));
      }
      at = add_segment(branches.back(), here.lane, here.lane, field_.nodes[at].branches_to);
    }
  }

  std::size_t add_segment(const Tree::Branch& branch, std::size_t from_lane, std::size_t lane, double from) {
    const double top = field_.height;
    field_.height += map_height::segment;
    const double end = field_.height - 8.0;
    field_.lines.push_back({branch.segment, from_lane, lane, from, end, top});
    field_.nodes.push_back({branch.to, lane, end, end, "", false, branch.closes});
    field_.lanes = std::max(field_.lanes, lane + 1);
    return field_.nodes.size() - 1;
  }

  MapField field_;
};

// Where a run begins: where the reader has come from, else at a node that other fields show, else at its first node.
std::size_t start_of(const Run& run, const std::vector<Ends>& ends, const std::set<std::size_t>& seen,
                     const std::map<std::size_t, std::size_t>& uses) {
  std::optional<std::size_t> shared;
  for (const std::size_t segment : run) {
    for (const std::size_t node : {ends[segment].from, ends[segment].to}) {
      if (seen.contains(node)) return node;
      if (!shared && uses.at(node) > 1) shared = node;
    }
  }
  return shared.value_or(ends[run.front()].from);
}

void give_letters(std::vector<MapField>& fields) {
  std::map<std::size_t, std::size_t> places;
  for (const MapField& field : fields) {
    for (const MapNode& node : field.nodes) ++places[node.node];
  }
  std::map<std::size_t, std::string> letters;
  for (MapField& field : fields) {
    for (MapNode& node : field.nodes) {
      if (places[node.node] < 2) continue;
      node.letter = letters.emplace(node.node, letter_of(letters.size())).first->second;
    }
  }
}

}  // namespace

std::vector<MapField> map_fields(const Case& job) {
  const std::vector<Ends> ends = ends_of_segments(job);
  const std::vector<FieldRuns> all = runs_by_cover(job, ends);
  std::map<std::size_t, std::size_t> uses;  // runs that a node lies in
  const auto nodes_of = [&](const Run& run) {
    std::set<std::size_t> nodes;
    for (const std::size_t segment : run) nodes.insert({ends[segment].from, ends[segment].to});
    return nodes;
  };
  for (const FieldRuns& field : all) {
    for (const Run& run : field.runs) {
      for (const std::size_t node : nodes_of(run)) ++uses[node];
    }
  }
  std::set<std::size_t> seen;
  std::vector<MapField> fields;
  for (const FieldRuns& of : all) {
    FieldLayout layout{of.cover};
    for (const Run& run : of.runs) {
      const std::size_t start = start_of(run, ends, seen, uses);
      layout.add(tree_of(run, ends, start), start);
      seen.merge(nodes_of(run));
    }
    fields.push_back(layout.finished());
  }
  give_letters(fields);
  return fields;
}

}  // namespace heatside::report
