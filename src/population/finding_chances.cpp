#include "population/finding_chances.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "heatside/base/random.hpp"

namespace heatside::population {

namespace {

using casefile::Finding;
using library::Library;

ConditionRow complement(const ConditionRow& row) {
  ConditionRow rest{};
  for (std::size_t i = 0; i < rest.size(); ++i) rest[i] = 1.0 - row[i];
  return rest;
}

Metres bent_diameter(const casefile::Segment& segment, const Finding& finding) {
  const auto bent = std::find_if(segment.groups.begin(), segment.groups.end(),
                                 [&](const casefile::WireGroup& group) { return group.lot == finding.lot; });
  return (bent == segment.groups.end() ? segment.groups.front() : *bent).outer_diameter;
}

}  // namespace

FoundPart part_of(const SegmentDraws& all, const casefile::Segment& segment, const Finding& finding) {
  const auto parts = [&](bool by_lot) {
    FoundPart part;
    for (const StretchDraws& stretch : all.stretches) {
      if (!finding.stretch.empty() && stretch.id != finding.stretch) continue;
      StretchDraws some{stretch.id, {}, stretch.factor};
      std::vector<std::string> lots;
      for (std::size_t group = 0; group < stretch.groups.size(); ++group) {
        const std::string& lot = segment.groups[group].lot;
        if (by_lot && lot != finding.lot) continue;
        some.groups.push_back(stretch.groups[group]);
        lots.push_back(lot);
      }
      if (some.groups.empty()) continue;
      part.draws.stretches.push_back(std::move(some));
      part.lots.push_back(std::move(lots));
    }
    return part;
  };
  FoundPart part = parts(!finding.lot.empty());
  return part.lots.empty() ? parts(false) : part;
}

Years time_of(const Finding& finding, const casefile::Case& job) {
  const Date& day = finding.seen == library::Seen::altered ? *finding.altered_on : finding.on;
  return years_between(job.inspected.day, day.day);
}

std::optional<ConditionRow> seen_row(const Finding& finding, const Library& library) {
  if (finding.seen == library::Seen::altered) {
    const double ratio = library.model.finding.altered_ratio.value;
    return ConditionRow{1.0 / ratio, 1.0 / ratio, 1.0 / ratio, 1.0, 1.0};
  }
  if (finding.method.empty()) return std::nullopt;
  const library::Method& method = library.methods.at(finding.method);
  if (const auto* look = std::get_if<library::LookTable>(&method.evidence)) {
    if (!finding.seen || *finding.seen == library::Seen::not_seen) return std::nullopt;
    ConditionRow row{};
    for (std::size_t c = 0; c < row.size(); ++c) row[c] = look->seen[c].chance[static_cast<std::size_t>(*finding.seen)];
    return row;
  }
  if (const auto* reading = std::get_if<library::ResistanceReading>(&method.evidence)) {
    if (!finding.resistance) return std::nullopt;
    const bool high = finding.resistance->megohms >= reading->high_from.value;
    return high ? reading->high.chance : complement(reading->high.chance);
  }
  return std::nullopt;
}

std::optional<ConditionRow> row_of(const Finding& finding, const Library& library) {
  return may_be_heat(finding) ? seen_row(finding, library) : std::nullopt;
}

TailTest::TailTest(const casefile::Case& job, const Library& library, const Finding& finding, const FoundPart& part,
                   DrawnCase& drawn, Normals& normals)
    : library_{library}, finding_{finding}, guard_{ageing::guard_table(library.model.ageing.guard_strength.value)} {
  if (finding.bend) {
    const Metres diameter = bent_diameter(*casefile::find_by_id(job.segments, finding.segment), finding);
    notched_ = ageing::bend_strain(diameter, finding.bend->diameter).value() * library.model.condition.notch_factor.value;
  }
  const Years after = time_of(finding, job);
  for (std::size_t stretch = 0; stretch < part.lots.size(); ++stretch) {
    std::vector<Wire> wires;
    for (std::size_t group = 0; group < part.lots[stretch].size(); ++group)
      wires.push_back(wire(part.draws.stretches[stretch].groups[group], part.lots[stretch][group], after, drawn, normals));
    wires_.push_back(std::move(wires));
  }
}

TailTest::Wire TailTest::wire(const PlaceDraws& place, const std::string& lot, Years after, DrawnCase& drawn,
                              Normals& normals) {
  Wire wire{ages_at(place, after), std::vector<const AgeLaw*>(normals.draws(), nullptr),
            std::vector<AgeLaw::Scale>(normals.draws())};
  for (const CompoundDraws& compound : drawn.lot(lot, normals).compounds) {
    const library::Insulation& insulation = *compound.insulation;
    const AgeLaw& law = laws_.try_emplace(insulation.head.id, insulation, library_.model, guard_).first->second;
    for (std::size_t i = 0; i < compound.draws.size(); ++i) {
      wire.law[compound.draws[i]] = &law;
      wire.scale[compound.draws[i]] = law.scale(compound.initial[i]);
    }
  }
  return wire;
}

std::vector<double> TailTest::elongation(const SegmentDraws& part) const {
  std::vector<double> worst(part.stretches.front().factor.size(), std::numeric_limits<double>::infinity());
  for (std::size_t stretch = 0; stretch < wires_.size(); ++stretch) {
    const std::vector<double>& factor = part.stretches[stretch].factor;
    for (const Wire& wire : wires_[stretch]) {
      for (std::size_t n = 0; n < worst.size(); ++n)
        worst[n] = std::min(worst[n], wire.law[n]->elongation_at(wire.scale[n], factor[n] * wire.age[n]));
    }
  }
  return worst;
}

std::vector<double> TailTest::chances(const SegmentDraws& part) const {
  std::vector<double> chances = elongation(part);
  if (finding_.bend) {
    const auto& test = std::get<library::BendTest>(library_.methods.at(finding_.method).evidence);
    for (double& one : chances) {
      const double cracks = normal_share(std::log(notched_ / one) / test.strain_ln_sd.value);
      one = finding_.bend->cracked ? cracks : 1.0 - cracks;
    }
    return chances;
  }
  for (double& one : chances) {
    const double off = (one - finding_.elongation->elongation.value()) / finding_.elongation->standard_error.value();
    one = std::exp(-0.5 * off * off);
  }
  return chances;
}

}  // namespace heatside::population
