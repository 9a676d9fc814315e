#include <algorithm>
#include <cmath>
#include <limits>

#include "base/four_doubles.hpp"
#include "heatside/base/constants.hpp"
#include "population/drawn_case.hpp"

namespace heatside::population {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// Chance that a stretch has not come to a condition, from age over limit of its worst group: its factor is spread about 1.
// The ratios are replaced.
void replace_by_chances(std::vector<double>& ratios, double stretch_ln_sd) {
  constexpr double least = 1.0e-300, most = 1.0e300;  // far beyond all chances, and logarithms hold there
  for (double& ratio : ratios) ratio = std::clamp(ratio, least, most);
  logarithms(ratios.data(), ratios.size());
  const double per_ln = -1.0 / stretch_ln_sd;
  for (double& ratio : ratios) ratio *= per_ln;
  normal_shares(ratios.data(), ratios.size());
}

// Brings the first years of a place's draws in, one span after the other: a draw that has come to its age is left alone.
void bring_in_years(const PlaceDraws& place, std::vector<double>& left, std::vector<double>& first) {
  double hours = 0.0;
  for (const Hours length : place.lengths) hours -= length.value();
  for (std::size_t span = 0; span < place.lengths.size(); ++span) {
    const double length = place.lengths[span].value();
    const double* rates = place.rates[span].data();
    for (std::size_t n = 0; n < left.size(); ++n) {
      const double gained = rates[n] * length;
      const bool reached = gained >= left[n];
      const double after = left[n] > 0.0 ? left[n] / rates[n] : 0.0;
      const double years = (hours + after) / hours_per_year;
      first[n] = reached && years < first[n] ? years : first[n];
      left[n] = reached ? infinite : left[n] - gained;
    }
    hours += length;
  }
  // Nothing is gained where the clock stands still, and those that are there wait for ever: both are infinite.
  for (std::size_t n = 0; n < left.size(); ++n) {
    const double years = place.future_rate[n] > 0.0 ? left[n] / place.future_rate[n] / hours_per_year : infinite;
    first[n] = years < first[n] ? years : first[n];
  }
}

}  // namespace

std::vector<double> ages_at(const PlaceDraws& place, Years after) {
  std::vector<double> ages(place.future_rate.size(), 0.0);
  const auto add = [&](double hours, const std::vector<double>& rate) {
    if (hours <= 0.0) return;
    for (std::size_t n = 0; n < ages.size(); ++n) ages[n] += hours * rate[n];
  };
  double left = hours(after).value();
  for (const Hours length : place.lengths) left += length.value();
  for (std::size_t span = 0; span < place.lengths.size(); ++span) {
    add(std::clamp(left, 0.0, place.lengths[span].value()), place.rates[span]);
    left -= place.lengths[span].value();
  }
  add(left, place.future_rate);
  return ages;
}

ConditionChances chances_at(const SegmentDraws& segment, Years after, double stretch_ln_sd) {
  const std::size_t draws = segment.stretches.front().groups.front().future_rate.size();
  std::array<std::vector<double>, 4> none;  // chance that no stretch has come to the condition
  std::array<std::vector<double>, 4> margin;
  for (std::size_t i = 0; i < segment.stretches.size(); ++i) {
    for (std::vector<double>& ratio : margin) ratio.assign(draws, 0.0);
    for (const PlaceDraws& place : segment.stretches[i].groups) {
      const std::vector<double> ages = ages_at(place, after);
      for (std::size_t limit = 0; limit < margin.size(); ++limit) {
        const double* at = place.limit[limit].data();
        double* worst = margin[limit].data();
        for (std::size_t n = 0; n < draws; ++n) {
          const double ratio = at[n] > 0.0 ? ages[n] / at[n] : infinite;
          worst[n] = ratio > worst[n] ? ratio : worst[n];
        }
      }
    }
    for (std::size_t limit = 0; limit < margin.size(); ++limit) {
      replace_by_chances(margin[limit], stretch_ln_sd);
      if (i == 0) {
        none[limit] = margin[limit];
      } else {
        for (std::size_t n = 0; n < draws; ++n) none[limit][n] *= margin[limit][n];
      }
    }
  }
  ConditionChances chances;
  for (std::vector<double>& chance : chances.by_condition) chance.resize(draws);
  for (std::size_t c = 1; c < 4; ++c) {
    for (std::size_t n = 0; n < draws; ++n) chances.by_condition[c][n] = std::max(0.0, none[c][n] - none[c - 1][n]);
  }
  for (std::size_t n = 0; n < draws; ++n) chances.by_condition[4][n] = 1.0 - none[3][n];
  chances.by_condition[0] = std::move(none[0]);
  return chances;
}

std::vector<double> elongation_left(const SegmentDraws& segment) {
  std::vector<double> worst(segment.stretches.front().factor.size(), infinite);
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      for (std::size_t n = 0; n < worst.size(); ++n) worst[n] = std::min(worst[n], place.elongation[n]);
    }
  }
  return worst;
}

std::vector<double> years_until(const SegmentDraws& segment, std::size_t limit) {
  const std::size_t draws = segment.stretches.front().factor.size();
  std::vector<double> first(draws, infinite), left(draws);
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      for (std::size_t n = 0; n < draws; ++n) left[n] = place.limit[limit][n] / stretch.factor[n];
      bring_in_years(place, left, first);
    }
  }
  return first;
}

std::vector<ageing::Condition> conditions_at(const SegmentDraws& segment, Years after) {
  std::vector<ageing::Condition> worst(segment.stretches.front().factor.size(), ageing::Condition::supple);
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      const std::vector<double> ages = ages_at(place, after);
      for (std::size_t n = 0; n < worst.size(); ++n) {
        for (std::size_t limit = 0; limit < place.limit.size(); ++limit) {
          const auto condition = static_cast<ageing::Condition>(limit + 1);
          if (stretch.factor[n] * ages[n] >= place.limit[limit][n]) worst[n] = std::max(worst[n], condition);
        }
      }
    }
  }
  return worst;
}

}  // namespace heatside::population
