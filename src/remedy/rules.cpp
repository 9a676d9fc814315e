#include "heatside/remedy/rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/text.hpp"
#include "heatside/remedy/wired.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Circuit;
using casefile::Finding;
using casefile::Segment;
using library::Library;
using library::RemedyAct;

bool runs_through(const Circuit& circuit, const Segment& segment) {
  return std::find(circuit.segments.begin(), circuit.segments.end(), segment.id) != circuit.segments.end();
}

void add_once(std::vector<std::string>& words, const std::string& word) {
  if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
}

void add_function(const Library& library, const std::string& id, bool has_fuse, std::vector<std::string>& words) {
  const auto known = library.consequences.find(id);
  if (known == library.consequences.end() || !known->second.never_traded) return;
  if (!known->second.fused && has_fuse) return;
  add_once(words, known->second.head.name);
}

bool shows_bare_conductor(const Finding& finding) {
  if (finding.seen == library::Seen::cracked || finding.seen == library::Seen::crumbling) return true;
  return std::find(finding.signs.begin(), finding.signs.end(), "green-copper") != finding.signs.end();
}

// Segments that fall under one rule, by what the rule says of them.
class Grouped {
 public:
  void add(const std::string& rule, const std::string& segment) { segments_[rule].push_back(segment); }
  void put(std::vector<std::string>& list) const {
    for (const auto& [rule, segments] : segments_)
      list.push_back(fmt::format(fmt::runtime(rule), join(segments), segments.size() == 1 ? "it" : "them"));
  }

 private:
  std::map<std::string, std::vector<std::string>> segments_;
};

// A rule with the functions written in; braces for segments stay.
std::string with_functions(const std::string& rule, const std::vector<std::string>& functions) {
  std::string text = rule;
  std::string words = join(functions);
  for (const char brace : {'{', '}'}) std::replace(words.begin(), words.end(), brace, '|');
  return text.replace(text.find('%'), 1, words);
}

const char* const bare_untraded =
    "bare conductor was seen at {0}, where circuits run that no price speaks for (%): renew {1}";
const char* const bare_left = "it leaves {0} as found, and bare conductor was seen there";
const char* const bare_covered =
    "at {0} every bare wire is insulated by itself before the sleeve goes on: a sleeve round a bundle is no insulation";
const char* const likely_untraded =
    "cracks are likely at {0}, where circuits run that no price speaks for (%): open and look, or renew {1}";
const char* const perhaps_untraded =
    "look at {0} before leaving {1} in: there may be cracks where circuits run that no price speaks for (%)";

void judge_left(const Case& job, const Library& library, const RuleQuestion& question, Grouped& struck,
                Grouped& conditions) {
  const std::vector<std::size_t> covered = covered_segments(job, question.remedy);
  for (const std::size_t number : question.segments) {
    const Segment& segment = job.segments[number];
    const bool worked_on = std::binary_search(covered.begin(), covered.end(), number);
    if (worked_on && renews(question.act)) continue;
    const std::vector<std::string> functions = untraded_functions(job, library, segment);
    const double cracked = question.chance_cracked[number];
    if (bare_conductor_seen(job, segment)) {
      if (!functions.empty()) {
        struck.add(with_functions(bare_untraded, functions), segment.id);
      } else if (worked_on) {
        conditions.add(bare_covered, segment.id);
      } else {
        struck.add(bare_left, segment.id);
      }
    } else if (!functions.empty() && cracked >= renew_from) {
      struck.add(with_functions(likely_untraded, functions), segment.id);
    } else if (!functions.empty() && cracked >= look_from) {
      conditions.add(with_functions(perhaps_untraded, functions), segment.id);
    }
  }
}

void judge_airbag(const Case& job, const RuleQuestion& question, Verdict& result) {
  std::vector<std::string> ids;
  for (const std::size_t number : covered_segments(job, question.remedy)) {
    if (job.segments[number].airbag) ids.push_back(job.segments[number].id);
  }
  if (ids.empty()) return;
  const bool piecemeal =
      question.act == RemedyAct::cover || question.act == RemedyAct::branches || question.act == RemedyAct::rewire;
  (piecemeal ? result.struck : result.conditions)
      .push_back(fmt::format("airbag or belt-tensioner circuits run in {}: nobody mends these wire by wire; leave them to "
                             "people licensed for it, by the maker's procedure",
                             join(ids)));
}

void judge_tag(const RuleQuestion& question, Verdict& result) {
  const casefile::Remedy& remedy = question.remedy;
  if (question.act == RemedyAct::used_part && !remedy.made) {
    result.conditions.emplace_back("read its own date code first: it is taken to be as old as its donor");
  }
  if (question.act == RemedyAct::used_part && !remedy.compound_known) {
    result.conditions.emplace_back("find out what it is made of before it is paid for: print, class letter, a cut sample");
  }
  if (question.act != RemedyAct::new_part) return;
  if (!question.stated) {
    result.conditions.emplace_back("only with a date code and a compound on its tag: old stock may be the same bad lot");
    return;
  }
  std::vector<std::string> missing;
  if (!remedy.made && remedy.date_code.empty()) missing.emplace_back("a date code");
  if (!remedy.compound_known) missing.emplace_back("its compound");
  if (!missing.empty())
    result.struck.push_back(
        fmt::format("\"new\" without {} may be old stock of the same bad lot: ask, and write it "
                    "into the case",
                    join(missing, " and ")));
}

}  // namespace

std::vector<std::string> untraded_functions(const Case& job, const Library& library, const Segment& segment) {
  std::vector<std::string> words;
  if (segment.airbag) words.emplace_back("airbag or belt tensioner");
  for (const Circuit& circuit : job.circuits) {
    if (!runs_through(circuit, segment)) continue;
    if (circuit.unfused)
      add_once(words, (circuit.function.empty() ? circuit.id : circuit.function) + ", unfused");
    else
      add_function(library, circuit.function, circuit.fuse_amperes.has_value(), words);
  }
  for (const casefile::WireGroup& group : segment.groups) add_function(library, group.function, false, words);
  return words;
}

std::optional<std::string> bare_conductor_seen(const Case& job, const Segment& segment) {
  std::optional<std::string> seen;
  std::chrono::sys_days on{}, altered{};
  for (const Finding& finding : job.findings) {
    if (finding.segment != segment.id) continue;
    if (finding.altered_on) altered = std::max(altered, finding.altered_on->day);
    if (!shows_bare_conductor(finding) || (seen && finding.on.day <= on)) continue;
    on = finding.on.day;
    const bool by_condition = finding.seen == library::Seen::cracked || finding.seen == library::Seen::crumbling;
    seen =
        fmt::format("{}, {}", by_condition ? library::seen_names[static_cast<std::size_t>(*finding.seen)] : "green copper",
                    format_date(finding.on));
  }
  if (seen && altered > on) seen.reset();
  return seen;
}

Verdict verdict(const Case& job, const Library& library, const RuleQuestion& question) {
  Verdict result;
  Grouped struck, conditions;
  judge_left(job, library, question, struck, conditions);
  struck.put(result.struck);
  conditions.put(result.conditions);
  judge_airbag(job, question, result);
  judge_tag(question, result);
  return result;
}

}  // namespace heatside::remedy
