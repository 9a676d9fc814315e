#include "page/engine/memory.hpp"

#include <algorithm>
#include <utility>

#include "base/sha256.hpp"
#include "heatside/base/date.hpp"
#include "heatside/base/error.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/casefile/record.hpp"

namespace heatside::page {

namespace {

constexpr std::size_t most_cases = 4, most_drawn = 4;
constexpr std::size_t most_pairs = 1'500'000;  // of draws and segments: some 100 MB

std::optional<std::string> text_beside(const CaseText& of, const std::string& name) {
  const auto found = of.files.find(name);
  return found == of.files.end() ? std::nullopt : std::optional{found->second};
}

casefile::Case read(const CaseText& of, const library::Library& library) {
  casefile::Case job =
      casefile::read_case(of.text, of.name, library, [&of](const std::string& name) { return text_beside(of, name); });
  casefile::refuse_changed_predictions(job, of.name, sha256);
  return job;
}

std::vector<Years> times_after(const std::vector<std::string>& dates, const casefile::Case& job) {
  std::vector<Years> times;
  for (const std::string& text : dates) {
    const std::optional<Date> date = parse_date(text);
    if (!date) throw InputError({{"request", "/at", "takes dates such as 2030 or 2030-06-01, not \"" + text + "\""}});
    times.push_back(years_between(job.inspected.day, date->day));
  }
  return times;
}

template <class Entry>
void move_to_front(std::list<Entry>& list, typename std::list<Entry>::iterator entry) {
  list.splice(list.begin(), list, entry);
}

}  // namespace

const library::Library& Memory::library() {
  if (!library_) library_ = library::built_in_library();
  return *library_;
}

std::shared_ptr<const OpenedCase> Memory::opened(const CaseText& of) {
  const auto known = std::find_if(cases_.begin(), cases_.end(), [&](const auto& one) { return one->from == of; });
  if (known != cases_.end()) {
    move_to_front(cases_, known);
    return cases_.front();
  }
  cases_.push_front(std::make_shared<const OpenedCase>(OpenedCase{of, read(of, library())}));
  if (cases_.size() > most_cases) cases_.pop_back();
  return cases_.front();
}

Drawn& Memory::drawn(const CaseText& of, const DrawChoice& choice) {
  const std::shared_ptr<const OpenedCase> job = opened(of);
  // Other dates change nothing but the chances at them; who asks for none may have an answer with some.
  const auto known = std::find_if(drawn_.begin(), drawn_.end(), [&](const Drawn& one) {
    return one.opened == job && one.choice.draws == choice.draws && one.choice.seed == choice.seed &&
           (choice.at.empty() || one.choice.at == choice.at);
  });
  if (known != drawn_.end()) {
    move_to_front(drawn_, known);
    return drawn_.front();
  }
  population::DrawnAnswer answer = population::drawn_answer(
      job->job, library(),
      {.draws = choice.draws, .seed = choice.seed, .at = times_after(choice.at, job->job), .memory = heat_so_far()});
  drawn_.push_front({job, choice, std::move(answer)});
  forget_old();
  return drawn_.front();
}

// The heat of the last answer serves the next: a finding or another compound changes none of it. What is known of places
// that are no longer asked about would pile up, so it begins anew after a while.
std::shared_ptr<population::HeatMemories> Memory::heat_so_far() {
  constexpr std::size_t most_answers = 40;
  if (drawn_.empty() || ++answers_of_heat_ > most_answers) {
    answers_of_heat_ = 1;
    return nullptr;
  }
  return drawn_.front().answer.population.memory;
}

void Memory::forget_old() {
  std::size_t pairs = 0, kept = 0;
  for (auto one = drawn_.begin(); one != drawn_.end();) {
    pairs += one->choice.draws * one->opened->job.segments.size();
    one = ++kept == 1 || (kept <= most_drawn && pairs <= most_pairs) ? std::next(one) : drawn_.erase(one);
  }
}

const inspection::CaseOrder& Memory::order(Drawn& of, std::size_t depth) {
  if (!of.order || of.depth != depth) {
    of.order = inspection::case_order(of.opened->job, library(), of.answer, {depth});
    of.depth = depth;
  }
  return *of.order;
}

const remedy::Answer& Memory::remedies(Drawn& of) {
  if (!of.remedies) of.remedies = remedy::remedies(of.opened->job, library(), of.answer);
  return *of.remedies;
}

std::string engine_name() { return "heatside " HEATSIDE_VERSION; }

report::BirthCertificate certificate_for(const CaseText& of, std::uint64_t seed) {
  return {engine_name(), sha256(of.text), of.name, seed, {}, ""};
}

}  // namespace heatside::page
