import type { JSX } from "preact";
import { grouped } from "../../parts/numbers";
import { type Answer, fullDraws } from "../../store/answers";

/** How many draws stand behind what is shown, and whether more are coming. */
export function DrawsLine<T>({ answer }: { answer: Answer<T> }): JSX.Element | null {
  if (!answer.value) return null;
  const more = answer.state === "working" && answer.draws < fullDraws;
  return (
    <p class="estimate-draws">
      From {grouped(answer.draws)} draws of what is not known{more ? `; ${grouped(fullDraws)} follow.` : "."}
    </p>
  );
}
