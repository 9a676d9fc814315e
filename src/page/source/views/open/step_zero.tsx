import type { JSX } from "preact";
import { Big } from "../../parts";
import { document } from "../../store/job";
import type { OrderAnswer } from "./answers";

/** What can be learnt before anything is opened. */
export function StepZero({ order, onRecord }: { order: OrderAnswer; onRecord: () => unknown }): JSX.Element {
  const untouched = (document.value?.findings ?? []).length === 0;
  const left = order.step_zero.filter((step) => !step.done).length;
  return (
    <details open={untouched}>
      <summary>
        <h2 class="open-inline">First, without opening anything</h2> ({left} of {order.step_zero.length} left)
      </summary>
      <ul class="open-zero">
        {order.step_zero.map((step) => (
          <li key={step.what} class={step.done ? "open-done" : undefined}>
            <span class="open-tick" aria-hidden="true">
              {step.done ? "✓" : "○"}
            </span>
            <span>
              {step.what}
              <strong>{step.done ? " (done)" : ""}</strong>
            </span>
          </li>
        ))}
      </ul>
      {left > 0 && <Big onPress={onRecord}>Record what was seen without opening</Big>}
    </details>
  );
}
