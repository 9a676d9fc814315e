/** How it was driven, in words: the duties of the library as big buttons, or trips of its own. */

import type { Duty, OwnTrips } from "../../case/document";
import type { Library } from "../../engine/answers";
import type { Option } from "../../parts";

export const ownTrips = "\u0000";

// Words of everyday for those that the library brings along; others keep their names.
const everyday: Record<string, string> = {
  family: "Daily family use",
  commuter: "To work and back",
  taxi: "Taxi",
  delivery: "Deliveries",
  weekend: "Weekend car",
  "laid-up": "Laid up",
};
const first = Object.keys(everyday);

const hoursAYear = (minutesAWeek: number): string =>
  minutesAWeek === 0 ? "not driven" : `about ${Math.round((minutesAWeek * 365.25) / 7 / 60)} running hours a year`;

export function dutyOptions(library: Library | null): Option[] {
  const rank = (id: string): number => (first.indexOf(id) + 1 || first.length + 1);
  return [...(library?.duties ?? [])]
    .sort((a, b) => rank(a.id) - rank(b.id))
    .map((one) => ({ id: one.id, name: everyday[one.id] ?? one.name, hint: hoursAYear(one.minutes_a_week) }));
}

export function dutyWords(duty: Duty | undefined, library: Library | null): string {
  if (duty === undefined) return "not stated";
  if (typeof duty !== "string") return `${duty.trips_per_week} trips a week of ${duty.trip_minutes} min`;
  return dutyOptions(library).find((one) => one.id === duty)?.name ?? duty;
}

/** Trips to begin with where somebody states them: two short ones on each day. */
export const someTrips: OwnTrips = { trips_per_week: 14, trip_minutes: 20, running_mix: { cruise: 0.4, city: 0.45, idle: 0.1, hill: 0.05 } };

/** One share of the running time; the others share the rest as before, and all sum to 1. */
export function withMix(mix: OwnTrips["running_mix"], state: keyof OwnTrips["running_mix"], share: number): OwnTrips["running_mix"] {
  const others = (Object.keys(mix) as (keyof typeof mix)[]).filter((one) => one !== state);
  const sum = others.reduce((all, one) => all + mix[one], 0);
  const left = 1 - share;
  const next = { ...mix, [state]: share };
  for (const one of others) next[one] = Math.round((sum > 0 ? (mix[one] * left) / sum : left / others.length) * 1000) / 1000;
  const largest = others.reduce((best, one) => (next[one] > next[best] ? one : best));
  next[largest] = Math.round((next[largest] + 1 - Object.values(next).reduce((all, one) => all + one, 0)) * 1000) / 1000;
  return next;
}
