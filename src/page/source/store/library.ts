/** Everything that can be chosen, with words: asked of the engine once. */

import { signal } from "@preact/signals";
import type { Library } from "../engine/answers";
import { ask } from "../engine/ask";

export const library = signal<Library | null>(null);
/** Why there is no library, where there is none. */
export const libraryTrouble = signal("");

export async function loadLibrary(): Promise<void> {
  try {
    library.value = await ask<Library>({ ask: "library" });
    libraryTrouble.value = "";
  } catch (error) {
    libraryTrouble.value = error instanceof Error ? error.message : String(error);
  }
}
