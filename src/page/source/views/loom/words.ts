/** The facts of a segment in words. */

import { type CaseDocument, type InsulationChoice, type Lot, nameOf, type Segment } from "../../case/document";
import type { Library } from "../../engine/answers";

export const millimetres = (metres: number): number => Math.round(metres * 10_000) / 10;

interface Named {
  id: string;
  name: string;
}

export const nameIn = (list: Named[] | undefined, id: string): string => list?.find((one) => one.id === id)?.name ?? id;

const stem = (name: string): string => name.split(",")[0] as string;

/** The name up to its first comma, where no other of the list begins the same. */
function brief(list: Named[] | undefined, id: string): string {
  const name = nameIn(list, id);
  return list?.some((one) => one.id !== id && stem(one.name) === stem(name)) ? name : stem(name);
}

const each = (list: string[]): string[] => [...new Set(list)];

/** Zones it runs through, the long names cut at the first comma where several stand side by side. */
export function zoneWords(segment: Segment, library: Library | null): string {
  return each(segment.stretches.map((one) => brief(library?.zones, one.zone))).join("; ");
}

export function coveringWords(segment: Segment, library: Library | null): string {
  return each(
    segment.stretches.map((one) =>
      one.covering === undefined ? "covering not stated" : one.covering === "none" ? "bare" : brief(library?.coverings, one.covering),
    ),
  ).join("; ");
}

export const wireCount = (segment: Segment): number => segment.groups.reduce((sum, one) => sum + (one.count || 0), 0);

export const countWords = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

export const coverWords = (cover: string | undefined): string => (cover ? `under ${cover}` : "in the open");

export function lastSeen(document: CaseDocument, id: string, library: Library | null): string | null {
  const found = (document.findings ?? []).filter((one) => one.segment === id && one.seen);
  const last = found.reduce<(typeof found)[number] | null>((best, one) => (!best || (one.on ?? "") >= (best.on ?? "") ? one : best), null);
  return last?.seen ? nameIn(library?.seen, last.seen) : null;
}

/** All of it, for whoever does not see the map. */
export function spoken(document: CaseDocument, segment: Segment, library: Library | null): string {
  const node = (id: string): string => nameOf(document.nodes.find((one) => one.id === id), id);
  const seen = lastSeen(document, segment.id, library);
  return [
    nameOf(segment),
    `from ${node(segment.from)} to ${node(segment.to)}`,
    `${millimetres(segment.length_m)} mm`,
    zoneWords(segment, library),
    coveringWords(segment, library),
    countWords(wireCount(segment), "wire"),
    coverWords(segment.cover_group),
    segment.airbag ? "airbag circuit, never opened" : "",
    segment.stretches.some((one) => (one.hot_bodies ?? []).length > 0) ? "hot part beside it" : "",
    seen ? `seen: ${seen}` : "",
  ].filter(Boolean).join(", ");
}

export function compoundWords(choice: InsulationChoice, library: Library | null): string {
  if (choice === "unknown") return "not known: what was fitted in its region and year";
  if (typeof choice === "string") return nameIn(library?.insulations, choice);
  const list = Object.entries(choice.candidates).sort((a, b) => b[1] - a[1]);
  return list.map(([id, weight]) => `${nameIn(library?.insulations, id)} ${Math.round(weight * 100)} %`).join(", ");
}

export const wallWords = (wall: Lot["wall"]): string =>
  typeof wall === "string" ? `${wall} wall` : `wall ${wall.wall_mm} mm, ${wall.outer_diameter_mm} mm across`;
