/** Questions to the engine. */

import { signal } from "@preact/signals";
import { Dropped, Line } from "./line";

export { Dropped };

/** Something wrong with the data: where, and what. */
export interface Problem {
  file: string;
  place: string;
  what: string;
}

export interface Request {
  ask: string;
  [key: string]: unknown;
}

export interface Manner {
  /** Answered beside the others, so that what the user waits for does not wait for it. */
  background?: boolean;
  /** True when nobody wants the answer any more; asked before the question is put. */
  dropped?: () => boolean;
}

/** The data are bad. */
export class Refused extends Error {
  constructor(readonly problems: Problem[]) {
    super(problems.map((one) => [one.place, one.what].filter(Boolean).join(": ")).join("; "));
  }
}

/** The engine could not answer, through no fault of the data. */
export class Failure extends Error {}

/** Whether the engine works on something that the user waits for. */
export const busy = signal(false);
/** Whether it refines answers that can be seen already. */
export const refining = signal(false);

const front = new Line((is) => (busy.value = is));
const back = new Line((is) => (refining.value = is));

type Companions = (caseText: string) => Record<string, string> | undefined;
let companions: Companions = () => undefined;

/** Logger files that belong to a case go with every question about it. */
export function setCompanions(of: Companions): void {
  companions = of;
}

function withFiles(request: Request): Request {
  if (typeof request["case"] !== "string" || request["files"] !== undefined) return request;
  const files = companions(request["case"]);
  return files && Object.keys(files).length > 0 ? { ...request, files } : request;
}

interface Reply {
  errors?: Problem[];
  failure?: string;
}

/** Rejects with `Refused` for bad data, `Dropped` where the manner says so, `Failure` otherwise. */
export async function ask<T>(request: Request, manner: Manner = {}): Promise<T> {
  let text: string;
  try {
    text = await (manner.background ? back : front).ask(JSON.stringify(withFiles(request)), manner.dropped);
  } catch (error) {
    if (error instanceof Dropped) throw error;
    throw new Failure(error instanceof Error ? error.message : String(error));
  }
  const reply = JSON.parse(text) as T & Reply;
  if (Array.isArray(reply.errors)) throw new Refused(reply.errors);
  if (typeof reply.failure === "string") throw new Failure(reply.failure);
  if (text === "{}") throw new Failure("the memory of this device is not enough for the answer");
  return reply;
}

/** What an error says, as problems that can be shown. */
export function problemsOf(error: unknown): Problem[] {
  if (error instanceof Refused) return error.problems;
  return [{ file: "", place: "", what: error instanceof Error ? error.message : String(error) }];
}
