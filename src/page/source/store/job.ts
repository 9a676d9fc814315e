/** The job that is open: the case, its steps, and everything that changes it. */

import { computed, signal } from "@preact/signals";
import { type CaseDocument, parsed, written } from "../case/document";
import { setCompanions } from "../engine/ask";
import { type KeptJob, allJobs, got, jobById, keepLastOpen, kept, lastOpen, removeJob, stepsOf } from "./database";
import { Overtaken, keepMembers, keepStep, stacks, stepTo, textAfter, textBefore } from "./journal";
import { type Photo, keepPhoto, photosBy } from "./photos";
import { measureRoom } from "./room";
import { hold, letGo, overtaken, readonly, setHandlers, takeOver, tellOthers } from "./tabs";

export { exportFile, importFile } from "./files";
export { library } from "./library";
export { removePhoto, usePhotos } from "./photos";
export { readonly, takeOver };
export type Job = KeptJob;

export const job = signal<Job | null>(null);

/** The case as data; members that the page does not know stay in it. */
export const document = computed<CaseDocument | null>(() => (job.value ? parsed(job.value.text) : null));

/** What went wrong while the last change was kept; the change is still on the screen. */
export const trouble = signal<string>("");

// Where it cannot be kept, the page starts with the list of jobs.
const remember = (id: string | null): Promise<void> => keepLastOpen(id).catch(() => undefined);

export const rememberedJob = (): Promise<string | undefined> => lastOpen().catch(() => undefined);

// Changes are kept one after the other, in the order they were made.
let line: Promise<unknown> = Promise.resolve();
function inOrder<T>(work: () => Promise<T>): Promise<T> {
  const done = line.then(work);
  line = done.catch(() => undefined);
  return done;
}

async function readAgain(id: string): Promise<void> {
  const now = await jobById(id);
  if (now && job.value?.id === id) job.value = now;
}

setHandlers(
  (id) => void (job.value?.id === id && inOrder(() => readAgain(id))),
  () => inOrder(async () => undefined),
);
setCompanions((caseText) => (job.value?.text === caseText ? job.value.files : undefined));

async function keep(before: Job, after: Job, step: Parameters<typeof keepStep>[2]): Promise<void> {
  try {
    await keepStep(before, after, step);
    trouble.value = "";
    tellOthers(after.id);
    void measureRoom();
  } catch (error) {
    if (error instanceof Overtaken) {
      overtaken();
      await readAgain(before.id);
    } else {
      trouble.value = error instanceof Error ? error.message : String(error);
    }
    throw error;
  }
}

function writable(): Job {
  const now = job.value;
  if (!now) throw new Error("no job is open");
  if (readonly.value) throw new Error("another tab works on this job: choose “Work here instead” first");
  return now;
}

// The view shows the change at once; the promise tells when it is kept.
function put(what: string, text: string, more: { undoes?: number; redoes?: number } = {}): Promise<void> {
  const before = writable();
  if (text === before.text) return inOrder(async () => undefined);
  const step = stepTo(before, what, text, more);
  const after: Job = { ...before, text, step: step.step, changedAt: step.at };
  job.value = after;
  return inOrder(() => keep(before, after, step));
}

/** A change in words, and the new text or what makes the new document of the old one. Kept before the promise resolves. */
export async function change(what: string, next: string | ((document: CaseDocument) => CaseDocument)): Promise<void> {
  const now = writable();
  await put(what, typeof next === "string" ? next : written(next(parsed(now.text))));
}

/** Takes back the last change; its words, or null where there is none. */
export async function undo(): Promise<string | null> {
  await inOrder(async () => undefined);
  const step = (await stacks(writable().id)).done.pop();
  if (!step) return null;
  await put(`Taken back: ${step.what}`, textBefore(writable().text, step), { undoes: step.step });
  return step.what;
}

/** Does again what was taken back last. */
export async function redo(): Promise<string | null> {
  await inOrder(async () => undefined);
  const step = (await stacks(writable().id)).undone.pop();
  if (!step) return null;
  await put(`Done again: ${step.what}`, textAfter(writable().text, step), { redoes: step.step });
  return step.what;
}

export async function steps(): Promise<{ step: number; at: string; what: string }[]> {
  await inOrder(async () => undefined);
  const id = job.value?.id;
  return id ? (await stepsOf(id)).map(({ step, at, what }) => ({ step, at, what })) : [];
}

/** Keeps members of the open job that are not part of the case. */
export async function putMembers(members: Partial<Job>): Promise<void> {
  const now = job.value;
  if (!now) return;
  job.value = { ...now, ...members };
  await inOrder(() => keepMembers(now.id, members));
  tellOthers(now.id);
}

/** The cautions were read: once for each job. */
export const acknowledge = (): Promise<void> => putMembers({ acknowledged: true, acknowledgedAt: new Date().toISOString() });

export async function listJobs(): Promise<Job[]> {
  return (await allJobs()).sort((a, b) => b.changedAt.localeCompare(a.changedAt));
}

/** Keeps a new job and opens it. */
export async function newJob(name: string, text: string, files: Record<string, string> = {}): Promise<Job> {
  const at = new Date().toISOString();
  const made: Job = {
    id: crypto.randomUUID(), name, text, step: 0, changedAt: at, exportedAt: null, exportedStep: null,
    acknowledged: false, acknowledgedAt: null, files,
  };
  try {
    await kept(["jobs"], async (stores) => void (await got(stores("jobs").add(made))));
    await openJob(made.id);
  } catch (error) {
    // Without storage it is a job of this tab: the notice says so, and the file can be saved.
    closeJob();
    job.value = made;
    trouble.value = error instanceof Error ? error.message : String(error);
  }
  return made;
}

export async function openJob(id: string): Promise<void> {
  await inOrder(async () => undefined);
  const found = await jobById(id);
  if (!found) throw new Error("this job is no longer kept on this device");
  await hold(id);
  job.value = (await jobById(id)) ?? found;
  trouble.value = "";
  await remember(id);
  void measureRoom();
}

export function closeJob(): void {
  job.value = null;
  letGo();
  void remember(null);
}

export async function deleteJob(id: string): Promise<void> {
  if (job.value?.id === id) closeJob();
  await removeJob(id);
  void measureRoom();
}

/** Scaled down and kept with the job; `findingKey` is whatever the view finds it by again. */
export async function addPhoto(findingKey: string, file: Blob): Promise<Photo> {
  const photo = await keepPhoto(writable().id, findingKey, file);
  void measureRoom();
  return photo;
}

export async function photosOf(findingKey: string): Promise<Photo[]> {
  return job.value ? photosBy(job.value.id, findingKey) : [];
}
