/** How the loom lies on the map: fields by what comes off, in them rows along the route, and lanes for what runs side by side. */

import type { CaseDocument, Segment } from "../../case/document";

export interface NodeRow {
  kind: "node";
  node: string;
  lane: number;
  /** Lanes that run past it. */
  through: number[];
  /** The line comes from above. */
  from: boolean;
  /** The line goes on below. */
  on: boolean;
  /** The end of a loop: the same node lies further up. */
  again: boolean;
  /** Names of the other covers under which something starts here; "" is the open. */
  elsewhere: string[];
  /** Segments that leave here beside the one that goes on. */
  branches: number;
}

export interface SegmentRow {
  kind: "segment";
  segment: Segment;
  fromLane: number;
  lane: number;
  through: number[];
}

export type Row = NodeRow | SegmentRow;

export interface Field {
  /** Empty: in the open. */
  cover: string;
  /** Least minutes to reach one of them, where known. */
  minutes: number | null;
  segments: number;
  lanes: number;
  rows: Row[];
}

type Links = Map<string, Segment[]>;

function linksOf(segments: Segment[]): Links {
  const links: Links = new Map();
  const put = (node: string, segment: Segment): void => void links.set(node, [...(links.get(node) ?? []), segment]);
  for (const one of segments) {
    put(one.from, one);
    if (one.to !== one.from) put(one.to, one);
  }
  return links;
}

const farEnd = (segment: Segment, node: string): string => (segment.from === node ? segment.to : segment.from);

interface Way {
  segment: Segment;
  to: Tree | null;
  node: string;
}

interface Tree {
  node: string;
  ways: Way[];
  /** Longest chain of segments from here. */
  depth: number;
}

// Loops are opened where they close. A stack of its own: a chain of hundreds must not fill that of the browser.
function treeFrom(start: string, links: Links, taken: Set<string>, seen: Set<string>): Tree {
  const root: Tree = { node: start, ways: [], depth: 0 };
  seen.add(start);
  const order: Tree[] = [root];
  const open: Tree[] = [root];
  while (open.length > 0) {
    const at = open.pop() as Tree;
    for (const segment of links.get(at.node) ?? []) {
      if (taken.has(segment.id)) continue;
      taken.add(segment.id);
      const node = farEnd(segment, at.node);
      const to: Tree | null = seen.has(node) ? null : { node, ways: [], depth: 0 };
      at.ways.push({ segment, to, node });
      if (!to) continue;
      seen.add(node);
      order.push(to);
      open.push(to);
    }
  }
  for (const tree of order.reverse()) tree.depth = tree.ways.reduce((most, way) => Math.max(most, 1 + (way.to?.depth ?? 0)), 0);
  return root;
}

// Short branches first, and at last the way that goes on furthest: so the main run keeps its lane.
const byDepth = (ways: Way[]): Way[] =>
  ways.map((way, i) => ({ way, i })).sort((a, b) => (a.way.to?.depth ?? -1) - (b.way.to?.depth ?? -1) || a.i - b.i).map(({ way }) => way);

type Elsewhere = (node: string) => string[];

function rowsOf(root: Tree, elsewhere: Elsewhere): Row[] {
  const rows: Row[] = [];
  const node = (id: string, ways: number, lane: number, through: number[], from: boolean, again: boolean): void =>
    void rows.push({ kind: "node", node: id, lane, through, from, on: ways > 0, again, elsewhere: elsewhere(id), branches: Math.max(0, ways - 1) });
  // Work still to be done, the next on top.
  const work: (() => void)[] = [];
  const walk = (tree: Tree, lane: number, through: number[]): void => {
    const ways = byDepth(tree.ways);
    const tasks = ways.map((way, i) => () => {
      const goesOn = i === ways.length - 1;
      const to = goesOn ? lane : lane + 1;
      const past = goesOn ? through : [...through, lane];
      rows.push({ kind: "segment", segment: way.segment, fromLane: lane, lane: to, through: past });
      node(way.node, way.to?.ways.length ?? 0, to, past, true, way.to === null);
      if (way.to) walk(way.to, to, past);
    });
    work.push(...tasks.reverse());
  };
  node(root.node, root.ways.length, 0, [], false, false);
  walk(root, 0, []);
  while (work.length > 0) (work.pop() as () => void)();
  return rows;
}

function fieldOf(cover: string, segments: Segment[], elsewhere: Elsewhere, entered: (node: string) => boolean): Field {
  const links = linksOf(segments);
  const taken = new Set<string>();
  const rows: Row[] = [];
  for (const segment of segments) {
    if (taken.has(segment.id)) continue;
    // Where the loom comes in from a field above, or else at a loose end of this run.
    const run = runOf(segment, links);
    const loose = run.filter((one) => links.get(one)?.length === 1);
    const start = run.find(entered) ?? loose.find((one) => links.get(one)?.[0]?.from === one) ?? loose[0] ?? segment.from;
    rows.push(...rowsOf(treeFrom(start, links, taken, new Set()), elsewhere));
  }
  const lanes = rows.reduce((most, row) => Math.max(most, row.lane + 1), 1);
  return { cover, minutes: leastMinutes(segments), segments: segments.length, lanes, rows };
}

/** Nodes of the run that a segment belongs to, as they are met. */
function runOf(segment: Segment, links: Links): string[] {
  const met = new Set([segment.from]);
  for (const node of met) for (const one of links.get(node) ?? []) met.add(farEnd(one, node));
  return [...met];
}

function leastMinutes(segments: Segment[]): number | null {
  const minutes = segments.flatMap((one) => (one.minutes_to_open === undefined ? [] : [one.minutes_to_open]));
  return minutes.length > 0 ? Math.min(...minutes) : null;
}

type Group = [cover: string, segments: Segment[]];

const rank = ([cover, segments]: Group): number => (cover === "" ? -1 : (leastMinutes(segments) ?? Infinity));

// What lies open first, then the covers by the least time to reach something under them.
function groupsOf(document: CaseDocument): Group[] {
  const groups = new Map<string, Segment[]>();
  for (const one of document.segments) {
    const cover = one.cover_group ?? "";
    groups.set(cover, [...(groups.get(cover) ?? []), one]);
  }
  return [...groups].map((group, i) => ({ group, i })).sort((a, b) => cmp(rank(a.group), rank(b.group)) || a.i - b.i).map(({ group }) => group);
}

/** The fields from the first to the last that is reached. */
export function fieldsOf(document: CaseDocument): Field[] {
  const groups = groupsOf(document);
  const covers = new Map<string, Set<string>>();
  for (const [cover, segments] of groups)
    for (const one of segments) for (const node of [one.from, one.to]) covers.set(node, (covers.get(node) ?? new Set()).add(cover));
  const order = groups.map(([cover]) => cover);
  return groups.map(([cover, segments], i) => {
    const elsewhere: Elsewhere = (node) => [...(covers.get(node) ?? [])].filter((one) => one !== cover);
    return fieldOf(cover, segments, elsewhere, (node) => elsewhere(node).some((one) => order.indexOf(one) < i));
  });
}

const cmp = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1);

/** Ids of the segments in the order in which the map shows them. */
export const route = (fields: Field[]): string[] =>
  fields.flatMap((field) => field.rows.flatMap((row) => (row.kind === "segment" ? [row.segment.id] : [])));

/** Distance of the lanes [px]: they never take more than a good quarter of the narrowest screen. */
export const laneStep = (lanes: number): number => Math.min(20, 76 / lanes);
