#include "remedy/knowing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <variant>

#include "base/text.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/remedy/wired.hpp"
#include "population/lot_draws.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using population::Normals;
namespace quantity = population::quantity;

constexpr std::size_t most_columns = 8;  // of a group; more would need more draws
const char* const opening_method = "look-opening";

std::vector<double> candidate_numbers(const casefile::Lot& lot, const std::vector<double>& scores) {
  std::vector<double> numbers;
  for (const std::size_t number : population::candidates_drawn(lot, scores)) numbers.push_back(static_cast<double>(number));
  return numbers;
}

void add_column(UnknownGroup& group, std::set<std::string>& taken, const std::string& name, Normals& normals) {
  if (group.columns.size() < most_columns && taken.insert(name).second) group.columns.push_back(normals.of(name));
}

// Compound and life of the lots of some segments: one group for the compound of each batch, one for the lives.
void add_lots(const Case& job, const std::vector<std::size_t>& segments, const std::string& of, const std::string& how,
              Normals& normals, std::vector<UnknownGroup>& groups) {
  std::set<std::string> batches, taken;
  UnknownGroup lives{fmt::format("how long the insulation of {} lasts ({})", of, how), {}, false};
  for (const std::size_t number : segments) {
    for (const casefile::WireGroup& wires : job.segments[number].groups) {
      const casefile::Lot& lot = *casefile::find_by_id(job.lots, wires.lot);
      const std::string batch = population::batch_of(job, lot);
      const population::LotQuantities names = population::lot_quantities(job, lot, lot.candidates.front().insulation);
      if (lot.candidates.size() > 1 && batches.insert(batch).second)
        groups.push_back(
            {fmt::format("which compound {} is of", of), {candidate_numbers(lot, normals.of(names.compound))}, true});
      add_column(lives, taken, names.batch, normals);
      add_column(lives, taken, names.own, normals);
    }
  }
  groups.push_back(std::move(lives));
}

void add_places(const Case& job, const std::vector<std::size_t>& segments, Normals& normals,
                std::vector<UnknownGroup>& groups) {
  std::set<std::string> taken;
  UnknownGroup heat{"how hot it gets there (measure after a warm run, and again in the soak)", {}, false};
  add_column(heat, taken, quantity::bay, normals);
  add_column(heat, taken, quantity::soak_decay, normals);
  for (const std::size_t number : segments) {
    for (const casefile::Stretch& stretch : job.segments[number].stretches)
      add_column(heat, taken, quantity::zone(stretch.zone), normals);
  }
  groups.push_back(std::move(heat));
  groups.push_back({"how much it was driven and will be", {normals.of(quantity::usage)}, false});
}

void add_offers(const Common& common, const Question& question, const std::vector<RemedyDraws>& draws, Normals& normals,
                std::vector<UnknownGroup>& groups) {
  for (std::size_t i = 0; i < draws.size(); ++i) {
    const Offer& offer = question.results[i].offer;
    UnknownGroup firm{fmt::format("a firm price and time for {}", offer.remedy.id), {}, false};
    for (const auto* scores : {&draws[i].price_score, &draws[i].minute_score}) {
      if (!scores->empty()) firm.columns.push_back(*scores);
    }
    if (!firm.columns.empty()) groups.push_back(std::move(firm));
    if (!draws[i].prevents_score.empty())
      groups.push_back(
          {fmt::format("how many faults {} really prevents", offer.remedy.id), {draws[i].prevents_score}, false});
    if (!renews(offer.act)) continue;
    const Case changed = wired(common.job, offer.remedy, offer.act);
    add_lots(changed, covered_segments(common.job, offer.remedy), offer.remedy.id, "its tag, its maker", normals, groups);
    if (offer.act != library::RemedyAct::used_part || !offer.remedy.past) continue;
    UnknownGroup past{fmt::format("how the donor of {} was used", offer.remedy.id), {}, false};
    for (std::size_t loom = common.job.looms.size(); loom < changed.looms.size(); ++loom)
      past.columns.push_back(normals.of(quantity::elsewhere(changed.looms[loom].id)));
    groups.push_back(std::move(past));
  }
}

population::OutcomeTable outcomes_of(const library::LookTable& look) {
  population::OutcomeTable table;
  for (std::size_t seen = 0; seen < library::condition_count; ++seen) {
    population::ConditionRow row{};
    for (std::size_t c = 0; c < row.size(); ++c) row[c] = look.seen[c].chance[seen];
    table.outcomes.push_back(row);
  }
  return table;
}

}  // namespace

std::vector<UnknownGroup> unknown_groups(const Common& common, const Question& question,
                                         const std::vector<RemedyDraws>& draws) {
  Normals normals = common.answer.population.normals;
  std::vector<UnknownGroup> groups;
  const std::string here = "loom " + join(question.offered.looms, " and ");
  add_lots(common.job, question.offered.segments, here, "pull or bend a scrap tail", normals, groups);
  add_places(common.job, question.offered.segments, normals, groups);
  groups.push_back({"how often bare insulation really leads to a fault", {common.fault_score}, false});
  add_offers(common, question, draws, normals, groups);
  return groups;
}

std::vector<LookWorth> worth_of_looks(const Common& common, const Question& question) {
  const auto method = common.library.methods.find(opening_method);
  if (method == common.library.methods.end()) return {};
  const std::vector<std::string> opened = casefile::opened_segments(common.job, common.library);
  const population::OutcomeTable table = outcomes_of(std::get<library::LookTable>(method->second.evidence));
  std::vector<population::Look> looks;
  for (const std::size_t number : question.offered.segments) {
    const casefile::Segment& segment = common.job.segments[number];
    if (!segment.airbag && !std::binary_search(opened.begin(), opened.end(), segment.id)) looks.push_back({number, table});
  }
  const auto values = population::value_of_each_look(common.answer.knowledge, {question.choice}, looks);
  std::vector<LookWorth> list;
  for (std::size_t i = 0; i < looks.size(); ++i)
    list.push_back({common.job.segments[looks[i].segment].id, values[i].saving, values[i].standard_error});
  std::stable_sort(list.begin(), list.end(), [](const LookWorth& a, const LookWorth& b) { return a.saving > b.saving; });
  return list;
}

}  // namespace heatside::remedy
