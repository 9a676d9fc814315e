/** Chances and years in words, as the command line and the owner's report have them. Nothing is computed here but rounding. */

import type { Chances, Quantiles } from "../../engine/answers";

const plainYears = 40; // beyond them other causes come first

/** "about 6 in 10 (58 %)" */
export function chanceWords(chance: number): string {
  if (chance < 0.01) return "less than 1 in 100";
  if (chance > 0.99) return "nearly certain (over 99\u00a0%)";
  const tenths = Math.round(10 * chance);
  const hundredths = Math.round(100 * chance);
  if (tenths < 1) return `about ${hundredths} in 100 (${hundredths}\u00a0%)`;
  return `${tenths > 9 ? "more than 9" : `about ${tenths}`} in 10 (${hundredths}\u00a0%)`;
}

/** "58 %" */
export function percent(chance: number): string {
  if (chance > 0 && chance < 0.005) return "<\u00a01\u00a0%";
  if (chance < 1 && chance >= 0.995) return ">\u00a099\u00a0%";
  return `${Math.round(100 * chance)}\u00a0%`;
}

export const counted = (number: number, one: string, many = `${one}s`): string => `${number} ${number === 1 ? one : many}`;

/** When a condition is reached, as a clause of its own. */
export function reachedWords(years: number): string {
  const whole = Math.round(Math.abs(years));
  if (years > plainYears) return `over ${plainYears} years by heat alone; other causes come first`;
  if (years < -plainYears) return `reached over ${plainYears} years ago`;
  if (whole === 0) return years < 0 ? "reached within the last year" : "within a year";
  return years < 0 ? `reached about ${counted(whole, "year")} ago` : `in about ${counted(whole, "year")}`;
}

function end(years: number): string {
  const whole = Math.round(Math.abs(years));
  if (years > plainYears) return `over ${plainYears} years from now`;
  if (years < -plainYears) return `over ${plainYears} years ago`;
  if (whole === 0) return "now";
  return years < 0 ? `${counted(whole, "year")} ago` : `${counted(whole, "year")} from now`;
}

// "17 to 2 years ago": the unit once where both ends lie on the same side.
function span({ p10, p90 }: Quantiles): string {
  const [from, to] = [end(p10), end(p90)];
  if (from === to) return from;
  const plain = Math.abs(p10) <= plainYears && Math.abs(p90) <= plainYears;
  const [first, last] = [Math.round(Math.abs(p10)), Math.round(Math.abs(p90))];
  if (plain && first > 0 && last > 0 && p10 < 0 === p90 < 0) return `${first} to ${to}`;
  return `${from} to ${to}`;
}

/** Where eight of ten draws lie. */
export const spanWords = (of: Quantiles): string => `8 of 10 draws: ${span(of)}`;

/** As the first word of a sentence. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** "a third", "two thirds" */
export function shareWords(share: number): string {
  const steps: [number, string][] = [
    [0.075, "a twentieth"], [0.14, "a tenth"], [0.225, "a fifth"], [0.29, "a quarter"], [0.42, "a third"],
    [0.58, "half"], [0.71, "two thirds"], [0.85, "three quarters"],
  ];
  return steps.find(([upTo]) => share <= upTo)?.[1] ?? "nearly all";
}

/** What the spread of a life comes from: "a third lot, a quarter zone temperature". */
export function spreadWords(spread: { cause: string; share: number }[], most = 3): string {
  const least = 0.04;
  const parts = spread.filter((part) => part.share >= least && part.cause !== "together").slice(0, most);
  if (parts.length === 0) return "many small causes together";
  return parts.map((part) => `${shareWords(part.share)} ${part.cause}`).join(", ");
}

export const crackedOf = (chances: Chances): number => (chances["cracked"] ?? 0) + (chances["crumbling"] ?? 0);

export function likeliest(chances: Chances): string {
  let best = "supple";
  for (const [condition, chance] of Object.entries(chances)) if (chance > (chances[best] ?? 0)) best = condition;
  return best;
}

/** "a and b", "a, b and c" */
export function listed(words: string[]): string {
  return words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}
