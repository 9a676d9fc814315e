/** The edits by themselves: what they change, what they must leave alone, and when they refuse. */

import assert from "node:assert/strict";
import { test } from "node:test";
import type { CaseDocument, Segment } from "./document";
import {
  isHotBodyAssumed, withLength, withMeasuredHotBody, withMoreStretches, withNewHotBody, withoutHotBody, withoutStretch, withShare,
} from "./loom_edits";
import { weighed, withInsulation, withLoomOf, withOwnLot, withWeight } from "./loom_lots";
import { Refusal, withSegmentId } from "./loom_references";
import { addAfter, branchOff, splitAt, withoutSegment } from "./loom_structure";
import { gaps, withEnd, withGapStated, withoutPeriod, withSplit, withStart } from "./service_edits";

const piece = (id: string, from: string, to: string, more: Partial<Segment> = {}): Segment => ({
  id, loom: "top", from, to, length_m: 0.5, stretches: [{ zone: "upper-bay", covering: "none" }], groups: [{ lot: "thin", count: 4 }], ...more,
});

// box - corner - rail - coil, and a branch from corner to air
function invented(): CaseDocument {
  return {
    format: "heatside-case", version: 1, title: "Invented", invented: true,
    vehicle: { built: "1994", entered_service: "1994-05", region: "europe" },
    inspected: "2014-05-12",
    service: [
      { from: "1994-05", to: "2004-05", climate: "alpine", duty: "family", km: 100_000 },
      { from: "2004-05", to: "2014-05-12", climate: "alpine", duty: "weekend", km: 20_001 },
    ],
    looms: [{ id: "top" }],
    lots: [{ id: "thin", loom: "top", insulation: "unknown", size: "0.5 mm2", wall: "thin" }, { id: "thick", loom: "top", insulation: "unknown", size: "4 mm2", wall: "thin" }],
    nodes: ["box", "corner", "rail", "coil", "air"].map((id) => ({ id })),
    segments: [
      piece("a", "box", "corner", { stretches: [{ id: "cold", zone: "upper-bay", share: 0.6 }, { id: "hot", zone: "head-cover", share: 0.4 }] }),
      piece("b", "corner", "rail", { groups: [{ lot: "thin", count: 4 }, { lot: "thick", count: 1 }] }),
      piece("c", "rail", "coil"),
      piece("d", "corner", "air"),
    ],
    circuits: [{ id: "k", segments: ["c", "b", "a"] }, { id: "l", segments: ["d"] }],
    remedies: [{ id: "r", kind: "branches", segments: ["b", "c"] }],
    assumed: [{ at: "/lots/0/insulation", text: "no compound is known", grade: "judgement" }, { at: "/segments/3/groups", text: "counted by eye", grade: "judgement" }],
  };
}

// Whatever an edit gives back, what it was given is as before.
function untouched<T>(edit: (of: CaseDocument) => T): T {
  const before = invented();
  const result = edit(before);
  assert.deepEqual(before, invented());
  return result;
}

const of = (document: CaseDocument, id: string): Segment => document.segments.find((one) => one.id === id) as Segment;
const shareSum = (segment: Segment): number => segment.stretches.reduce((sum, one) => sum + (one.share ?? 1), 0);
const closeTo = (value: number, expected: number): void => assert.ok(Math.abs(value - expected) < 1e-9, `${value} is not ${expected}`);

test("a length in millimetres changes nothing else", () => {
  const next = untouched((one) => withLength(one, "b", 350));
  assert.equal(of(next, "b").length_m, 0.35);
  assert.deepEqual({ ...next, segments: [] }, { ...invented(), segments: [] });
});

test("a cut keeps the length, the shares and the way of every circuit", () => {
  const { document, id, node } = untouched((one) => splitAt(one, "a", 200));
  const [near, far] = [of(document, "a"), of(document, id)];
  closeTo(near.length_m + far.length_m, 0.5);
  assert.deepEqual([near.from, near.to, far.from, far.to], ["box", node, node, "corner"]);
  assert.deepEqual(near.stretches, [{ id: "cold", zone: "upper-bay" }]);
  closeTo(shareSum(far), 1);
  // 100 mm of the cold stretch are left on the far part of 300 mm, and all 200 mm of the hot one.
  closeTo(far.stretches[1]?.share ?? 0, 0.6667);
  assert.deepEqual(document.circuits?.[0]?.segments, ["c", "b", id, "a"]);
  assert.equal(document.assumed?.[1]?.at, "/segments/4/groups");
});

test("no cut through a place of which something was seen", () => {
  const seen = { ...invented(), findings: [{ segment: "a", seen: "stiff" as const }] };
  assert.throws(() => splitAt(seen, "a", 200), Refusal);
  assert.throws(() => splitAt(invented(), "a", 500), Refusal);
});

test("a segment more stands between, a branch beside", () => {
  const after = untouched((one) => addAfter(one, "a"));
  assert.equal(of(after.document, "b").from, after.node);
  assert.equal(of(after.document, "d").from, after.node);
  const branch = untouched((one) => branchOff(one, "a", "end"));
  assert.equal(of(branch.document, "b").from, "corner");
  assert.equal(of(branch.document, branch.id).from, "corner");
  assert.equal(branchOff(invented(), "a", 200).document.segments.length, 6);
});

test("what hung behind a removed segment hangs where it began", () => {
  const next = untouched((one) => withoutSegment(one, "b"));
  assert.equal(of(next, "c").from, "corner");
  assert.deepEqual(next.lots.map((one) => one.id), ["thin"]);
  assert.ok(!next.nodes.some((one) => one.id === "rail"));
  assert.deepEqual(next.circuits?.[0]?.segments, ["c", "a"]);
  assert.deepEqual(next.remedies?.[0]?.segments, ["c"]);
  assert.equal(next.assumed?.[1]?.at, "/segments/2/groups");
  assert.throws(() => withoutSegment(next, "c"), /remedy/);
});

