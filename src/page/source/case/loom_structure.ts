/** Changes of how the loom runs: cut, lengthen, branch off, take out. */

import { type CaseDocument, type CaseNode, freshId, nameOf, type Segment, type Stretch, withMembers } from "./document";
import { named, withoutUnusedLots } from "./loom_edits";
import {
  placeOf, Refusal, segmentOf, whyNotRemoved, whyNotSplit, withMovedAssumptions, withoutMentions, withSecondHalf,
} from "./loom_references";

/** Shortest piece that a case can have [mm]. */
export const shortest = 10;
const newLength = 0.2; // m, judgement: a hand's width of loom to begin with

// Stretches lie along the segment one after the other, as listed; those before and those after a cut.
function cut(stretches: Stretch[], share: number): [Stretch[], Stretch[]] {
  if (stretches.length === 1) return [stretches, stretches.map(({ id: _, ...rest }) => ({ ...rest }))];
  const first: Stretch[] = [];
  const second: Stretch[] = [];
  let from = 0;
  for (const one of named(stretches)) {
    const to = from + (one.share ?? 0);
    if (from < share - 1e-9) first.push({ ...one, share: (Math.min(to, share) - from) / share });
    if (to > share + 1e-9) second.push({ ...one, share: (to - Math.max(from, share)) / (1 - share) });
    from = to;
  }
  return [settled(first), settled(second)];
}

function settled(stretches: Stretch[]): Stretch[] {
  if (stretches.length === 1) return stretches.map(({ share: _, ...rest }) => ({ ...rest }));
  const rounded = stretches.map((one) => Math.max(0.0001, Math.round((one.share ?? 0) * 10_000) / 10_000));
  const rest = rounded.slice(1).reduce((sum, one) => sum + one, 0);
  return stretches.map((one, i) => ({ ...one, share: i === 0 ? Math.round((1 - rest) * 10_000) / 10_000 : (rounded[i] as number) }));
}

const metres = (mm: number): number => Math.round(mm * 10) / 10_000;

// "trough, part 2": a part of a part is one more part of the same piece.
function partName(document: CaseDocument, whole: Segment): string {
  const stem = nameOf(whole).replace(/, part \d+$/, "");
  const taken = new Set(document.segments.map((one) => nameOf(one)));
  let number = 2;
  while (taken.has(`${stem}, part ${number}`)) number++;
  return `${stem}, part ${number}`;
}

function halves(whole: Segment, mm: number, id: string, node: string, name: string): [Segment, Segment] {
  const [near, far] = cut(whole.stretches, mm / (whole.length_m * 1000));
  return [
    { ...whole, to: node, length_m: metres(mm), stretches: near },
    { ...whole, id, name, from: node, length_m: metres(whole.length_m * 1000 - mm), stretches: far },
  ];
}

// A reading goes where its stretch went.
function withReadings(document: CaseDocument, near: Segment, far: Segment): CaseDocument {
  if (!document.measured) return document;
  const has = (segment: Segment, stretch: unknown): boolean => segment.stretches.some((one) => one.id === stretch);
  const measured = document.measured.map((one) =>
    one["segment"] === near.id && one["stretch"] !== undefined && !has(near, one["stretch"]) && has(far, one["stretch"])
      ? { ...one, segment: far.id }
      : one,
  );
  return { ...document, measured };
}

export interface Made {
  document: CaseDocument;
  /** Id of the new segment. */
  id: string;
  /** Id of the new node. */
  node: string;
}

/** The segment in two, so many millimetres from its start. The near part keeps its id. */
export function splitAt(document: CaseDocument, id: string, mm: number): Made {
  const stays = whyNotSplit(document, id);
  if (stays) throw new Refusal(stays);
  const at = placeOf(document, id);
  const old = segmentOf(document, id);
  if (!(mm >= shortest && mm <= old.length_m * 1000 - shortest))
    throw new Refusal(`Cut between ${shortest} mm and ${Math.round(old.length_m * 1000 - shortest)} mm from the start.`);
  const node: CaseNode = {
    id: freshId(`${id}-cut`, document.nodes.map((one) => one.id)),
    name: `${Math.round(mm)} mm along ${nameOf(old)}`,
  };
  const half = freshId(`${id}-part`, document.segments.map((one) => one.id));
  const [near, far] = halves(old, mm, half, node.id, partName(document, old));
  const segments = document.segments.flatMap((one, i) => (i === at ? [near, far] : [one]));
  const ends = new Map(document.segments.map((one) => [one.id, [one.from, one.to]]));
  const touches = (other: string | undefined, end: string): boolean => other !== undefined && (ends.get(other)?.includes(end) ?? false);
  let next: CaseDocument = withMovedAssumptions({ ...document, segments, nodes: [...document.nodes, node] }, "segments", (i) =>
    i > at ? i + 1 : i,
  );
  next = withSecondHalf(next, id, half, (before, after) => touches(before, old.to) || touches(after, old.from));
  return { document: withReadings(next, near, far), id: half, node: node.id };
}

