import type { JSX } from "preact";
import type { Option } from "./choice";
import { useElementId } from "./ids";

interface PickProps {
  label: string;
  options: Option[];
  value: string;
  onChange: (id: string) => unknown;
  hint?: string;
  disabled?: boolean;
}

/** One of many: the list that the device knows. */
export function Pick({ label, options, value, onChange, hint, disabled }: PickProps): JSX.Element {
  const id = useElementId("pick");
  const known = options.some((option) => option.id === value);
  const now = options.find((option) => option.id === value)?.hint ?? hint;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        disabled={disabled}
        aria-describedby={now ? `${id}-hint` : undefined}
        onChange={(event) => void onChange(event.currentTarget.value)}
      >
        {!known && (
          <option key={value} value={value}>
            {value === "" ? "choose…" : value}
          </option>
        )}
        {options.map((option) => (
          <option key={option.id} value={option.id} disabled={option.disabled}>
            {option.name}
          </option>
        ))}
      </select>
      {now && (
        <small id={`${id}-hint`} class="field-hint">
          {now}
        </small>
      )}
    </div>
  );
}
