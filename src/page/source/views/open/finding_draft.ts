/** A finding while it is filled in. */

import { signal } from "@preact/signals";
import type { CaseDocument, Cause, Finding, Seen, Segment } from "../../case/document";
import type { MethodWords } from "../../engine/answers";
import { today } from "../../parts/dates";
import { library } from "../../store/job";
import { segmentName } from "../estimate/names";
import { seenWord } from "./words";

export interface Draft {
  segment: string;
  seen: Seen | null;
  method: string;
  cause: Cause;
  signs: string[];
  clues: string[];
  stretch: string;
  lot: string;
  on: string;
  alteredOn: string;
  by: string;
  note: string;
}

/** Method and day of the last finding: the next one is mostly found the same way. */
export const lastMethod = signal<string | null>(null);
const lastDay = signal<string | null>(null);

export function rememberFrom(draft: Draft): void {
  lastMethod.value = draft.method;
  lastDay.value = draft.on;
}

/** Methods by which something is seen; nothing is opened where airbag circuits run. */
export function methodsFor(segment: Segment | undefined): MethodWords[] {
  return (library.value?.methods ?? []).filter((one) => one.gives === "seen" && !(segment?.airbag && one.opens));
}

export function newDraft(of: CaseDocument, segment: string, usualMethod: string): Draft {
  const fitting = methodsFor(of.segments.find((one) => one.id === segment)).map((one) => one.id);
  const method = [lastMethod.value, usualMethod, fitting[0]].find((id) => id && fitting.includes(id)) ?? "";
  const findings = of.findings ?? [];
  return {
    segment, seen: null, method, cause: "heat", signs: [], clues: [], stretch: "", lot: "",
    on: lastDay.value ?? today(), alteredOn: "", by: findings[findings.length - 1]?.by ?? "", note: "",
  };
}

/** Whether what was seen had a cause to speak of. */
export const hasCause = (seen: Seen | null): boolean => seen !== null && seen !== "supple" && seen !== "not-seen";

/** The finding as the case has it: what says nothing is left out. */
export function findingOf(draft: Draft): Finding {
  const finding: Finding = { segment: draft.segment, on: draft.on };
  if (draft.stretch) finding.stretch = draft.stretch;
  if (draft.lot) finding.lot = draft.lot;
  if (draft.seen) finding.seen = draft.seen;
  if (draft.method) finding.method = draft.method;
  if (draft.seen === "altered" && draft.alteredOn) finding.altered_on = draft.alteredOn;
  if (hasCause(draft.seen) && draft.seen !== "altered") finding.cause = draft.cause;
  if (draft.signs.length > 0) finding.signs = draft.signs;
  if (draft.clues.length > 0) finding.clues = draft.clues;
  if (draft.by.trim()) finding.by = draft.by.trim();
  if (draft.note.trim()) finding.note = draft.note.trim();
  return finding;
}

/** "branch to coil 2: cracked" */
export function draftWords(draft: Draft): string {
  return `${segmentName(draft.segment)}: ${draft.seen ? seenWord(draft.seen) : "clues"}`;
}
