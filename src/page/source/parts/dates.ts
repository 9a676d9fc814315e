/** Dates as the case has them: YYYY, YYYY-MM or YYYY-MM-DD. */

export type Precision = "day" | "month" | "year";

const form = /^(19\d\d|2[01]\d\d|2200)(?:-(0[1-9]|1[0-2])(?:-(0[1-9]|[12]\d|3[01]))?)?$/;

/** Whether such a day, month or year exists. */
export function isDate(text: string): boolean {
  const parts = form.exec(text);
  if (!parts) return false;
  const [, year, month, day] = parts;
  if (day === undefined) return true;
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  return date.getUTCDate() === Number(day);
}

export function precisionOf(text: string): Precision {
  return text.length > 7 ? "day" : text.length > 4 ? "month" : "year";
}

/** The day it is here. */
export function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** "12 May 2014, 10:30", for moments that the page itself has noted. */
export function momentWords(iso: string): string {
  const at = new Date(iso);
  const day = at.toLocaleDateString("en-GB", { day: "numeric", month: "short", year: "numeric" });
  return `${day}, ${at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" })}`;
}
