import type { JSX } from "preact";
import { percent } from "./words";

export interface Move {
  before: number;
  now: number;
}

const least = 0.005; // a change that whole per cents do not show is none

export function moveWords({ before, now }: Move): string {
  const by = Math.round(100 * Math.abs(now - before));
  if (Math.abs(now - before) < least || by === 0) return "as before";
  return `${by} in 100 ${now > before ? "more" : "less"} likely`;
}

/** "85 % → 94 % cracked: 9 in 100 more likely", with an arrow that says the same. */
export function Moved({ move, of = "cracked or worse" }: { move: Move; of?: string }): JSX.Element {
  const words = moveWords(move);
  const sign = words === "as before" ? "=" : move.now > move.before ? "▲" : "▼";
  return (
    <span class="estimate-moved">
      <span class="estimate-moved-sign" aria-hidden="true">
        {sign}
      </span>{" "}
      {percent(move.before)} <span aria-hidden="true">→</span>
      <span class="spoken">before, now</span> {percent(move.now)} {of}: {words}
    </span>
  );
}
