import type { JSX } from "preact";
import { useElementId } from "./ids";

export interface Option {
  id: string;
  name: string;
  hint?: string;
  disabled?: boolean;
}

interface Common {
  label: string;
  options: Option[];
  disabled?: boolean;
  /** The label is only spoken. */
  quiet?: boolean;
}

interface OneProps extends Common {
  many?: false;
  value: string | null | undefined;
  onChange: (id: string) => unknown;
}

interface ManyProps extends Common {
  many: true;
  value: string[];
  onChange: (ids: string[]) => unknown;
}

// The order of the options, whatever the order of the taps.
function toggled(props: ManyProps, id: string): string[] {
  const on = new Set(props.value);
  if (on.has(id)) on.delete(id);
  else on.add(id);
  return props.options.map((option) => option.id).filter((one) => on.has(one));
}

/** One of a few, or some of a few: big buttons side by side with the behaviour of radio buttons or check boxes. */
export function Choice(props: OneProps | ManyProps): JSX.Element {
  const name = useElementId("choice");
  return (
    <fieldset class="choice" disabled={props.disabled}>
      <legend class={props.quiet ? "spoken" : undefined}>{props.label}</legend>
      <div class="choice-options">
        {props.options.map((option) => {
          const chosen = props.many ? props.value.includes(option.id) : props.value === option.id;
          return (
            <label key={option.id} class={`choice-option${chosen ? " choice-chosen" : ""}`}>
              <input
                type={props.many ? "checkbox" : "radio"}
                name={name}
                checked={chosen}
                disabled={option.disabled}
                onChange={() => void (props.many ? props.onChange(toggled(props, option.id)) : props.onChange(option.id))}
              />
              <span class="choice-words">
                {option.name}
                {option.hint && <small>{option.hint}</small>}
              </span>
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
