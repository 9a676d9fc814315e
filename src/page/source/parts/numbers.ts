/** Numbers as people type them. */

/** A number of digits with a point or a comma; null for anything else. */
export function numberIn(text: string): number | null {
  const plain = text.trim().replace(/[\s\u00a0\u202f]/g, "").replace(",", ".");
  if (!/^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  return Number(plain);
}

const decimals = (step: number): number => (String(step).split(".")[1] ?? "").length;

/** One step up or down, without the digits that binary fractions leave behind. */
export function stepped(value: number, by: number, step: number, text = String(value)): number {
  const places = Math.max(decimals(step), decimals(Number(text)));
  return Number((value + by * step).toFixed(Math.min(places, 12)));
}

/** As few digits as tell it apart: 12 345.6 -> "12 346", 0.123 456 -> "0.123". */
export function short(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return "–";
  if (value !== 0 && Math.abs(value) >= 10 ** digits) return grouped(Math.round(value));
  return String(Number(value.toPrecision(digits)));
}

/** Thin spaces between thousands, so that no comma can be misread. */
export function grouped(value: number): string {
  return String(value).replace(/\B(?=(\d{3})+(?!\d))/g, "\u202f");
}
