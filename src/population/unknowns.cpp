#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/text.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/normals.hpp"
#include "population/lot_draws.hpp"
#include "population/placed_wire.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

std::string range_of(const Sourced& number) {
  if (number.low && number.high)
    return fmt::format("{} ({} to {}) {}", plain_number(number.value), plain_number(*number.low), plain_number(*number.high),
                       number.unit);
  return fmt::format("{} {}", plain_number(number.value), number.unit);
}

class Listing {
 public:
  Listing(const Case& job, const Library& library) : job_{job}, library_{library} {}

  void add(const std::string& name, std::string words, std::string law, const Provenance& from) {
    list_[name] = {name, std::move(words), std::move(law), from.source, from.grade};
  }

  void add_shared() {
    const library::ModelConstants& model = library_.model;
    const Provenance judged{"judgement", Grade::judgement, ""};
    add(quantity::usage, "driving against what the case states",
        fmt::format("log-normal, ln sd {}", plain_number(model.usage.ln_sd.value)), model.usage.ln_sd.from);
    add(quantity::soak_decay, "how slowly the bay cools after key-off", "log-normal, ln sd 0.25, cut at 4 sd", judged);
    add(quantity::bay, "what all zones have in common", "half of the variance of every zone's score, cut at 4 sd", judged);
    add(quantity::notch, "factor for notches, print and hardened skin",
        "log-normal, " + range_of(model.condition.notch_factor), model.condition.notch_factor.from);
  }

  void add_zone(const std::string& id) {
    const library::Zone& zone = library_.zones.at(id);
    add(quantity::zone(id), "temperature of the zone " + id,
        fmt::format("score that moves all its rises together; in town {}", range_of(zone.rise[1])), zone.rise[1].from);
  }

  void add_segment(const casefile::Segment& segment) {
    const library::ModelConstants& model = library_.model;
    for (const casefile::Stretch& stretch : segment.stretches) {
      add_zone(zone_of_air(stretch, library_));
      add(quantity::stretch(segment.id, stretch.id), "what makes this stretch differ from others of its zone",
          fmt::format("log-normal, ln sd {}", plain_number(model.ageing.stretch_ln_sd.value)),
          model.ageing.stretch_ln_sd.from);
    }
    if (!segment.route_radius)
      add(quantity::bend(segment.id), "tightest bend of " + segment.id,
          "log-normal, " + range_of(model.condition.route_radius), model.condition.route_radius.from);
  }

  void add_lot(const casefile::Lot& lot) {
    for (const casefile::InsulationCandidate& candidate : lot.candidates) {
      const library::Insulation& insulation = library_.insulations.at(candidate.insulation);
      const LotQuantities names = lot_quantities(job_, lot, candidate.insulation);
      if (lot.candidates.size() > 1)
        add(names.compound, "compound of the lots of this make", "candidates by their weights",
            {"judgement", Grade::judgement, ""});
      const std::string share = plain_number(library_.model.ageing.batch_share.value);
      add(names.batch, "life of this make against the record",
          fmt::format("normal, {} of the variance of ln life; the record's ln sd {}", share,
                      plain_number(insulation.lot_ln_sd.value)),
          insulation.lot_ln_sd.from);
      add(names.own, "life of the lot " + lot.id + " against its make", "normal, the rest of that variance",
          insulation.lot_ln_sd.from);
      add(names.initial, "elongation at break of " + candidate.insulation + " when new",
          "log-normal, " + range_of(insulation.initial_elongation), insulation.initial_elongation.from);
      if (insulation.fit_covariance)
        add(names.fitted_hours(), "life of " + candidate.insulation + " at its life point, as the fit knows it",
            fmt::format("log-normal, variance {} of ln hours, together with the activation energy",
                        plain_number(insulation.fit_covariance->ln_hours_variance.value)),
            insulation.fit_covariance->ln_hours_variance.from);
      for (const library::AgeingPath& path : insulation.paths) {
        add(names.energy(path.id), fmt::format("activation energy of {}, path {}", candidate.insulation, path.id),
            fmt::format("normal, sd {}, within {}", plain_number(path.activation_energy.sd.value_or(0.0)),
                        range_of(path.activation_energy)),
            path.activation_energy.from);
        if (path.share.sd)
          add(names.share(path.id), fmt::format("share of {}'s path {} at its life point", candidate.insulation, path.id),
              fmt::format("logit-normal, {}, sd {}; tied to its activation energy at 20 degC", range_of(path.share),
                          plain_number(*path.share.sd)),
              path.share.from);
      }
    }
  }

  [[nodiscard]] std::vector<Unknown> list() const {
    std::vector<Unknown> all;
    for (const auto& [name, unknown] : list_) all.push_back(unknown);
    return all;
  }

 private:
  const Case& job_;
  const Library& library_;
  std::map<std::string, Unknown> list_;
};

}  // namespace

std::vector<Unknown> unknowns(const Case& job, const Library& library) {
  Listing listing{job, library};
  listing.add_shared();
  for (const casefile::Segment& segment : job.segments) listing.add_segment(segment);
  for (const casefile::Lot& lot : job.lots) listing.add_lot(lot);
  return listing.list();
}

}  // namespace heatside::population
