/** What in a case speaks of a segment, and what has to move with it when the list of segments changes. */

import { type CaseDocument, type Json, nameOf, type Segment, type StatedAssumption, withMember } from "./document";

/** An edit that cannot be made, with the reason in words. Nothing is changed. */
export class Refusal extends Error {}

/** The place of a segment in the list. */
export function placeOf(document: CaseDocument, id: string): number {
  const index = document.segments.findIndex((one) => one.id === id);
  if (index < 0) throw new Refusal(`There is no segment “${id}” any more.`);
  return index;
}

export const segmentOf = (document: CaseDocument, id: string): Segment => document.segments[placeOf(document, id)] as Segment;

export const segmentName = (document: CaseDocument, id: string): string =>
  nameOf(document.segments.find((one) => one.id === id), id);

const listed = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);

// Stored with a hash over its ids: one changed letter and it no longer counts as written down beforehand.
const isPredicted = (document: CaseDocument, id: string): boolean =>
  listed(document.predictions).some((one) => id in (((one as { segments?: object }).segments ?? {}) as object));

const findingsAt = (document: CaseDocument, id: string): number =>
  (document.findings ?? []).filter((one) => one.segment === id).length;

/** Why the id of a segment must stay; null where it may change. */
export function whyIdStays(document: CaseDocument, id: string): string | null {
  const findings = findingsAt(document, id);
  if (findings > 0)
    return `${findings === 1 ? "A finding is" : `${findings} findings are`} recorded for this segment by its id; a record of what was seen is not rewritten.`;
  if (isPredicted(document, id))
    return "The estimate that was stored before the first look names this segment and is sealed with a checksum; another id would break the seal.";
  return null;
}

/** Why a segment cannot be taken out; null where it can. */
export function whyNotRemoved(document: CaseDocument, id: string): string | null {
  if (document.segments.length === 1) return "This is the only segment; a case needs at least one.";
  const stays = whyIdStays(document, id);
  if (stays) return stays;
  if ((document.measured ?? []).some((one) => one["segment"] === id))
    return "A temperature was measured at this segment: take the reading out first.";
  const remedy = (document.remedies ?? []).find((one) => one.segments?.length === 1 && one.segments[0] === id);
  if (remedy) return `The remedy “${nameOf(remedy)}” is about this segment alone: change or remove it first.`;
  const { loom } = segmentOf(document, id);
  const last = document.segments.filter((one) => one.loom === loom).length === 1;
  const meant = (document.remedies ?? []).find((one) => one.loom === loom);
  if (last && meant) return `It is the last segment of its loom, and the remedy “${nameOf(meant)}” is about that loom.`;
  return whyLotsStay(document, id);
}

// A lot that only this segment has goes with it, and nothing recorded may speak of it then.
function whyLotsStay(document: CaseDocument, id: string): string | null {
  const others = new Set(document.segments.filter((one) => one.id !== id).flatMap((one) => one.groups.map((group) => group.lot)));
  const lost = segmentOf(document, id).groups.map((group) => group.lot).filter((lot) => !others.has(lot));
  return (document.findings ?? []).some((one) => one.lot !== undefined && lost.includes(one.lot))
    ? "Something was found out about wires that only this segment has."
    : null;
}

/** Why a segment cannot be cut in two; null where it can. */
export function whyNotSplit(document: CaseDocument, id: string): string | null {
  return findingsAt(document, id) > 0
    ? "Something was seen at this segment as it stands; cut in two, nobody could say at which half."
    : null;
}

type Lists = "segments" | "lots" | "looms" | "service";

/** Assumptions name their places by number: they follow when a list gets longer or shorter. `moved` gives the new number, or
 * null for what is gone. */
export function withMovedAssumptions(
  document: CaseDocument,
  list: Lists,
  moved: (index: number) => number | null,
): CaseDocument {
  if (!document.assumed) return document;
  const form = new RegExp(`^/${list}/(\\d+)(/.*)?$`);
  const left = document.assumed.flatMap((one): StatedAssumption[] => {
    const parts = form.exec(one.at);
    if (!parts) return [one];
    const old = Number(parts[1]);
    // What stands at the first of a list speaks of all of them in a started case.
    const index = moved(old) ?? (old === 0 ? 0 : null);
    return index === null ? [] : [{ ...one, at: `/${list}/${index}${parts[2] ?? ""}` }];
  });
  return withSoundAssumptions(withMember(document, "assumed", left.length > 0 ? left : undefined));
}

function leads(from: unknown, steps: string[]): boolean {
  let at = from;
  for (const [i, step] of steps.entries()) {
    if (Array.isArray(at)) {
      if (!(Number(step) < at.length)) return false;
      at = at[Number(step)];
    } else if (typeof at === "object" && at !== null) {
      // A member that is not there yet can be put there.
      if (!(step in at)) return i === steps.length - 1;
      at = (at as Record<string, unknown>)[step];
    } else {
      return false;
    }
  }
  return true;
}

/** An assumption about a place that is gone is kept, at what is left of the place. */
export function withSoundAssumptions(document: CaseDocument): CaseDocument {
  if (!document.assumed?.some((one) => !leads(document, one.at.split("/").slice(1)))) return document;
  const assumed = document.assumed.map((one) => {
    const steps = one.at.split("/").slice(1);
    while (steps.length > 0 && !leads(document, steps)) steps.pop();
    return { ...one, at: steps.map((step) => `/${step}`).join("") };
  });
  return { ...document, assumed };
}

/** Every mention of a segment outside findings and predictions, put through `change`; null takes the mention out. */
function withMentions(document: CaseDocument, change: (ids: string[]) => string[]): CaseDocument {
  const next = { ...document };
  if (document.circuits) {
    next.circuits = document.circuits.map((circuit) => {
      if (!circuit.segments) return circuit;
      const { segments, ...rest } = circuit;
      const ids = change(segments as string[]);
      return ids.length > 0 ? { ...circuit, segments: ids as Json[] } : rest;
    });
  }
  if (document.remedies)
    next.remedies = document.remedies.map((one) => (one.segments ? { ...one, segments: change(one.segments) } : one));
  return next;
}

export const withoutMentions = (document: CaseDocument, id: string): CaseDocument =>
  withMentions(document, (ids) => ids.filter((one) => one !== id));

/** Beside every mention of a segment the second half of it, on the side where it lies along the way. */
export function withSecondHalf(document: CaseDocument, id: string, half: string, before: (previous?: string, next?: string) => boolean): CaseDocument {
  return withMentions(document, (ids) =>
    ids.flatMap((one, i) => (one !== id ? [one] : before(ids[i - 1], ids[i + 1]) ? [half, one] : [one, half])),
  );
}

const idForm = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;

/** Another short id, in every place that names the segment. */
export function withSegmentId(document: CaseDocument, id: string, next: string): CaseDocument {
  const stays = whyIdStays(document, id);
  if (stays) throw new Refusal(stays);
  if (next === id) return document;
  if (!idForm.test(next))
    throw new Refusal("A short name has letters A to Z, digits, full stop, underscore and hyphen, 64 at most, a letter or digit first.");
  if (document.segments.some((one) => one.id === next)) throw new Refusal(`Another segment is called “${next}” already.`);
  const renamed = withMentions(document, (ids) => ids.map((one) => (one === id ? next : one)));
  renamed.segments = document.segments.map((one) => (one.id === id ? { ...one, id: next } : one));
  if (document.measured)
    renamed.measured = document.measured.map((one) => (one["segment"] === id ? { ...one, segment: next } : one));
  return renamed;
}
