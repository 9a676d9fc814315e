#include "base/sha256.hpp"
#include "base/strict_json.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/remedy/plan.hpp"
#include "heatside/report/case_pictures.hpp"
#include "heatside/report/estimate_report.hpp"
#include "heatside/report/order_report.hpp"
#include "heatside/report/owner_report.hpp"
#include "heatside/report/remedies_report.hpp"
#include "page/engine/asks.hpp"

/// What the draws of a case say, as the command line says it.

namespace heatside::page {

namespace {

constexpr std::size_t usual_depth = 3, deepest = 4;

std::size_t depth_of(const Request& request) {
  return static_cast<std::size_t>(request.number("depth", 1.0, deepest).value_or(usual_depth));
}

Drawn& drawn_for(const Request& request, Memory& memory) { return memory.drawn(request.case_text(), request.draw_choice()); }

report::BirthCertificate certificate_of(const Drawn& drawn) {
  return certificate_for(drawn.opened->from, drawn.choice.seed);
}

}  // namespace

std::string estimated(const Request& request, Memory& memory) {
  if (request.flag("likely")) {
    const auto opened = memory.opened(request.case_text());
    const population::Estimate likely = population::likely_estimate(opened->job, memory.library());
    return report::estimate_json(likely, opened->job, memory.library(), certificate_for(opened->from, 0), false);
  }
  const Drawn& drawn = drawn_for(request, memory);
  return report::estimate_json(drawn.answer.estimate, drawn.opened->job, memory.library(), certificate_of(drawn), false);
}

std::string ordered(const Request& request, Memory& memory) {
  Drawn& drawn = drawn_for(request, memory);
  return report::order_json(memory.order(drawn, depth_of(request)), drawn.answer.estimate, drawn.opened->job,
                            certificate_of(drawn));
}

std::string remedied(const Request& request, Memory& memory) {
  Drawn& drawn = drawn_for(request, memory);
  return report::remedies_json(memory.remedies(drawn), drawn.answer.estimate, drawn.opened->job, memory.library(),
                               std::nullopt, certificate_of(drawn));
}

std::string planned(const Request& request, Memory& memory) {
  Drawn& drawn = drawn_for(request, memory);
  const casefile::Case& job = drawn.opened->job;
  const remedy::Answer& remedies = memory.remedies(drawn);
  const remedy::Plan plan = remedy::plan_of(job, memory.library(), remedies, request.text("remedy"));
  const report::BirthCertificate certificate = certificate_of(drawn);
  const Json document =
      Json::parse(report::remedies_json(remedies, drawn.answer.estimate, job, memory.library(), plan, certificate));
  return object_of(
      {{"text", Json(report::plan_text(plan, remedies, job, certificate)).dump()}, {"plan", document.at("plan").dump()}});
}

std::string reported(const Request& request, Memory& memory) {
  Drawn& drawn = drawn_for(request, memory);
  const casefile::Case& job = drawn.opened->job;
  const remedy::Answer& remedies = memory.remedies(drawn);
  const inspection::CaseOrder& order = memory.order(drawn, usual_depth);
  const report::ReportPictures pictures = report::case_pictures(job, memory.library(), drawn.answer, order, remedies);
  const report::BirthCertificate certificate = certificate_of(drawn);
  const report::Document document =
      report::owner_report({job, memory.library(), drawn.answer.estimate, order, remedies, pictures, certificate});
  return object_of({{"html", Json(report::html_text(document, base64(sha256_bytes(report::document_style())))).dump()}});
}

}  // namespace heatside::page
