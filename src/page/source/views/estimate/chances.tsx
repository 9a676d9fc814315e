import type { JSX } from "preact";
import type { Chances } from "../../engine/answers";
import { ConditionMark } from "../../parts";
import { library } from "../../store/job";
import { chanceWords } from "./words";

/** The chance of each condition: word, swatch, length of a bar, and the chance in words. */
export function ChanceBars({ chances }: { chances: Chances }): JSX.Element {
  return (
    <ul class="estimate-chances">
      {Object.entries(chances).map(([condition, chance]) => (
        <li key={condition}>
          <div class="estimate-chance-head">
            <ConditionMark condition={condition} />
            <strong>{chanceWords(chance)}</strong>
          </div>
          <small>{library.value?.conditions.find((one) => one.id === condition)?.means}</small>
          <svg class="range-bar" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
            <rect x="0" y="5" width="100" height="2" class="range-track" />
            <rect x="0" y="2" width={100 * chance} height="8" class="range-span" />
          </svg>
        </li>
      ))}
    </ul>
  );
}
