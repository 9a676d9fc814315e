/** One change by one tap: kept at once, said aloud, and refused in words where it cannot be. */

import { computed, signal } from "@preact/signals";
import type { CaseDocument } from "../../case/document";
import { say } from "../../parts";
import { change, job, readonly, undo } from "../../store/job";

/** Why the last change was not made; empty once one was. */
export const refusal = signal("");
const last = signal({ words: "", id: "", step: -1 });

/** What was changed last here, to be taken back; empty once anything else was. */
export const lastChange = computed(() => {
  const now = job.value;
  return now && now.id === last.value.id && now.step === last.value.step ? last.value.words : "";
});

export async function edit(words: string, next: (document: CaseDocument) => CaseDocument): Promise<boolean> {
  try {
    await change(words, next);
    refusal.value = "";
    last.value = { words, id: job.value?.id ?? "", step: job.value?.step ?? -1 };
    say(words);
    return true;
  } catch (error) {
    refusal.value = error instanceof Error ? error.message : String(error);
    return false;
  }
}

export async function takeBack(): Promise<void> {
  const words = await undo();
  refusal.value = "";
  say(words ? `Taken back: ${words}` : "There is nothing to take back.");
}

export const locked = (): boolean => readonly.value;
