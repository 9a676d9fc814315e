/** Cases come from files and go to files: the file that the command line reads, or a zip of it with its photos. */

import { strToU8, unzipSync, zipSync } from "fflate";
import type { CheckAnswer } from "../engine/answers";
import { type Problem, Refused, ask } from "../engine/ask";
import { photosOfJob } from "./database";
import { job, newJob, putMembers } from "./job";
import { keepBytes } from "./photos";

const largest = 64 * 1024 * 1024; // bytes, as the engine's reader has it
const largestZip = 512 * 1024 * 1024;
const photoList = "photos/index.json";

interface Unpacked {
  name: string;
  text: string;
  files: Record<string, string>;
  photos: { key: string; bytes: ArrayBuffer }[];
}

const refused = (file: string, what: string): Refused => new Refused([{ file, place: "", what }]);

function textOf(name: string, bytes: Uint8Array): string {
  if (bytes.length > largest) throw refused(name, "The file is larger than 64 MiB; no case is.");
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw refused(name, "not valid JSON (RFC 8259, UTF-8): there are bytes in it that are no UTF-8 text");
  }
}

const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;

function photosIn(name: string, entries: Record<string, Uint8Array>): Unpacked["photos"] {
  const list = entries[photoList];
  if (!list) return [];
  const rows = JSON.parse(textOf(name, list)) as { file: string; key: string }[];
  return rows.flatMap(({ file, key }) => {
    const bytes = entries[`photos/${file}`];
    return bytes && typeof key === "string" ? [{ key, bytes: bytes.slice().buffer as ArrayBuffer }] : [];
  });
}

function unpacked(name: string, bytes: Uint8Array): Unpacked {
  if (!isZip(bytes)) return { name, text: textOf(name, bytes), files: {}, photos: [] };
  let entries: Record<string, Uint8Array>;
  try {
    entries = unzipSync(bytes, { filter: (entry) => entry.originalSize <= largest });
  } catch {
    throw refused(name, "The zip is damaged: it could not be unpacked.");
  }
  const cases = Object.keys(entries).filter((entry) => entry.endsWith(".json") && !entry.includes("/"));
  const only = cases[0];
  if (cases.length !== 1 || !only) throw refused(name, `The zip holds ${cases.length} case files; one is needed.`);
  const beside = Object.keys(entries).filter((entry) => entry.endsWith(".csv"));
  const files = Object.fromEntries(beside.map((entry) => [entry, textOf(entry, entries[entry] as Uint8Array)]));
  return { name: only, text: textOf(only, entries[only] as Uint8Array), files, photos: photosIn(name, entries) };
}

/** What the engine finds wrong with a case; none, and it can be worked with. */
export async function problemsIn(name: string, text: string, files: Record<string, string> = {}): Promise<Problem[]> {
  const answer = await ask<CheckAnswer>({ ask: "check", case: text, name, files });
  return answer.files.flatMap((file) => file.problems.map(({ at, text: what }) => ({ file: file.file, place: at, what })));
}

async function bytesOf(file: File): Promise<Uint8Array> {
  if (file.size > largestZip) throw refused(file.name, "The file is larger than 512 MiB; no job is.");
  return new Uint8Array(await file.arrayBuffer());
}

/** Opens a case file, a zip with photos, or a case file with the logger files beside it. Rejects with `Refused`. */
export async function importFile(file: File | File[]): Promise<void> {
  const all = Array.isArray(file) ? file : [file];
  const loggers = all.filter((one) => one.name.endsWith(".csv"));
  const cases = all.filter((one) => !one.name.endsWith(".csv"));
  const first = cases[0];
  if (!first || cases.length > 1)
    throw refused(all.map((one) => one.name).join(", "), "One case file is needed, with its logger files if it has any.");
  const found = unpacked(first.name, await bytesOf(first));
  for (const logger of loggers) found.files[logger.name] = textOf(logger.name, await bytesOf(logger));
  const problems = await problemsIn(found.name, found.text, found.files);
  if (problems.length > 0) throw new Refused(problems);
  const made = await newJob(found.name, found.text, found.files);
  for (const { key, bytes } of found.photos) await keepBytes(made.id, key, bytes);
}

const extension = ".case.json";
const stem = (name: string): string => name.replace(/(\.case)?\.json$/i, "").replace(/[^\w.-]+/g, "-").replace(/^[-.]+|-+$/g, "") || "case";
export const caseFileName = (name: string): string => stem(name) + extension;

const nameOfPhoto = (number: number, sha256: string): string => `${String(number + 1).padStart(3, "0")}-${sha256.slice(0, 8)}.jpg`;

/** Hands a file to the browser's downloads. */
export function download(name: string, content: BlobPart, type: string): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = window.document.createElement("a");
  link.href = address;
  link.download = name;
  window.document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** The open job as a file: the case alone, or with photos and logger files in a zip. */
export async function exportFile(): Promise<string> {
  const now = job.value;
  if (!now) throw new Error("no job is open");
  const photos = await photosOfJob(now.id);
  let name = caseFileName(now.name);
  if (photos.length === 0 && Object.keys(now.files).length === 0) {
    download(name, now.text, "application/json");
  } else {
    const rows = photos.map((photo, i) => ({
      file: nameOfPhoto(i, photo.sha256), key: photo.key, at: photo.at, sha256: photo.sha256,
    }));
    const entries: Record<string, Uint8Array> = { [name]: strToU8(now.text) };
    for (const [file, text] of Object.entries(now.files)) entries[file] = strToU8(text);
    photos.forEach((photo, i) => (entries[`photos/${rows[i]?.file}`] = new Uint8Array(photo.bytes)));
    if (photos.length > 0) entries[photoList] = strToU8(JSON.stringify(rows, null, 2) + "\n");
    name = stem(now.name) + ".zip";
    download(name, zipSync(entries, { level: 0 }), "application/zip");
  }
  await putMembers({ exportedAt: new Date().toISOString(), exportedStep: now.step });
  return name;
}