test("an id changes wherever it stands, but never in a record", () => {
  const next = untouched((one) => withSegmentId(one, "b", "B.1"));
  assert.deepEqual([next.circuits?.[0]?.segments, next.remedies?.[0]?.segments], [["c", "B.1", "a"], ["B.1", "c"]]);
  assert.throws(() => withSegmentId(invented(), "b", "a"), Refusal);
  assert.throws(() => withSegmentId(invented(), "b", "ä"), Refusal);
  const predicted = { ...invented(), predictions: [{ segments: { b: { supple: 1 } } }] };
  assert.throws(() => withSegmentId(predicted, "b", "x"), /seal/);
  assert.throws(() => withoutSegment(predicted, "b"), /seal/);
  assert.throws(() => withSegmentId({ ...invented(), findings: [{ segment: "b" }] }, "b", "x"), /finding/);
});

test("shares of stretches sum to 1 after every change", () => {
  let next = untouched((one) => withMoreStretches(one, "a", 1));
  assert.equal(of(next, "a").stretches.length, 3);
  next = withShare(next, "a", 0, 0.33);
  closeTo(shareSum(of(next, "a")), 1);
  next = withoutStretch(next, "a", 1);
  closeTo(shareSum(of(next, "a")), 1);
  assert.equal(withoutStretch(next, "a", 0).segments[0]?.stretches[0]?.share, undefined);
});

test("weights of candidates sum to 1", () => {
  const sum = (weights: Record<string, number>): number => Object.values(weights).reduce((all, one) => all + one, 0);
  const three = weighed({ p: 1, q: 1, r: 1 });
  closeTo(sum(three), 1);
  const more = withWeight(three, "s", 0.2);
  closeTo(sum(more), 1);
  closeTo(more["s"] ?? 0, 0.2);
  assert.deepEqual(withWeight({ p: 0.4, q: 0.6 }, "p", 0), { q: 1 });
});

test("that no compound is known moves on until all are", () => {
  const one = untouched((document) => withInsulation(document, "thin", "pvc-105"));
  assert.equal(one.assumed?.[0]?.at, "/lots/1/insulation");
  assert.ok(!withInsulation(one, "thick", "pvc-105").assumed?.some((entry) => entry.at.startsWith("/lots")));
});

test("wires of their own make, and a segment of another loom", () => {
  const { document, lot } = untouched((one) => withOwnLot(one, "b", 0));
  assert.equal(of(document, "b").groups[0]?.lot, lot);
  assert.equal(of(document, "c").groups[0]?.lot, "thin");
  const moved = untouched((one) => withLoomOf(one, "d", null));
  const loom = of(moved, "d").loom;
  assert.notEqual(loom, "top");
  assert.equal(moved.lots.find((one) => one.id === of(moved, "d").groups[0]?.lot)?.loom, loom);
});

test("periods that touched touch afterwards", () => {
  const ends = (document: CaseDocument): string => document.service.map((one) => `${one.from}..${one.to}`).join(" ");
  assert.equal(ends(untouched((one) => withEnd(one, 0, "2001"))), "1994-05..2001 2001..2014-05-12");
  assert.equal(ends(untouched((one) => withStart(one, 1, "2006-02"))), "1994-05..2006-02 2006-02..2014-05-12");
  assert.throws(() => withEnd(invented(), 0, "2015"), Refusal);
  const split = untouched((one) => withSplit(one, 1, "2009"));
  assert.equal(ends(split), "1994-05..2004-05 2004-05..2009 2009..2014-05-12");
  assert.equal((split.service[1]?.km ?? 0) + (split.service[2]?.km ?? 0), 20_001);
  const joined = untouched((one) => withoutPeriod(one, 0));
  assert.equal(ends(joined), "1994-05..2014-05-12");
  assert.equal(joined.service[0]?.km, 120_001);
  assert.equal(withStart(invented(), 0, "1994-03").vehicle.entered_service, "1994-03");
});

test("a gap is found and can be stated", () => {
  const broken = invented();
  broken.service[1] = { ...(broken.service[1] as CaseDocument["service"][number]), from: "2006-01" };
  assert.deepEqual(gaps(invented()), []);
  const [gap] = gaps(broken);
  assert.deepEqual(gap, { before: 1, from: "2004-05", to: "2006-01" });
  assert.deepEqual(gaps(withGapStated(broken, gap as NonNullable<typeof gap>)), []);
});

test("a hot part is assumed until it is measured, and what is assumed follows it", () => {
  const part = { shape: "cylinder", size_mm: 50, distance_mm: 100, shield: "none" } as const;
  const one = untouched((all) => withNewHotBody(all, "a", 1, part));
  const two = withNewHotBody(one, "a", 1, { ...part, size_mm: 60 });
  assert.ok(isHotBodyAssumed(two, "a", 1, 0) && isHotBodyAssumed(two, "a", 1, 1));
  const measured = withMeasuredHotBody(two, "a", 1, 0);
  assert.ok(!isHotBodyAssumed(measured, "a", 1, 0) && isHotBodyAssumed(measured, "a", 1, 1));
  const left = withoutHotBody(measured, "a", 1, 0);
  assert.deepEqual(of(left, "a").stretches[1]?.hot_bodies, [{ ...part, size_mm: 60 }]);
  assert.ok(isHotBodyAssumed(left, "a", 1, 0));
  assert.deepEqual(withoutHotBody(left, "a", 1, 0), invented());
});
