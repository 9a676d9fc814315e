/** The map shows every segment once, whatever the loom looks like. */

import assert from "node:assert/strict";
import { test } from "node:test";
import type { CaseDocument, Segment } from "../../case/document";
import { fieldsOf, route } from "./layout";

const loom = (ends: [from: number, to: number, cover?: string, minutes?: number][]): CaseDocument =>
  ({
    segments: ends.map(([from, to, cover, minutes], i): Segment => ({
      id: `s${i}`, loom: "l", from: `n${from}`, to: `n${to}`, length_m: 1, stretches: [], groups: [],
      ...(cover ? { cover_group: cover } : {}), ...(minutes === undefined ? {} : { minutes_to_open: minutes }),
    })),
  }) as unknown as CaseDocument;

const all = (document: CaseDocument): string[] => document.segments.map((one) => one.id).sort();

test("fields come in the order of reaching", () => {
  const document = loom([[0, 1, "trunk", 45], [1, 2], [2, 3, "trim", 15], [3, 4, "trim", 30], [4, 5, "plate"]]);
  assert.deepEqual(fieldsOf(document).map((field) => [field.cover, field.minutes]), [["", null], ["trim", 15], ["trunk", 45], ["plate", null]]);
});

test("the longest way keeps its lane and branches stand beside it", () => {
  const [field] = fieldsOf(loom([[0, 1], [1, 9], [1, 2], [2, 3]]));
  const lanes = field?.rows.flatMap((row) => (row.kind === "segment" ? [[row.segment.id, row.fromLane, row.lane]] : []));
  assert.deepEqual(lanes, [["s0", 0, 0], ["s1", 0, 1], ["s2", 0, 0], ["s3", 0, 0]]);
});

test("loops, pieces apart and pieces between the same two places are all shown once", () => {
  const document = loom([[0, 1], [1, 2], [2, 0], [5, 6], [6, 5], [7, 7]]);
  const fields = fieldsOf(document);
  assert.deepEqual(route(fields).sort(), all(document));
  assert.ok(fields[0]?.rows.some((row) => row.kind === "node" && row.again));
});

test("a chain of thousands and a bush of two hundred", () => {
  const chain = loom(Array.from({ length: 5000 }, (_, i): [number, number] => [i, i + 1]));
  assert.deepEqual(route(fieldsOf(chain)), chain.segments.map((one) => one.id));
  const bush = loom(Array.from({ length: 200 }, (_, i): [number, number, string] => [Math.floor(i / 2), i + 1, `cover ${i % 3}`]));
  const fields = fieldsOf(bush);
  assert.deepEqual(route(fields).sort(), all(bush));
  assert.ok(fields.every((field) => field.lanes <= 8));
});
