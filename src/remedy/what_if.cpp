#include "heatside/remedy/what_if.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/fields.hpp"
#include "base/text.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Segment;
using casefile::Stretch;
using library::Library;

constexpr double most_kelvin = 30.0;

template <class Element>
std::vector<std::string> ids_of(const std::vector<Element>& elements) {
  std::vector<std::string> ids;
  for (const Element& element : elements) ids.push_back(element.id);
  return ids;
}

std::string words_of(const Spot& spot) { return spot.stretch.empty() ? spot.segment : spot.segment + '/' + spot.stretch; }

class Problems {
 public:
  Problems(const Case& job, const Library& library) : job_{job}, library_{library} {}

  template <class Record>
  void expect_known(const std::string& what, const std::string& id, const std::map<std::string, Record>& records) {
    if (!records.contains(id)) found_.push_back(unknown_word(what, id, library::ids_of(records)));
  }

  void expect_spot(const Spot& spot) {
    const Segment* segment = casefile::find_by_id(job_.segments, spot.segment);
    if (segment == nullptr) {
      found_.push_back(unknown_word("segment", spot.segment, ids_of(job_.segments)));
    } else if (!spot.stretch.empty() && casefile::find_by_id(segment->stretches, spot.stretch) == nullptr) {
      found_.push_back(unknown_word("stretch of " + spot.segment, spot.stretch, ids_of(segment->stretches)));
    }
  }

  void expect_once(const char* what, const Spot& spot) {
    std::set<std::string>& stretches = changed_[what + spot.segment];
    const bool whole = spot.stretch.empty() || stretches.contains("");
    if ((whole && !stretches.empty()) || !stretches.insert(spot.stretch).second)
      found_.push_back(fmt::format("{} {} is changed twice; name it once", what, words_of(spot)));
  }

  void expect_ambient(KelvinRise rise) {
    if (std::abs(rise.value()) <= most_kelvin) return;
    found_.push_back(fmt::format("ambient {} K is outside the range; allowed: {} to {}", plain_number(rise.value()),
                                 -most_kelvin, most_kelvin));
  }

  void expect_duty(const std::string& duty) {
    if (!duty.empty()) expect_known("duty", duty, library_.duties);
  }

  std::vector<std::string> found() && { return std::move(found_); }

 private:
  const Case& job_;
  const Library& library_;
  std::vector<std::string> found_;
  std::map<std::string, std::set<std::string>> changed_;  // stretches by what and segment
};

template <class Change>
void at_spot(Case& job, const Spot& spot, Change change) {
  for (Segment& segment : job.segments) {
    if (segment.id != spot.segment) continue;
    for (Stretch& stretch : segment.stretches) {
      if (spot.stretch.empty() || stretch.id == spot.stretch) change(stretch);
    }
  }
}

std::string signed_kelvin(KelvinRise rise) { return fmt::format("{:+g} K", rise.value()); }

// One more climate of the library, for the future alone.
std::string shifted_climate(Library& library, const std::string& id, KelvinRise rise) {
  library::Climate climate = library.climates.at(id);
  climate.head.id = id + fmt::format("{:+g}K", rise.value());
  for (double& mean : climate.monthly_mean) mean += rise.value();
  const std::string shifted = climate.head.id;
  library.climates.insert_or_assign(shifted, std::move(climate));
  return shifted;
}

bool is_hidden(const Segment& segment, const Spot& spot, const Library& library) {
  return std::any_of(segment.stretches.begin(), segment.stretches.end(), [&](const Stretch& stretch) {
    return (spot.stretch.empty() || stretch.id == spot.stretch) && stretch.hot_bodies.empty() &&
           library.zones.at(stretch.zone).radiant;
  });
}

bool is_bare_of_heat(const Segment& segment, const Spot& spot, const Library& library) {
  return !is_hidden(segment, spot, library) &&
         std::all_of(segment.stretches.begin(), segment.stretches.end(), [&](const Stretch& stretch) {
           return (!spot.stretch.empty() && stretch.id != spot.stretch) || stretch.hot_bodies.empty();
         });
}

}  // namespace

