import type { JSX } from "preact";
import type { Seen } from "../../case/document";
import { ConditionSwatch } from "../../parts";
import { useElementId } from "../../parts/ids";
import { library } from "../../store/job";

const others: Record<string, string> = {
  "not-seen": "looked, but it could not be seen",
  altered: "an earlier repair was made here",
};

function Sign({ id }: { id: string }): JSX.Element {
  if (library.value?.colours[id]) return <ConditionSwatch condition={id} />;
  return (
    <span class="open-seen-sign" aria-hidden="true">
      {id === "altered" ? "✚" : "?"}
    </span>
  );
}

interface SeenChoiceProps {
  value: Seen | null;
  onChange: (seen: Seen) => unknown;
  disabled?: boolean;
}

/** What was seen, as big buttons. */
export function SeenChoice({ value, onChange, disabled }: SeenChoiceProps): JSX.Element {
  const name = useElementId("seen");
  return (
    <fieldset class="choice open-seen" disabled={disabled}>
      <legend>What was seen</legend>
      <div class="open-seen-options">
        {(library.value?.seen ?? []).map((one) => (
          <label key={one.id} class={`choice-option open-seen-option${value === one.id ? " choice-chosen" : ""}`}>
            <input type="radio" name={name} checked={value === one.id} onChange={() => void onChange(one.id as Seen)} />
            <Sign id={one.id} />
            <span class="choice-words">
              {one.id === "not-seen" ? "Could not see" : one.name}
              <small>{others[one.id] ?? library.value?.conditions.find((condition) => condition.id === one.id)?.means}</small>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
