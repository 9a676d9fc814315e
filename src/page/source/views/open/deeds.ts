/** What changes the case here: a finding, the owner's consent, and taking the last of them back. */

import { signal } from "@preact/signals";
import type { CaseDocument, Finding } from "../../case/document";
import { ask } from "../../engine/ask";
import { answers } from "../../store/answers";
import type { EstimateAnswer } from "../../store/estimate_answer";
import { addPhoto, change, document, job } from "../../store/job";
import type { RecordReply } from "./answers";

export interface Deed {
  job: string;
  /** The step that it made of the job. */
  step: number;
  reply: RecordReply["record"];
  words: string;
  estimateBefore: EstimateAnswer | null;
}

/** What was done last, while nothing else has changed the case since. */
export const lastDeed = signal<Deed | null>(null);

export const currentDeed = (): Deed | null => {
  const [deed, now] = [lastDeed.value, job.value];
  return deed && now && deed.job === now.id && deed.step === now.step ? deed : null;
};

const nowUtc = (): string => new Date().toISOString().replace(/\.\d+Z$/, "Z");

// The thorough draws of the case stand in the background's memory, so what is predicted from them is asked there.
function predictsFirst(on: string | undefined): boolean {
  return !(document.value?.predictions ?? []).some((one) => one["on"] === on);
}

async function done(request: { ask: string; [key: string]: unknown }, words: string, background: boolean): Promise<RecordReply> {
  const now = job.value;
  if (!now) throw new Error("no job is open");
  const reply = await ask<RecordReply>({ ...request, case: now.text, name: now.name, now: nowUtc() }, { background });
  if (job.value?.text !== now.text) throw new Error("the case was changed meanwhile: nothing was recorded, try again");
  const estimateBefore = answers.estimate.value.value;
  if (reply.record.did === "nothing") return reply;
  await change(words, reply.case);
  lastDeed.value = { job: now.id, step: job.value?.step ?? 0, reply: reply.record, words, estimateBefore };
  return reply;
}

export function record(finding: Finding, words: string): Promise<RecordReply> {
  return done({ ask: "record", finding }, words, predictsFirst(finding.on));
}

export const consent = (): Promise<RecordReply> => done({ ask: "consent" }, "The owner agrees to openings", false);

export const takeBack = (words: string): Promise<RecordReply> => done({ ask: "undo" }, `Taken back: ${words}`, false);

interface Entry {
  did?: unknown;
  at?: unknown;
  stored?: unknown;
}

/** What the program wrote down last, which can be taken back. */
export function lastEntry(of: CaseDocument): { did: string; finding: number } | null {
  const entries = (of.recorded ?? []) as Entry[];
  const last = entries[entries.length - 1];
  if (!last) return null;
  return { did: String(last.did), finding: last.did === "finding" ? Number(String(last.at).split("/")[2]) : -1 };
}

/** By which the photos of a finding are found again, whatever is recorded or taken back around it. */
export function photoKey(of: CaseDocument, index: number): string {
  const entries = (of.recorded ?? []) as Entry[];
  const entry = entries.find((one) => one.did === "finding" && one.at === `/findings/${index}`);
  const finding = of.findings?.[index];
  return `${String(entry?.stored ?? `finding ${index}`)} ${finding?.segment ?? finding?.lot ?? ""}`;
}

export async function attach(files: File[]): Promise<void> {
  const now = document.value;
  const last = now && lastEntry(now);
  if (!now || !last || last.finding < 0) return;
  for (const file of files) await addPhoto(photoKey(now, last.finding), file);
}
