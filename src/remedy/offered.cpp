#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>

#include "base/text.hpp"
#include "heatside/base/error.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/remedy/wired.hpp"
#include "remedy/kinds.hpp"

namespace heatside::remedy {

namespace {

using casefile::Assumption;
using casefile::Case;
using casefile::Remedy;
using library::Library;
using library::RemedyAct;
using population::DrawnAnswer;

constexpr std::size_t few = 3;                   // branches that are renewed where the case states nothing
constexpr double donor_ln_sd = 0.6;              // of the wear of a part of which nothing is known; judgement
const char* const usual_compound = "xlpo-125";   // of a new part where the case states nothing; judgement
const char* const usual_cover = "sleeve-glass";  // put on where the case states nothing; judgement

// Looms that belong to one question: joined by a remedy that covers both.
class Joined {
 public:
  explicit Joined(std::size_t count) : of_(count) { std::iota(of_.begin(), of_.end(), std::size_t{0}); }
  std::size_t root(std::size_t i) const { return of_[i] == i ? i : root(of_[i]); }
  void join(std::size_t a, std::size_t b) { of_[std::max(root(a), root(b))] = std::min(root(a), root(b)); }

 private:
  std::vector<std::size_t> of_;
};

std::size_t loom_number(const Case& job, const std::string& id) {
  return static_cast<std::size_t>(
      std::find_if(job.looms.begin(), job.looms.end(), [&](const casefile::Loom& loom) { return loom.id == id; }) -
      job.looms.begin());
}

std::vector<Offered> questions_of(const Case& job) {
  Joined joined{job.looms.size()};
  std::vector<bool> stated(job.looms.size(), false);
  for (const Remedy& remedy : job.remedies) {
    const std::vector<std::size_t> covered = covered_segments(job, remedy);
    for (const std::size_t number : covered) {
      stated[loom_number(job, job.segments[number].loom)] = true;
      joined.join(loom_number(job, job.segments[covered.front()].loom), loom_number(job, job.segments[number].loom));
    }
  }
  std::map<std::size_t, Offered> questions;
  for (std::size_t loom = 0; loom < job.looms.size(); ++loom) {
    Offered& question = questions[joined.root(loom)];
    question.id += (question.id.empty() ? "" : "+") + job.looms[loom].id;
    question.looms.push_back(job.looms[loom].id);
    question.stated = question.stated || stated[loom];
  }
  std::vector<Offered> list;
  for (auto& [root, question] : questions) {
    for (std::size_t i = 0; i < job.segments.size(); ++i) {
      if (std::find(question.looms.begin(), question.looms.end(), job.segments[i].loom) != question.looms.end())
        question.segments.push_back(i);
    }
    if (!question.segments.empty()) list.push_back(std::move(question));
  }
  return list;
}

Offer leaving(const Case& job, const Library& library, const Offered& question) {
  for (const Remedy& remedy : job.remedies) {
    if (kind_of(library, remedy.kind).act == RemedyAct::leave) return {remedy, RemedyAct::leave, true};
  }
  const library::RemedyKind& kind = kind_that(library, RemedyAct::leave);
  Remedy remedy;
  remedy.id = question.stated ? kind.head.id : kind.head.id + "-" + question.id;
  remedy.kind = kind.head.id;
  remedy.name = kind.head.name;
  return {remedy, RemedyAct::leave, false};
}

void add_stated(const Case& job, const Library& library, Offered& question) {
  for (const Remedy& remedy : job.remedies) {
    const RemedyAct act = kind_of(library, remedy.kind).act;
    const std::vector<std::size_t> covered = covered_segments(job, remedy);
    if (act == RemedyAct::leave || covered.empty()) continue;
    if (std::find(question.segments.begin(), question.segments.end(), covered.front()) == question.segments.end()) continue;
    question.offers.push_back({remedy, act, true});
  }
}

// Segments of the question without airbag circuits, weakest first.
std::vector<std::string> weakest_first(const Case& job, const DrawnAnswer& answer, const Offered& question) {
  std::vector<std::string> ids;
  for (const population::SegmentEstimate& segment : answer.estimate.segments) {
    const bool here = std::find(question.looms.begin(), question.looms.end(), segment.loom) != question.looms.end();
    if (here && !casefile::find_by_id(job.segments, segment.id)->airbag) ids.push_back(segment.id);
  }
  return ids;
}

Offer built_in(const Library& library, const Offered& question, RemedyAct act, std::vector<std::string> segments) {
  const library::RemedyKind& kind = kind_that(library, act);
  Remedy remedy;
  remedy.id = kind.head.id + "-" + question.id;
  remedy.kind = kind.head.id;
  remedy.name = kind.head.name;
  remedy.segments = std::move(segments);
  return {remedy, act, false};
}

casefile::PartPast unknown_donor(const Case& job, const casefile::Loom& loom) {
  casefile::PartPast past;
  past.from = loom.fitted;
  past.to = job.inspected;
  const casefile::ServicePeriod& period = job.service.back();
  past.climate = period.climate;
  past.duty = period.duty;
  past.usage = period.usage;
  past.parking = period.parking;
  past.ln_sd = donor_ln_sd;
  return past;
}

void add_built_in(const Case& job, const Library& library, const DrawnAnswer& answer, Offered& question,
                  std::vector<Assumption>& assumptions) {
  const std::vector<std::string> weakest = weakest_first(job, answer, question);
  std::vector<std::string> all;
  for (const std::size_t number : question.segments) all.push_back(job.segments[number].id);
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, question.looms.front());
  const std::vector<casefile::InsulationCandidate> usual{{usual_compound, 1.0}};
  const auto assume = [&](const std::string& text, Grade grade) { assumptions.push_back({"/remedies", text, grade}); };
  assume(fmt::format("no remedies are stated for loom {}: the built-in kinds are compared, at the prices of their records",
                     question.id),
         Grade::judgement);
  if (!weakest.empty()) {
    Offer cover = built_in(library, question, RemedyAct::cover, {weakest.front()});
    cover.remedy.covering = usual_cover;
    Offer branches =
        built_in(library, question, RemedyAct::branches,
                 {weakest.begin(), weakest.begin() + static_cast<std::ptrdiff_t>(std::min(few, weakest.size()))});
    branches.remedy.candidates = usual;
    branches.remedy.compound_known = true;
    assume(fmt::format("{}: {} over {}; {}: new wire of {} in {}", cover.remedy.id, usual_cover, weakest.front(),
                       branches.remedy.id, usual_compound, join(branches.remedy.segments)),
           Grade::judgement);
    question.offers.push_back(std::move(cover));
    question.offers.push_back(std::move(branches));
  }
  Offer used = built_in(library, question, RemedyAct::used_part, all);
  for (const library::EraCandidate& candidate :
       library::era_candidates(library, loom.region, std::stoi(format_date(loom.made).substr(0, 4))))
    used.remedy.candidates.push_back({candidate.insulation, candidate.weight});
  if (!used.remedy.candidates.empty()) {
    std::stable_sort(used.remedy.candidates.begin(), used.remedy.candidates.end(),
                     [](const auto& a, const auto& b) { return a.weight > b.weight; });
    used.remedy.past = unknown_donor(job, loom);
    assume(fmt::format("{}: nobody knows its date, so it is taken to be as old as the loom that it replaces, of what was "
                       "fitted then, and to have been driven alike (half or twice as much)",
                       used.remedy.id),
           Grade::judgement);
    question.offers.push_back(std::move(used));
  }
  Offer fresh = built_in(library, question, RemedyAct::new_part, all);
  fresh.remedy.candidates = usual;
  fresh.remedy.compound_known = true;
  fresh.remedy.made = exact_date(job.inspected.day);
  assume(fmt::format("{}: made just now, of {}", fresh.remedy.id, usual_compound), Grade::judgement);
  question.offers.push_back(std::move(fresh));
}

}  // namespace

