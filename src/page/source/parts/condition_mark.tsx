import type { JSX } from "preact";
import { library } from "../store/library";

const keyOf = (condition: string): string => condition.replace(/_/g, "-");

/** The word of a condition; ids of answers come with hyphens and with underscores. */
export function conditionWord(condition: string): string {
  const id = keyOf(condition);
  return library.value?.seen.find((one) => one.id === id)?.name ?? id.replace(/-/g, " ");
}

/** A piece of wire in the colour and dashes of a condition. */
export function ConditionSwatch({ condition }: { condition: string }): JSX.Element {
  const ink = library.value?.colours[keyOf(condition)];
  return (
    <svg class="condition-swatch" viewBox="0 0 36 16" width="36" height="16" aria-hidden="true">
      <rect x="1" y="1" width="34" height="14" rx="4" fill={ink?.hex ?? "none"} stroke="var(--swatch-line)" stroke-width="2" />
      {ink?.dash_hex && (
        <line x1="4" y1="8" x2="32" y2="8" stroke={ink.dash_hex} stroke-width={8 * ink.dash_width} stroke-dasharray={ink.dash} />
      )}
    </svg>
  );
}

/** Colour, dashes and word. */
export function ConditionMark({ condition }: { condition: string }): JSX.Element {
  return (
    <span class="condition-mark">
      <ConditionSwatch condition={condition} />
      <span>{conditionWord(condition)}</span>
    </span>
  );
}
