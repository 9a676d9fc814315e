/** Changes of what one segment is: its place, what is around it, its wires and its ends. None of them changes its neighbours. */

import { knownNow } from "./assumed";
import {
  type CaseDocument,
  type CaseNode,
  type HotBody,
  type Leak,
  nameOf,
  type Segment,
  type Stretch,
  type WireGroup,
  withMember,
  withMembers,
} from "./document";
import { placeOf, Refusal, segmentOf, withSoundAssumptions } from "./loom_references";

const words = (text: string): string | undefined => (text.trim() === "" ? undefined : text.trim());

export function withSegment(document: CaseDocument, id: string, members: Partial<Segment>): CaseDocument {
  const at = placeOf(document, id);
  const segments = document.segments.map((one, i) => (i === at ? withMembers(one, members) : one));
  const known = Object.keys(members).map((key) => `/segments/${at}/${key}`);
  return knownNow({ ...document, segments }, ...known);
}

export const withSegmentName = (document: CaseDocument, id: string, name: string): CaseDocument =>
  withSegment(document, id, { name: words(name) });

/** Millimetres, as they are measured; the case has metres. */
export const withLength = (document: CaseDocument, id: string, mm: number): CaseDocument =>
  withSegment(document, id, { length_m: Math.round(mm * 10) / 10_000 });

export const withCover = (document: CaseDocument, id: string, cover: string): CaseDocument =>
  withSegment(document, id, { cover_group: words(cover) });

// Shares that are told apart by a ten-thousandth, and that sum to 1.
function whole(shares: number[], fixed: number): number[] {
  const rest = shares.reduce((sum, one, i) => (i === fixed ? sum : sum + one), 0);
  const free = 1 - (shares[fixed] ?? 0);
  const scaled = shares.map((one, i) => (i === fixed ? one : rest > 0 ? (one * free) / rest : free / (shares.length - 1)));
  const rounded = scaled.map((one) => Math.max(0.0001, Math.round(one * 10_000) / 10_000));
  const largest = rounded.reduce((best, one, i) => (i !== fixed && (best < 0 || one > (rounded[best] as number)) ? i : best), -1);
  const excess = rounded.reduce((sum, one) => sum + one, 0) - 1;
  if (largest >= 0) rounded[largest] = Math.round(((rounded[largest] as number) - excess) * 10_000) / 10_000;
  return rounded;
}

function withStretches(document: CaseDocument, id: string, stretches: Stretch[]): CaseDocument {
  const at = placeOf(document, id);
  const segments = document.segments.map((one, i) => (i === at ? { ...one, stretches } : one));
  return withSoundAssumptions({ ...document, segments });
}

/** A member of one stretch. */
export function withStretch(document: CaseDocument, id: string, index: number, members: Partial<Stretch>): CaseDocument {
  const stretches = segmentOf(document, id).stretches.map((one, i) => (i === index ? withMembers(one, members) : one));
  const at = placeOf(document, id);
  // The zones of a started case are one general assumption, and one known zone does not settle the others.
  const known = Object.keys(members).filter((key) => key !== "zone" || at > 0 || index > 0);
  return knownNow(withStretches(document, id, stretches), ...known.map((key) => `/segments/${at}/stretches/${index}/${key}`));
}

/** How much of the segment lies in this stretch; the others share the rest as before. */
export function withShare(document: CaseDocument, id: string, index: number, share: number): CaseDocument {
  const { stretches } = segmentOf(document, id);
  if (stretches.length < 2) throw new Refusal("The only stretch is all of the segment.");
  const shares = stretches.map((one, i) => (i === index ? Math.min(0.99, Math.max(0.01, share)) : (one.share ?? 0)));
  const next = whole(shares, index);
  return withStretches(document, id, stretches.map((one, i) => ({ ...one, share: next[i] as number })));
}

/** Called a, b, … by their places where they have no name: written down before a place changes. */
export function named(stretches: Stretch[]): Stretch[] {
  if (stretches.length === 1) return stretches;
  return stretches.map((one, i) => (one.id === undefined ? { id: String.fromCharCode(97 + (i % 26)), ...one } : one));
}

