/** Which tab may change a job: one at a time; the others follow it. */

import { signal } from "@preact/signals";

/** True while another tab works on the job. */
export const readonly = signal(false);

type Message = { changed: string } | { give: string };

const channel = typeof BroadcastChannel === "function" ? new BroadcastChannel("heatside") : null;
const locks = typeof navigator.locks?.request === "function" ? navigator.locks : null;

let held: string | null = null;
let release: (() => void) | null = null;
let waiting: AbortController | null = null;
let onChanged: (id: string) => void = () => undefined;
let settle: () => Promise<void> = async () => undefined;

/** What to do when another tab has changed a job, and how to finish what this tab is still keeping. */
export function setHandlers(changed: (id: string) => void, settled: () => Promise<void>): void {
  onChanged = changed;
  settle = settled;
}

export const tellOthers = (id: string): void => channel?.postMessage({ changed: id } satisfies Message);

const nameOf = (id: string): string => `heatside-job-${id}`;

function owned(id: string): Promise<void> {
  const follows = readonly.value;
  readonly.value = false;
  if (follows) onChanged(id);
  return new Promise((resolve) => (release = resolve));
}

// Resolves the lock away when another tab took it by force.
function request(id: string, options: LockOptions, whenLost: () => void): void {
  if (!locks) return;
  locks
    .request(nameOf(id), options, (lock) => (lock && held === id ? owned(id) : undefined))
    .catch((error: unknown) => {
      const gone = error instanceof DOMException && error.name === "AbortError";
      if (gone && held === id && !options.signal?.aborted) whenLost();
    });
}

function follow(id: string): void {
  release = null;
  readonly.value = true;
  waiting?.abort();
  waiting = new AbortController();
  request(id, { signal: waiting.signal }, () => follow(id));
}

/** Takes the job for this tab, or follows the tab that has it. */
export async function hold(id: string): Promise<void> {
  letGo();
  held = id;
  if (!locks) {
    readonly.value = false; // the journal still refuses to overwrite
    return;
  }
  await new Promise<void>((resolve) => {
    locks
      .request(nameOf(id), { ifAvailable: true }, (lock) => {
        if (!lock || held !== id) {
          if (held === id) follow(id);
          resolve();
          return undefined;
        }
        resolve();
        return owned(id);
      })
      .catch((error: unknown) => {
        if (held === id && error instanceof DOMException && error.name === "AbortError") follow(id);
        resolve();
      });
  });
}

export function letGo(): void {
  held = null;
  waiting?.abort();
  waiting = null;
  release?.();
  release = null;
  readonly.value = false;
}

/** The user wants to work in this tab: the other is asked, and after a while not asked any more. */
export function takeOver(): void {
  const id = held;
  if (!id || !readonly.value) return;
  channel?.postMessage({ give: id } satisfies Message);
  setTimeout(() => {
    if (held !== id || !readonly.value) return;
    waiting?.abort();
    request(id, { steal: true }, () => follow(id));
  }, 1500);
}

/** Another tab has kept something that this one did not know of. */
export function overtaken(): void {
  if (held && !readonly.value) {
    release?.();
    follow(held);
  }
}

if (channel) {
  channel.onmessage = async ({ data }: MessageEvent<Message>) => {
    if ("changed" in data) return onChanged(data.changed);
    if (data.give !== held || readonly.value || !locks) return;
    const id = data.give;
    readonly.value = true;
    await settle();
    release?.();
    follow(id);
  };
}
