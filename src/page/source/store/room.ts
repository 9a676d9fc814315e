/** How much of the browser's storage is used. */

import { signal } from "@preact/signals";

export interface Room {
  used: number;
  of: number;
}

export const room = signal<Room | null>(null);
const full = 0.8;

export const nearlyFull = (now: Room | null): boolean => now !== null && now.of > 0 && now.used / now.of >= full;

/** Not every browser tells. */
export async function measureRoom(): Promise<void> {
  try {
    const { usage, quota } = (await navigator.storage?.estimate?.()) ?? {};
    if (usage !== undefined && quota !== undefined) room.value = { used: usage, of: quota };
  } catch {
    room.value = null;
  }
}
