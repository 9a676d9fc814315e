import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useElementId } from "./ids";
import { numberIn, short, stepped } from "./numbers";

interface AmountProps {
  label: string;
  /** Null: nothing is entered. */
  value: number | null | undefined;
  /** Called with numbers inside the limits only, and with null when the field is emptied. */
  onChange: (value: number | null) => unknown;
  unit?: string;
  step?: number;
  min?: number;
  max?: number;
  hint?: string;
  disabled?: boolean;
}

const shown = (value: number | null | undefined): string => (value === null || value === undefined ? "" : String(value));

function limits(min: number | undefined, max: number | undefined): string {
  if (min !== undefined && max !== undefined) return `from ${short(min)} to ${short(max)}`;
  if (min !== undefined) return `at least ${short(min)}`;
  return max !== undefined ? `at most ${short(max)}` : "";
}

/** A number with buttons to make it smaller and larger. */
export function Amount(props: AmountProps): JSX.Element {
  const { label, value, onChange, unit, step = 1, min, max, hint, disabled } = props;
  const id = useElementId("amount");
  const [text, setText] = useState(shown(value));
  const [wrong, setWrong] = useState("");
  useEffect(() => {
    if (numberIn(text) !== (value ?? null)) setText(shown(value));
    setWrong("");
  }, [value]);
  const inside = (number: number): boolean => (min === undefined || number >= min) && (max === undefined || number <= max);

  function take(now: string): void {
    if (now.trim() === "") {
      setWrong("");
      if (value !== null && value !== undefined) void onChange(null);
      return;
    }
    const number = numberIn(now);
    if (number === null) return setWrong("Digits are needed, with a point or a comma at most.");
    if (!inside(number)) return setWrong(`A number ${limits(min, max)} is needed.`);
    setWrong("");
    if (number !== value) void onChange(number);
  }

  function press(by: number): void {
    const from = numberIn(text) ?? value ?? min ?? 0;
    const next = Math.min(max ?? Infinity, Math.max(min ?? -Infinity, stepped(from, by, step, String(from))));
    setText(shown(next));
    take(shown(next));
  }

  const described = [wrong && `${id}-wrong`, hint && `${id}-hint`].filter(Boolean).join(" ") || undefined;
  return (
    <div class="field amount">
      <label for={id}>
        {label}
        {unit && <span class="amount-unit"> [{unit}]</span>}
      </label>
      <div class="amount-row">
        <button type="button" class="big amount-step" disabled={disabled} aria-label={`${label}: less`} onClick={() => press(-1)}>
          −
        </button>
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={text}
          disabled={disabled}
          aria-invalid={wrong !== ""}
          aria-describedby={described}
          onInput={(event) => setText(event.currentTarget.value)}
          onChange={(event) => take(event.currentTarget.value)}
        />
        <button type="button" class="big amount-step" disabled={disabled} aria-label={`${label}: more`} onClick={() => press(1)}>
          +
        </button>
      </div>
      {wrong && (
        <small id={`${id}-wrong`} class="field-wrong" role="alert">
          {wrong}
        </small>
      )}
      {hint && (
        <small id={`${id}-hint`} class="field-hint">
          {hint}
        </small>
      )}
    </div>
  );
}