std::optional<PlacedId> placed_id(const std::string& words, const char* usual) {
  const std::size_t equals = words.find('=');
  const std::string place = words.substr(0, equals);
  std::string id = equals == std::string::npos ? "" : words.substr(equals + 1);
  if (equals == std::string::npos && usual != nullptr) id = usual;
  if (place.empty() || id.empty()) return std::nullopt;
  const std::size_t slash = place.find('/');
  return PlacedId{{place.substr(0, slash), slash == std::string::npos ? "" : place.substr(slash + 1)}, std::move(id)};
}

std::vector<std::string> problems_of(const WhatIf& what_if, const Case& job, const Library& library) {
  Problems problems{job, library};
  for (const CoverChange& change : what_if.sleeves) {
    problems.expect_spot(change.at);
    problems.expect_known("covering", change.covering, library.coverings);
    problems.expect_once("covering of", change.at);
  }
  for (const RouteChange& change : what_if.reroutes) {
    problems.expect_spot(change.at);
    problems.expect_known("zone", change.zone, library.zones);
    problems.expect_once("zone of", change.at);
  }
  problems.expect_ambient(what_if.ambient);
  problems.expect_duty(what_if.duty);
  return std::move(problems).found();
}

Setting changed_setting(const Case& job, const Library& library, const WhatIf& what_if) {
  Setting setting{job, library};
  for (const CoverChange& change : what_if.sleeves)
    at_spot(setting.job, change.at, [&](Stretch& stretch) { stretch.covering = change.covering; });
  for (const RouteChange& change : what_if.reroutes) {
    at_spot(setting.job, change.at, [&](Stretch& stretch) {
      stretch.zone = change.zone;
      stretch.hot_bodies.clear();
      stretch.air_speed_m_per_s.reset();
    });
  }
  if (what_if.ambient.value() != 0.0)
    setting.job.future.climate = shifted_climate(setting.library, job.future.climate, what_if.ambient);
  if (!what_if.duty.empty()) {
    setting.job.future.duty = what_if.duty;
    setting.job.future.usage = 1.0;
  }
  return setting;
}

std::vector<std::string> changes_in_words(const WhatIf& what_if) {
  std::vector<std::string> words;
  for (const CoverChange& change : what_if.sleeves)
    words.push_back(fmt::format("covering of {} becomes {}", words_of(change.at), change.covering));
  for (const RouteChange& change : what_if.reroutes)
    words.push_back(fmt::format("zone of {} becomes {}", words_of(change.at), change.zone));
  if (what_if.ambient.value() != 0.0) words.push_back("ambient air " + signed_kelvin(what_if.ambient));
  if (!what_if.duty.empty()) words.push_back("duty becomes " + what_if.duty);
  return words;
}

std::vector<casefile::Assumption> assumptions_of(const WhatIf& what_if, const Case& job, const Library& library) {
  std::vector<casefile::Assumption> list;
  const auto add = [&](std::string pointer, std::string text) {
    list.push_back({std::move(pointer), std::move(text), Grade::judgement});
  };
  for (const CoverChange& change : what_if.sleeves) {
    const Segment& segment = *casefile::find_by_id(job.segments, change.at.segment);
    if (is_hidden(segment, change.at, library))
      add(segment.pointer, fmt::format("{}: the radiation of hot parts is part of its zone's temperature, so a covering "
                                       "does not keep it off here; state the hot part (hot_bodies) to see what it does",
                                       words_of(change.at)));
    if (is_bare_of_heat(segment, change.at, library))
      add(segment.pointer, fmt::format("{}: no hot part is stated beside it, so a covering only changes what touches the "
                                       "wires and holds their own heat",
                                       words_of(change.at)));
  }
  for (const RouteChange& change : what_if.reroutes)
    add(casefile::find_by_id(job.segments, change.at.segment)->pointer,
        fmt::format("{} keeps its length, covering and bend in the new zone, and leaves the hot parts that stood beside it",
                    words_of(change.at)));
  if (what_if.ambient.value() != 0.0)
    add("/future/climate", "every month is warmer or colder by as much; humidity, daily range and sun stay");
  if (!what_if.duty.empty()) add("/future/duty", fmt::format("driven as the record of \"{}\" says", what_if.duty));
  return list;
}

}  // namespace heatside::remedy
