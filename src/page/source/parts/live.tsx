import { signal } from "@preact/signals";
import type { JSX } from "preact";

const words = signal("");
let turn = false;

/** Has a screen reader say something when it has finished what it is saying. */
export function say(something: string): void {
  // The same words said twice are a change only if something in them changes.
  turn = !turn;
  words.value = something + (turn ? "" : "\u00a0");
}

/** Where the words stand; once on the page. */
export function Live(): JSX.Element {
  return (
    <div class="spoken" role="status" aria-live="polite">
      {words.value}
    </div>
  );
}
