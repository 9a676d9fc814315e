#include "heatside/exposure/use.hpp"

#include <algorithm>

namespace heatside::exposure {

namespace {

using casefile::Case;
using casefile::Parking;

library::Duty duty_of(const casefile::DutyChoice& choice, const library::Library& library) {
  if (const auto* own = std::get_if<library::Duty>(&choice)) return *own;
  return library.duties.at(std::get<std::string>(choice));
}

UseSpan laid_up(std::chrono::sys_days from, std::chrono::sys_days to, const std::string& climate) {
  return {from, to, climate, {}, 0.0, false};
}

}  // namespace

std::vector<UseSpan> past_use(const Case& job, const casefile::Loom& loom, const library::Library& library) {
  const auto end = job.inspected.day;
  const auto fitted = std::min(loom.fitted.day, end);
  const auto made = std::min(loom.made.day, fitted);
  std::vector<UseSpan> spans;
  auto reached = made;
  if (loom.elsewhere) {
    const casefile::PartPast& past = *loom.elsewhere;
    const auto from = std::clamp(past.from.day, made, fitted), to = std::clamp(past.to.day, made, fitted);
    if (made < from) spans.push_back(laid_up(made, from, past.climate));
    if (from < to)
      spans.push_back({from, to, past.climate, duty_of(past.duty, library), past.usage, past.parking == Parking::open});
    reached = std::max(made, to);
  }
  const auto rest_until = [&](std::chrono::sys_days day, const std::string& climate) {
    // Cut at the fitting, so that what is counted since then can be told apart.
    for (const auto end_of_rest : {std::min(day, fitted), day}) {
      if (end_of_rest <= reached) continue;
      spans.push_back(laid_up(reached, end_of_rest, climate));
      reached = end_of_rest;
    }
  };

  std::string climate = job.service.front().climate;
  for (const casefile::ServicePeriod& period : job.service) {
    const auto from = std::max(period.from.day, fitted);
    const auto to = std::min(period.to.day, end);
    // On the shelf a part waits in the climate that it will serve in.
    if (reached < fitted && period.to.day > fitted) climate = period.climate;
    if (period.to.day <= fitted) climate = period.climate;
    if (from >= to) continue;
    rest_until(from, climate);
    spans.push_back(
        {from, to, period.climate, duty_of(period.duty, library), period.usage, period.parking == Parking::open});
    reached = to;
    climate = period.climate;
  }
  rest_until(end, climate);
  return spans;
}

UseSpan future_use(const Case& job, const library::Library& library) {
  const casefile::FutureUse& future = job.future;
  return {job.inspected.day, job.inspected.day,
          future.climate,    duty_of(future.duty, library),
          future.usage,      future.parking == Parking::open};
}

}  // namespace heatside::exposure