// Of the wires of a new piece nobody has said anything: they are those beside it until somebody counts them.
function newPiece(document: CaseDocument, like: Segment, ends: { from: string; to: string }, what: string): Made {
  const id = freshId(`${what.split(" ")[0] as string}-${like.id}`, document.segments.map((one) => one.id));
  const { hot_bodies: _, note: __, id: ___, share: ____, ...stretch } = like.stretches[like.stretches.length - 1] as Stretch;
  const piece: Segment = {
    id, name: `${what} ${nameOf(like)}`, loom: like.loom, ...ends, length_m: newLength,
    ...(like.cover_group ? { cover_group: like.cover_group } : {}),
    ...(like.minutes_to_open !== undefined ? { minutes_to_open: like.minutes_to_open } : {}),
    ...(like.airbag ? { airbag: true } : {}),
    stretches: [stretch],
    groups: like.groups.map(({ note: _note, ...group }) => ({ ...group })),
  };
  const at = placeOf(document, like.id) + 1;
  const segments = [...document.segments.slice(0, at), piece, ...document.segments.slice(at)];
  const moved = withMovedAssumptions({ ...document, segments }, "segments", (i) => (i >= at ? i + 1 : i));
  const guess = { at: `/segments/${at}/groups`, text: `The wires of “${piece.name}” are taken to be those of “${nameOf(like)}”: count them.`, grade: "judgement" };
  return { document: { ...moved, assumed: [...(moved.assumed ?? []), guess] }, id, node: ends.to };
}

function withNewNode(document: CaseDocument, words: string): { document: CaseDocument; node: string } {
  const node: CaseNode = { id: freshId(words, document.nodes.map((one) => one.id)), name: words };
  return { document: { ...document, nodes: [...document.nodes, node] }, node: node.id };
}

const endWords = (what: string, count: number): string => `${what} ${count}`;

/** A piece more behind the far end. What hung there hangs at its far end then. */
export function addAfter(document: CaseDocument, id: string): Made {
  const like = segmentOf(document, id);
  const made = withNewNode(document, endWords("new end", document.nodes.length + 1));
  const goesOn = document.segments.map((one) =>
    one.id === id ? one : withMembers(one, {
      ...(one.from === like.to ? { from: made.node } : {}),
      ...(one.to === like.to ? { to: made.node } : {}),
    }),
  );
  return newPiece({ ...made.document, segments: goesOn }, like, { from: like.to, to: made.node }, "piece after");
}

/** Where a branch leaves: an end, or so many millimetres from the start. */
export type Leaving = "start" | "end" | number;

export function branchOff(document: CaseDocument, id: string, leaving: Leaving): Made {
  const split = typeof leaving === "number" ? splitAt(document, id, leaving) : null;
  const now = split?.document ?? document;
  const like = segmentOf(now, id);
  const from = split?.node ?? (leaving === "start" ? like.from : like.to);
  const made = withNewNode(now, endWords("end of the branch", now.nodes.length + 1));
  return newPiece(made.document, like, { from, to: made.node }, "branch from");
}

// Where the loom went on behind it, it goes on from its near end.
function joined(document: CaseDocument, gone: Segment): CaseDocument {
  const left = document.segments.filter((one) => one.id !== gone.id);
  const touched = (node: string): boolean => left.some((one) => one.from === node || one.to === node);
  if (gone.from === gone.to || !touched(gone.from) || !touched(gone.to)) return { ...document, segments: left };
  const bolted = (id: string): boolean => document.nodes.find((one) => one.id === id)?.terminal !== undefined;
  const [stays, goes] = bolted(gone.to) && !bolted(gone.from) ? [gone.to, gone.from] : [gone.from, gone.to];
  const segments = left.map((one) => ({ ...one, from: one.from === goes ? stays : one.from, to: one.to === goes ? stays : one.to }));
  return { ...document, segments };
}

function withoutLooseNodes(document: CaseDocument, candidates: string[]): CaseDocument {
  const used = new Set(document.segments.flatMap((one) => [one.from, one.to]));
  const nodes = document.nodes.filter((one) => used.has(one.id) || !candidates.includes(one.id));
  return nodes.length < 2 ? document : { ...document, nodes };
}

function withoutEmptyLoom(document: CaseDocument, loom: string): CaseDocument {
  if (document.segments.some((one) => one.loom === loom)) return document;
  const at = document.looms.findIndex((one) => one.id === loom);
  const next = { ...document, looms: document.looms.filter((one) => one.id !== loom) };
  return withMovedAssumptions(next, "looms", (i) => (i === at ? null : i > at ? i - 1 : i));
}

/** The loom without a segment; what hung at its far end hangs at its near end. */
export function withoutSegment(document: CaseDocument, id: string): CaseDocument {
  const stays = whyNotRemoved(document, id);
  if (stays) throw new Refusal(stays);
  const at = placeOf(document, id);
  const gone = segmentOf(document, id);
  const left = withoutLooseNodes(joined(withoutMentions(document, id), gone), [gone.from, gone.to]);
  const moved = withMovedAssumptions(left, "segments", (i) => (i === at ? null : i > at ? i - 1 : i));
  return withoutEmptyLoom(withoutUnusedLots(moved), gone.loom);
}
