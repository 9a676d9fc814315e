import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type Precision, isDate, precisionOf } from "./dates";
import { useElementId } from "./ids";

interface DateFieldProps {
  label: string;
  /** YYYY, YYYY-MM or YYYY-MM-DD; empty: not known. */
  value: string;
  onChange: (value: string) => unknown;
  /** How much has to be known; without it a year is enough. */
  precision?: Precision;
  hint?: string;
  required?: boolean;
  disabled?: boolean;
}

const forms: Record<Precision, string> = { day: "YYYY-MM-DD", month: "YYYY-MM or YYYY-MM-DD", year: "YYYY, YYYY-MM or YYYY-MM-DD" };
const order: Precision[] = ["year", "month", "day"];

// 1994.3.7, 1994/03/07 and 1994 3 7 are what people type.
const tidy = (text: string): string =>
  text.trim().replace(/[./\s]+/g, "-").replace(/-(\d)(?=-|$)/g, "-0$1");

/** A date of which perhaps only the year is known. */
export function DateField({ label, value, onChange, precision = "year", hint, required, disabled }: DateFieldProps): JSX.Element {
  const id = useElementId("date");
  const [text, setText] = useState(value);
  const [wrong, setWrong] = useState("");
  useEffect(() => {
    setText(value);
    setWrong("");
  }, [value]);

  function take(typed: string): void {
    const now = tidy(typed);
    if (now === "" && required) return setWrong(`A date is needed: ${forms[precision]}.`);
    if (now !== "" && (!isDate(now) || order.indexOf(precisionOf(now)) < order.indexOf(precision)))
      return setWrong(`“${typed}” is no date that can be used here: ${forms[precision]}.`);
    setWrong("");
    setText(now);
    if (now !== value) void onChange(now);
  }

  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        placeholder={forms[precision].split(" ")[0]?.replace(",", "")}
        value={text}
        disabled={disabled}
        required={required}
        aria-invalid={wrong !== ""}
        aria-describedby={`${id}-hint${wrong ? ` ${id}-wrong` : ""}`}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => take(event.currentTarget.value)}
      />
      {wrong && (
        <small id={`${id}-wrong`} class="field-wrong" role="alert">
          {wrong}
        </small>
      )}
      <small id={`${id}-hint`} class="field-hint">
        {hint ?? forms[precision]}
      </small>
    </div>
  );
}
