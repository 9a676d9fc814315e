/** Numbers of lessons in words; only rounding happens here. */

const hoursADay = 24;
const hoursAYear = 8766;
const daysAMonth = 30.4;

/** Two digits that count. */
export function twoDigits(value: number): string {
  return `${Number(value.toPrecision(2))}`;
}

export function lifeWords(hours: number | null): string {
  if (hours === null || hours > 1000 * hoursAYear) return "over 1000 years";
  if (hours < 2 * hoursADay) return `${twoDigits(hours)} hours`;
  const days = hours / hoursADay;
  if (days < 60) return `${twoDigits(days)} days`;
  if (days < 730) return `${twoDigits(days / daysAMonth)} months`;
  return `${twoDigits(hours / hoursAYear)} years`;
}

export function yearsWords(years: number, capped = false): string {
  if (capped && years >= 200) return "over 200 years";
  if (years <= 0) return "at once";
  return years < 1 ? "under 1 year" : `${twoDigits(years)} years`;
}

export function percent(chance: number): string {
  if (chance > 0 && chance < 0.01) return "under 1 %";
  if (chance < 1 && chance > 0.99) return "over 99 %";
  return `${Math.round(100 * chance)} %`;
}

/** The id of an experiment's column in words: "law_h" becomes "law, h". */
export function columnWords(name: string, unit?: string): string {
  const bare = name.replace(/_(Cel|h|min|kJ_per_mol|percent)$/u, "").replaceAll("_", " ");
  return unit ? `${bare} (${unit === "Cel" ? "°C" : unit})` : bare;
}