/** The second half of a stretch as one of its own, with another zone to be chosen. */
export function withMoreStretches(document: CaseDocument, id: string, index: number): CaseDocument {
  const { stretches } = segmentOf(document, id);
  const one = stretches[index];
  if (!one) throw new Refusal("There is no such stretch any more.");
  const half = Math.round(((one.share ?? 1) / 2) * 10_000) / 10_000;
  const rest = Math.round(((one.share ?? 1) - half) * 10_000) / 10_000;
  const taken = new Set(stretches.map((other, i) => other.id ?? String.fromCharCode(97 + i)));
  let letter = 0;
  while (taken.has(String.fromCharCode(97 + letter))) letter++;
  const { hot_bodies: _, note: __, ...plain } = one;
  const second: Stretch = { ...plain, id: String.fromCharCode(97 + letter), share: rest };
  const next = named(stretches).flatMap((other, i) => (i === index ? [{ ...other, share: half }, second] : [other]));
  return withStretches(document, id, next);
}

export function withoutStretch(document: CaseDocument, id: string, index: number): CaseDocument {
  const { stretches } = segmentOf(document, id);
  const gone = named(stretches)[index];
  if (!gone || stretches.length < 2) throw new Refusal("A segment lies somewhere: its only stretch stays.");
  const meant = (one: { [key: string]: unknown }): boolean => one["segment"] === id && one["stretch"] === gone.id;
  if ((document.findings ?? []).some((one) => one.segment === id && one.stretch === gone.id) || (document.measured ?? []).some(meant))
    throw new Refusal("Something was seen or measured at this stretch, so it stays.");
  const left = named(stretches).filter((_, i) => i !== index);
  if (left.length === 1) {
    const { share: _, ...only } = left[0] as Stretch;
    return withStretches(document, id, [only]);
  }
  const sum = left.reduce((all, one) => all + (one.share ?? 0), 0);
  const shares = whole(left.map((one) => (one.share ?? 0) / (sum || 1)), 0);
  return withStretches(document, id, left.map((one, i) => ({ ...one, share: shares[i] as number })));
}

/** What is hot beside a stretch. One number that is put right leaves the others as assumed as they were. */
export function withHotBodies(document: CaseDocument, id: string, index: number, bodies: HotBody[]): CaseDocument {
  const members = { hot_bodies: bodies.length > 0 ? bodies : undefined };
  return withStretches(document, id, segmentOf(document, id).stretches.map((one, i) => (i === index ? withMembers(one, members) : one)));
}

const hotBodyPlace = (document: CaseDocument, id: string, index: number, body: number): string =>
  `/segments/${placeOf(document, id)}/stretches/${index}/hot_bodies/${body}`;

/** A hot part whose size, distance and surface nobody has measured yet: listed as assumed until somebody has. */
export function withNewHotBody(document: CaseDocument, id: string, index: number, body: HotBody): CaseDocument {
  const segment = segmentOf(document, id);
  const bodies = segment.stretches[index]?.hot_bodies ?? [];
  const guess = {
    at: hotBodyPlace(document, id, index, bodies.length),
    text: `Size, distance and surface of a hot part beside “${nameOf(segment)}” stand in until they are measured.`,
    grade: "judgement",
  };
  const next = withHotBodies(document, id, index, [...bodies, body]);
  return { ...next, assumed: [...(next.assumed ?? []), guess] };
}

/** Its size, distance and surface are measured. */
export function withMeasuredHotBody(document: CaseDocument, id: string, index: number, body: number): CaseDocument {
  return knownNow(document, hotBodyPlace(document, id, index, body));
}

export function isHotBodyAssumed(document: CaseDocument, id: string, index: number, body: number): boolean {
  return document.assumed?.some((one) => one.at === hotBodyPlace(document, id, index, body)) ?? false;
}

