#pragma once

#include <cstddef>
#include <list>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/report/estimate_report.hpp"
#include "page/engine/request.hpp"

namespace heatside::page {

/// A case as its reader has it.
struct OpenedCase {
  CaseText from;
  casefile::Case job;
};

/// A case with its draws, and what was worked out from them so far.
struct Drawn {
  std::shared_ptr<const OpenedCase> opened;
  DrawChoice choice;
  population::DrawnAnswer answer;
  std::optional<inspection::CaseOrder> order{};
  std::size_t depth = 0;  ///< of `order`
  std::optional<remedy::Answer> remedies{};
};

/// What the engine keeps from one request to the next: it changes no answer, only how soon it comes.
class Memory {
 public:
  [[nodiscard]] const library::Library& library();

  /// @throws InputError  see `casefile::read_case`; a stored prediction was changed
  [[nodiscard]] std::shared_ptr<const OpenedCase> opened(const CaseText& of);

  /// What it refers to lives until the next call.
  [[nodiscard]] Drawn& drawn(const CaseText& of, const DrawChoice& choice);

  [[nodiscard]] const inspection::CaseOrder& order(Drawn& of, std::size_t depth);
  [[nodiscard]] const remedy::Answer& remedies(Drawn& of);

 private:
  [[nodiscard]] std::shared_ptr<population::HeatMemories> heat_so_far();
  void forget_old();

  std::optional<library::Library> library_;
  std::list<std::shared_ptr<const OpenedCase>> cases_;  // the last asked for first
  std::list<Drawn> drawn_;                              // alike
  std::size_t answers_of_heat_ = 0;                     // that share what is known of the heat
};

/// Name and version of the engine, as every answer carries it.
[[nodiscard]] std::string engine_name();

/// What an answer says about its own making.
[[nodiscard]] report::BirthCertificate certificate_for(const CaseText& of, std::uint64_t seed);

}  // namespace heatside::page
