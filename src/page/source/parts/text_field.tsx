import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useElementId } from "./ids";

interface TextFieldProps {
  label: string;
  value: string;
  /** Called when the field is left or Enter is pressed, not with every letter. */
  onChange: (value: string) => unknown;
  lines?: number;
  hint?: string;
  required?: boolean;
  disabled?: boolean;
}

// Control characters have no place in a case; a line end is written as one.
const clean = (text: string): string => text.replace(/\r\n?/g, "\n").replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, "");

export function TextField({ label, value, onChange, lines, hint, required, disabled }: TextFieldProps): JSX.Element {
  const id = useElementId("text");
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  const empty = required === true && text.trim() === "";
  const common = {
    id,
    value: text,
    disabled,
    required,
    autoComplete: "off",
    "aria-invalid": empty,
    "aria-describedby": hint || empty ? `${id}-hint` : undefined,
    onInput: (event: JSX.TargetedEvent<HTMLInputElement | HTMLTextAreaElement>) => setText(event.currentTarget.value),
    onChange: (event: JSX.TargetedEvent<HTMLInputElement | HTMLTextAreaElement>) => {
      const now = clean(event.currentTarget.value);
      if (now !== value && !(required && now.trim() === "")) void onChange(now);
    },
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {lines ? <textarea rows={lines} {...common} /> : <input type="text" {...common} />}
      {(hint || empty) && (
        <small id={`${id}-hint`} class={empty ? "field-wrong" : "field-hint"}>
          {empty ? "Some words are needed here." : hint}
        </small>
      )}
    </div>
  );
}