/** Takes a hot part away, and what was assumed of it; what was assumed of later ones follows them. */
export function withoutHotBody(document: CaseDocument, id: string, index: number, body: number): CaseDocument {
  const bodies = segmentOf(document, id).stretches[index]?.hot_bodies ?? [];
  const moved = new Map(bodies.map((_, i) => [hotBodyPlace(document, id, index, i), i < body ? i : i - 1]));
  const left = withMeasuredHotBody(document, id, index, body).assumed?.map((one) => {
    const place = moved.get(one.at);
    return place === undefined ? one : { ...one, at: hotBodyPlace(document, id, index, place) };
  });
  return withMember(withHotBodies(document, id, index, bodies.filter((_, i) => i !== body)), "assumed", left && left.length > 0 ? left : undefined);
}

export function withLeaks(document: CaseDocument, id: string, leaks: Leak[]): CaseDocument {
  return withSegment(document, id, { leaks: leaks.length > 0 ? leaks : undefined });
}

function withGroups(document: CaseDocument, id: string, groups: WireGroup[]): CaseDocument {
  return withSegment(document, id, { groups });
}

/** Members of a group of wires. No more wires can carry a current than there are. */
export function withGroup(document: CaseDocument, id: string, index: number, members: Partial<WireGroup>): CaseDocument {
  const groups = segmentOf(document, id).groups.map((one, i) => {
    if (i !== index) return one;
    const next = withMembers(one, members);
    if (next.loaded !== undefined && next.loaded > next.count) next.loaded = next.count;
    if (next.current_A === undefined) {
      delete next.loaded;
      delete next.current_share;
    }
    return next;
  });
  return withGroups(document, id, groups);
}

/** One wire more of a lot of the same loom. */
export function withMoreGroups(document: CaseDocument, id: string): CaseDocument {
  const segment = segmentOf(document, id);
  const lots = document.lots.filter((one) => one.loom === segment.loom);
  const lot = lots.find((one) => !segment.groups.some((group) => group.lot === one.id)) ?? lots[0];
  if (!lot) throw new Refusal("The loom of this segment has no wires listed yet.");
  return withGroups(document, id, [...segment.groups, { lot: lot.id, count: 1 }]);
}

export function withoutGroup(document: CaseDocument, id: string, index: number): CaseDocument {
  const { groups } = segmentOf(document, id);
  const gone = groups[index];
  if (!gone || groups.length < 2) throw new Refusal("A segment has wires: its only group stays.");
  if ((document.findings ?? []).some((one) => one.segment === id && one.lot === gone.lot))
    throw new Refusal("Something was seen at these wires, so they stay.");
  return withoutUnusedLots(withGroups(document, id, groups.filter((_, i) => i !== index)));
}

/** Lots that no segment has any more are not allowed in a case; those that a finding names stay, and the check says so. */
export function withoutUnusedLots(document: CaseDocument): CaseDocument {
  const used = new Set(document.segments.flatMap((one) => one.groups.map((group) => group.lot)));
  for (const finding of document.findings ?? []) if (finding.lot !== undefined) used.add(finding.lot);
  if (document.lots.every((one) => used.has(one.id))) return document;
  return withLotsLeft(document, (id) => used.has(id));
}

function withLotsLeft(document: CaseDocument, stays: (id: string) => boolean): CaseDocument {
  const numbers = new Map<number, number>();
  const lots = document.lots.filter((one, i) => stays(one.id) && (numbers.set(i, numbers.size), true));
  const assumed = document.assumed?.flatMap((one) => {
    const parts = /^\/lots\/(\d+)(.*)$/.exec(one.at);
    if (!parts) return [one];
    const index = numbers.get(Number(parts[1])) ?? (parts[1] === "0" ? 0 : undefined);
    return index === undefined ? [] : [{ ...one, at: `/lots/${index}${parts[2] ?? ""}` }];
  });
  const next = { ...document, lots };
  if (assumed) next.assumed = assumed;
  return withSoundAssumptions(next);
}

export function withNode(document: CaseDocument, id: string, members: Partial<CaseNode>): CaseDocument {
  return { ...document, nodes: document.nodes.map((one) => (one.id === id ? withMembers(one, members) : one)) };
}

export const withNodeName = (document: CaseDocument, id: string, name: string): CaseDocument =>
  withNode(document, id, { name: words(name) });