const library::RemedyKind& kind_of(const Library& library, const std::string& id) {
  const auto known = library.remedies.find(id);
  if (known == library.remedies.end()) throw DomainError("there is no kind of remedy \"" + id + "\"");
  return known->second;
}

const library::RemedyKind& kind_that(const Library& library, RemedyAct act) {
  for (const auto& [id, kind] : library.remedies) {
    if (kind.act == act) return kind;
  }
  throw DomainError(
      fmt::format("the library has no kind of remedy for \"{}\"", library::remedy_act_names[static_cast<std::size_t>(act)]));
}

std::vector<Offered> offered(const Case& job, const Library& library, const DrawnAnswer& answer, bool with_built_in,
                             std::vector<Assumption>& assumptions) {
  std::vector<Offered> questions = questions_of(job);
  if (!with_built_in)
    questions.erase(std::remove_if(questions.begin(), questions.end(), [](const Offered& one) { return !one.stated; }),
                    questions.end());
  for (Offered& question : questions) {
    question.offers.push_back(leaving(job, library, question));
    if (question.stated) {
      if (!question.offers.front().stated)
        assumptions.push_back({"/remedies", "leaving everything as it is is compared although the case does not state it",
                               Grade::common_practice});
      add_stated(job, library, question);
    } else {
      add_built_in(job, library, answer, question, assumptions);
    }
  }
  return questions;
}

}  // namespace heatside::remedy
