#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/order_report.hpp"
#include "report/json_parts.hpp"

/// The opening order for programs.

namespace heatside::report {

namespace {

using inspection::CaseOrder;

Json actions_json(const CaseOrder& order, const std::vector<std::size_t>& actions) {
  Json json = Json::object();
  for (std::size_t i = 0; i < actions.size(); ++i) {
    const population::Choice& choice = order.question.choices[i];
    json[choice.id] = choice.actions[actions[i]].id;
  }
  return json;
}

Json node_json(const CaseOrder& order, const population::TreeNode& node) {
  Json branches = Json::array();
  for (const population::TreeBranch& branch : node.branches) {
    Json seen = Json::array();
    for (const std::size_t outcome : branch.outcomes) seen.push_back(library::seen_names[outcome]);
    branches.push_back({{"seen", seen}, {"chance", branch.chance}, {"next", node_json(order, branch.next)}});
  }
  return {{"open", node.look ? Json(order.question.candidates[*node.look].id) : Json(nullptr)},
          {"chance", node.chance},
          {"choose", actions_json(order, node.actions)},
          {"loss_if_chosen", node.loss_if_chosen},
          {"loss", node.loss},
          {"branches", branches}};
}

Json values_json(const CaseOrder& order) {
  Json list = Json::array();
  std::size_t number = 0;
  for (const inspection::OpeningValue& value : order.order.by_value) {
    list.push_back({{"order", ++number},
                    {"id", order.question.candidates[value.candidate].id},
                    {"saving", value.saving},
                    {"standard_error", value.standard_error},
                    {"minutes", value.minutes.value()},
                    {"price", value.price},
                    {"harm", value.harm},
                    {"net", value.net},
                    {"chance_cracked_now", value.chance_cracked},
                    {"changes_a_choice", value.changes_a_choice}});
  }
  return list;
}

Json pairs_json(const CaseOrder& order) {
  Json list = Json::array();
  constexpr std::size_t most = 10;
  for (const inspection::PairOfOpenings& pair : order.order.pairs) {
    if (list.size() == most) break;
    list.push_back({{"first", order.question.candidates[pair.first].id},
                    {"second", order.question.candidates[pair.second].id},
                    {"net", pair.net}});
  }
  return list;
}

Json ids_json(const CaseOrder& order, const std::vector<std::size_t>& candidates) {
  Json list = Json::array();
  for (const std::size_t candidate : candidates) list.push_back(order.question.candidates[candidate].id);
  return list;
}

Json again_json(const CaseOrder& order) {
  Json list = Json::array();
  for (const inspection::LookAgain& look : order.look_again)
    list.push_back({{"id", look.segment}, {"years_after", look.after.value()}});
  return list;
}

Json steps_json(const CaseOrder& order) {
  Json list = Json::array();
  for (const inspection::StepZero& step : order.step_zero) list.push_back({{"what", step.what}, {"done", step.done}});
  return list;
}

Json handling_json(const CaseOrder& order) {
  Json json = Json::object();
  for (const inspection::Handling& one : order.handling)
    json[one.segment] = {
        {"as", ageing::name_of(one.as)}, {"chance", one.chance}, {"advice", inspection::handling_advice(one.as)}};
  return json;
}

Json found_json(const CaseOrder& order) {
  Json list = Json::array();
  for (const inspection::FoundBare& found : order.found_bare) list.push_back({{"id", found.segment}, {"seen", found.seen}});
  return list;
}

// What may be chosen, by loom: id of the remedy, its name, the segments that it takes in hand.
Json actions_of_all(const CaseOrder& order) {
  Json json = Json::object();
  for (std::size_t i = 0; i < order.actions.size(); ++i) {
    Json& list = json[order.question.choices[i].id] = Json::array();
    for (std::size_t a = 0; a < order.actions[i].size(); ++a) {
      const inspection::ActionWords& words = order.actions[i][a];
      list.push_back({{"id", order.question.choices[i].actions[a].id}, {"name", words.name}, {"segments", words.segments}});
    }
  }
  return json;
}

Json openings_json(const CaseOrder& order) {
  const auto& question = order.question;
  return {{"made", order.opened},
          {"spent", order.spent},
          {"allowed_left", question.allowed ? Json(*question.allowed) : Json(nullptr)},
          {"cost_left", question.cost_limit ? Json(*question.cost_limit) : Json(nullptr)}};
}

const char* looking_name(inspection::Looking looking) {
  switch (looking) {
    case inspection::Looking::pays:
      return "pays";
    case inspection::Looking::costs_more:
      return "costs-more";
    case inspection::Looking::changes_nothing:
      return "changes-nothing";
    case inspection::Looking::not_allowed:
      return "not-allowed";
    case inspection::Looking::nothing_left:
      return "nothing-left";
  }
  return "";
}

}  // namespace

std::string order_json(const CaseOrder& order, const population::Estimate& estimate, const casefile::Case& job,
                       const BirthCertificate& certificate) {
  std::vector<casefile::Assumption> assumptions = estimate.assumptions;
  assumptions.insert(assumptions.end(), order.assumptions.begin(), order.assumptions.end());
  Json document = case_head("heatside-order", certificate, job);
  document.update({{"draws", estimate.draws},
                   {"seed", estimate.seed},
                   {"unit", order.currency.empty() ? "min" : order.currency},
                   {"method", order.method},
                   {"consent", order.consent},
                   {"step_zero", steps_json(order)},
                   {"looking", looking_name(order.order.looking)},
                   {"owner", openings_json(order)},
                   {"choices", actions_of_all(order)},
                   {"choice_now", actions_json(order, order.order.now.best)},
                   {"loss_now", order.order.now.least},
                   {"perfect_information", {{"saving", order.order.perfect.saving}, {"exact", order.order.perfect.exact}}},
                   {"openings", values_json(order)},
                   {"pairs", pairs_json(order)},
                   {"tree",
                    {{"net_saving", order.order.tree.net_saving},
                     {"draws", order.order.tree.draws},
                     {"thinned", order.order.tree.thinned},
                     {"all_looks_kept", order.order.tree.all_looks_kept},
                     {"root", node_json(order, order.order.tree.root)}}},
                   {"by_chance", ids_json(order, order.order.by_chance)},
                   {"kept_out", ids_json(order, order.order.kept_out)},
                   {"look_again", again_json(order)},
                   {"handling", handling_json(order)},
                   {"found_bare", found_json(order)},
                   {"assumptions", assumptions_json(assumptions)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
