/** Steps of a job: each change is added behind the last, and taking back is a step too, so nothing is ever lost. */

import { type KeptJob, type Step, got, kept, stepsOf } from "./database";
import { type Splice, reversed, spliced, spliceOf } from "./splice";

/** Another tab has changed the job meanwhile: what this one holds is old. */
export class Overtaken extends Error {
  constructor() {
    super("This job was changed in another tab. Nothing was overwritten.");
  }
}

/** Keeps a changed job with its new step, if nobody else has changed it since. */
export function keepStep(before: KeptJob, after: KeptJob, step: Step): Promise<void> {
  return kept(["jobs", "steps"], async (stores) => {
    const now = await got<KeptJob | undefined>(stores("jobs").get(before.id));
    if (!now || now.step !== before.step) throw new Overtaken();
    stores("jobs").put(after);
    stores("steps").add(step);
  });
}

/** Keeps members that are not part of the case: name, export, acknowledgement. */
export function keepMembers(id: string, members: Partial<KeptJob>): Promise<KeptJob> {
  return kept(["jobs"], async (stores) => {
    const now = await got<KeptJob | undefined>(stores("jobs").get(id));
    if (!now) throw new Error("this job is no longer kept on this device");
    const next = { ...now, ...members };
    stores("jobs").put(next);
    return next;
  });
}

export function stepTo(job: KeptJob, what: string, text: string, more: { undoes?: number; redoes?: number } = {}): Step {
  const at = new Date().toISOString();
  return { job: job.id, step: job.step + 1, at, what, ...spliceOf(job.text, text), ...more };
}

/** Steps that can be taken back, oldest first, and those that can be done again. */
export interface Stacks {
  done: Step[];
  undone: Step[];
}

export function stacksOf(steps: Step[]): Stacks {
  const stacks: Stacks = { done: [], undone: [] };
  for (const step of steps) {
    if (step.undoes !== undefined) {
      const taken = stacks.done.pop();
      if (taken) stacks.undone.push(taken);
    } else if (step.redoes !== undefined) {
      const again = stacks.undone.pop();
      if (again) stacks.done.push(again);
    } else {
      stacks.done.push(step);
      stacks.undone = [];
    }
  }
  return stacks;
}

export const stacks = async (job: string): Promise<Stacks> => stacksOf(await stepsOf(job));

// A step fits only the text that it left behind; the stacks see to that, and this makes sure.
function fitting(text: string, splice: Splice): string {
  const there = text.slice(splice.start, splice.start + splice.gone.length);
  if (there !== splice.gone) throw new Error("the steps of this job do not fit its text: nothing was changed");
  return spliced(text, splice);
}

export const textBefore = (text: string, step: Step): string => fitting(text, reversed(step));
export const textAfter = (text: string, step: Step): string => fitting(text, step);
