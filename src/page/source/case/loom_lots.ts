/** Changes of looms and of the lots of wire in them: compound, size, dates. */

import { knownNow } from "./assumed";
import { type CaseDocument, freshId, type InsulationChoice, type Loom, type Lot, nameOf, type WireGroup, withMember, withMembers } from "./document";
import { withoutUnusedLots } from "./loom_edits";
import { placeOf, Refusal, segmentOf, withMovedAssumptions } from "./loom_references";

export function withLoom(document: CaseDocument, id: string, members: Partial<Loom>): CaseDocument {
  const at = document.looms.findIndex((one) => one.id === id);
  const looms = document.looms.map((one, i) => (i === at ? withMembers(one, members) : one));
  return knownNow({ ...document, looms }, ...Object.keys(members).map((key) => `/looms/${at}/${key}`));
}

const isOpen = (choice: InsulationChoice): boolean => choice === "unknown";

/** The compound of a lot. A started case says once that no compound is known: that moves on to the next lot of which it holds. */
export function withInsulation(document: CaseDocument, id: string, insulation: InsulationChoice): CaseDocument {
  const at = document.lots.findIndex((one) => one.id === id);
  const lots = document.lots.map((one, i) => (i === at ? { ...one, insulation } : one));
  const next = { ...document, lots };
  if (isOpen(insulation)) return next;
  const place = `/lots/${at}/insulation`;
  const open = lots.findIndex((one) => isOpen(one.insulation));
  if (open < 0) return knownNow(next, ...lots.map((_, i) => `/lots/${i}/insulation`));
  const assumed = next.assumed?.map((one) => (one.at === place ? { ...one, at: `/lots/${open}/insulation` } : one));
  return assumed ? withMember(next, "assumed", assumed) : next;
}

const rounded = (value: number): number => Math.round(value * 10_000) / 10_000;

/** Weights that sum to 1, in steps of a ten-thousandth. The rest of the rounding goes to the heaviest. */
export function weighed(weights: Record<string, number>): Record<string, number> {
  const entries = Object.entries(weights).filter(([, weight]) => weight > 0);
  const sum = entries.reduce((all, [, weight]) => all + weight, 0);
  const next = entries.map(([id, weight]): [string, number] => [id, Math.max(0.0001, rounded(weight / sum))]);
  const heaviest = next.reduce<[string, number] | null>((best, one) => (!best || one[1] > best[1] ? one : best), null);
  if (heaviest) heaviest[1] = rounded(heaviest[1] + 1 - next.reduce((all, [, weight]) => all + weight, 0));
  return Object.fromEntries(next);
}

/** One candidate with a weight; the others share the rest as before. Nothing, or 0, takes it out. */
export function withWeight(weights: Record<string, number>, id: string, weight: number): Record<string, number> {
  const { [id]: _, ...others } = weights;
  const sum = Object.values(others).reduce((all, one) => all + one, 0);
  if (sum === 0) return weight > 0 ? { [id]: 1 } : weights;
  if (weight <= 0) return weighed(others);
  const mine = Math.min(0.99, Math.max(0.01, weight));
  const scaled = Object.fromEntries(Object.entries(others).map(([one, of]) => [one, (of * (1 - mine)) / sum]));
  return weighed({ ...Object.fromEntries(Object.keys(weights).map((one) => [one, 0])), ...scaled, [id]: mine });
}

export function withLot(document: CaseDocument, id: string, members: Partial<Pick<Lot, "name" | "size" | "wall" | "note">>): CaseDocument {
  return { ...document, lots: document.lots.map((one) => (one.id === id ? withMembers(one, members as Partial<Lot>) : one)) };
}

/** A lot like another one of the loom, for wires of another compound or size. */
function likeLot(document: CaseDocument, like: Lot, loom: string, name: string): { lots: Lot[]; id: string } {
  const id = freshId(name, document.lots.map((one) => one.id));
  const { note: _, ...plain } = like;
  return { lots: [...document.lots, { ...plain, id, name, loom }], id };
}

/** The wires of a group as a lot of their own. */
export function withOwnLot(document: CaseDocument, segment: string, index: number): { document: CaseDocument; lot: string } {
  const of = segmentOf(document, segment);
  const group = of.groups[index];
  const like = document.lots.find((one) => one.id === group?.lot);
  if (!group || !like) throw new Refusal("These wires have no lot that could be copied.");
  if ((document.findings ?? []).some((one) => one.segment === segment && one.lot === group.lot))
    throw new Refusal("Something was seen at these wires, so they stay what they are.");
  const { lots, id } = likeLot(document, like, of.loom, `other ${nameOf(like)}`);
  return { document: withGroups({ ...document, lots }, segment, (one, i) => (i === index ? { ...one, lot: id } : one)), lot: id };
}

function withGroups(document: CaseDocument, id: string, change: (group: WireGroup, index: number) => WireGroup): CaseDocument {
  const at = placeOf(document, id);
  const segments = document.segments.map((one, i) => (i === at ? { ...one, groups: one.groups.map(change) } : one));
  return withoutUnusedLots({ ...document, segments });
}

/** Whether two lots could be one. */
const alike = (a: Lot, b: Lot): boolean =>
  JSON.stringify([a.insulation, a.size, a.wall]) === JSON.stringify([b.insulation, b.size, b.wall]);

/** A segment as part of another loom; its wires become lots of that loom. Without an id: of a new one. */
export function withLoomOf(document: CaseDocument, segment: string, loom: string | null): CaseDocument {
  const of = segmentOf(document, segment);
  if (loom === of.loom) return document;
  if ((document.findings ?? []).some((one) => one.segment === segment))
    throw new Refusal("Something was seen at this segment as part of its loom, so it stays there.");
  const old = document.looms.find((one) => one.id === of.loom);
  const id = loom ?? freshId("loom", document.looms.map((one) => one.id));
  let next = document;
  if (loom === null) {
    const made: Loom = { id, name: `loom with ${nameOf(of)}`, ...(old?.copper ? { copper: old.copper } : {}), ...(old?.made ? { made: old.made } : {}) };
    next = { ...next, looms: [...next.looms, made] };
  }
  const lotOf = new Map<string, string>();
  for (const name of new Set(of.groups.map((group) => group.lot))) {
    const like = next.lots.find((one) => one.id === name);
    if (!like) continue;
    const there = next.lots.find((one) => one.loom === id && alike(one, like));
    const made = there ? { lots: next.lots, id: there.id } : likeLot(next, like, id, nameOf(like));
    next = { ...next, lots: made.lots };
    lotOf.set(name, made.id);
  }
  const at = placeOf(next, segment);
  const segments = next.segments.map((one, i) =>
    i === at ? { ...one, loom: id, groups: one.groups.map((group) => ({ ...group, lot: lotOf.get(group.lot) ?? group.lot })) } : one,
  );
  return withoutEmpty(withoutUnusedLots({ ...next, segments }), of.loom);
}

function withoutEmpty(document: CaseDocument, loom: string): CaseDocument {
  if (document.segments.some((one) => one.loom === loom)) return document;
  if ((document.remedies ?? []).some((one) => one.loom === loom)) throw new Refusal("A remedy is about the loom that would be empty then.");
  const at = document.looms.findIndex((one) => one.id === loom);
  const next = { ...document, looms: document.looms.filter((one) => one.id !== loom) };
  return withMovedAssumptions(next, "looms", (i) => (i === at ? null : i > at ? i - 1 : i));
}
