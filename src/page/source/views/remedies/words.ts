/** Numbers of the engine in words; nothing is computed here but the rounding of what is shown. */

import type { Offer, Quantiles } from "./answers";

const mostYears = 40; // beyond them other causes come first

/** No more digits than a choice hangs on. */
export function roundedMoney(amount: number): number {
  const size = Math.abs(amount);
  const step = size >= 1000 ? 10 : size >= 200 ? 5 : 1;
  return Math.round(amount / step) * step + 0;
}

export function unitWord(unit: string): string {
  return unit === "min" ? "minutes of work" : unit;
}

/** "1070 EUR" */
export function money(amount: number, unit: string): string {
  return `${roundedMoney(amount)} ${unit}`;
}

/** "under 1 %", "37 %" */
export function percent(chance: number): string {
  if (chance < 0.01) return "under 1 %";
  if (chance > 0.99) return "over 99 %";
  return `${Math.round(100 * chance)} %`;
}

export function counted(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

function byThen(years: number): string {
  if (years <= 0) return "now";
  if (years < 1) return "within a year";
  return years > mostYears ? `after more than ${mostYears} years` : `after ${counted(Math.round(years), "year", "years")}`;
}

/** When the insulation of a place cracks as it is handled, as a clause. */
export function cracksWhen(flex: Quantiles): string {
  if (flex.p90 <= 0) return "cracks when handled now";
  if (flex.p10 > mostYears) return `lasts over ${mostYears} years by heat alone`;
  if (flex.p50 <= 0) return `cracks when handled now in more than half of the draws (in nine of ten ${byThen(flex.p90)})`;
  return `cracks when handled ${byThen(flex.p50)} (in one of ten draws ${byThen(flex.p10)}, in nine of ten ${byThen(flex.p90)})`;
}

/** A time from now in a cell: "in 7 a", "now", "13 a ago", "> 40 a". */
export function yearsCell(years: number): string {
  if (years > mostYears) return `> ${mostYears} years`;
  if (years < -mostYears) return "long ago";
  const whole = Math.round(years);
  if (whole === 0) return "now";
  return whole > 0 ? `in ${counted(whole, "year", "years")}` : `${counted(-whole, "year", "years")} ago`;
}

/** A life of new wire in a cell: "24 years", "> 40 years", "now". */
export function lifeCell(years: number): string {
  if (years > mostYears) return `> ${mostYears} years`;
  if (years <= 0) return "now";
  if (years < 1) return "within a year";
  return years < 10 ? `${years.toFixed(1)} years` : `${Math.round(years)} years`;
}

/** "+1.5", "-0.3", "0.0": one digit after the point, and no sign on nothing. */
export function signed(value: number): string {
  const rounded = Math.round(10 * value) / 10 + 0;
  return `${rounded > 0 ? "+" : ""}${rounded.toFixed(1)}`;
}

/** When a place is hottest. */
export function whenWords(when: string): string {
  return when === "soak" ? "after key-off" : `while ${when}`;
}

/** Whether the answer can tell stops on the road: the functions of all segments are known. */
export function tellsStops(offer: Offer): boolean {
  const stop = offer.chance_of_a_stop;
  return stop !== null && stop.segments_counted === stop.segments;
}

export function faultWord(offer: Offer, plural = false): string {
  if (tellsStops(offer)) return plural ? "stops on the road" : "a stop on the road";
  return plural ? "bare-wire faults" : "a bare-wire fault";
}

/** Chance of a stop where it can be told, otherwise of a bare-wire fault. */
export function faultChance(offer: Offer): number {
  return tellsStops(offer) ? (offer.chance_of_a_stop?.chance ?? 0) : offer.chance_of_a_fault;
}

/** "Of xlpo-125, made 2014-05"; empty where nothing is put in. */
export function whatGoesIn(offer: Offer, nameOf: (id: string) => string): string {
  const first = offer.compounds[0];
  if (!first) return "";
  const known = offer.compounds.length === 1;
  const compound = known
    ? `Of ${nameOf(first.insulation)}`
    : `Compound not known, likeliest ${nameOf(first.insulation)} (${Math.round(100 * first.chance)} in 100)`;
  if (offer.made) return `${compound}; made ${offer.made.slice(0, 7)}`;
  return offer.kind === "used-part" ? `${compound}; date not known` : compound;
}

/** The two sentences of an advice: what to do, and why. */
export function sentences(advice: string): [string, string] {
  const end = advice.search(/\.\s+[A-Z]/);
  return end < 0 ? [advice, ""] : [advice.slice(0, end + 1), advice.slice(end + 1).trim()];
}
