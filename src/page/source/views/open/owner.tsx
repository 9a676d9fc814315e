import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { withMember, withMembers } from "../../case/document";
import type { Openings } from "../../case/document";
import { Amount, Big, Problems, say } from "../../parts";
import { change, document, readonly } from "../../store/job";
import type { OrderAnswer } from "./answers";
import { consent } from "./deeds";
import { allowedWords } from "./words";

async function limit(what: string, members: Partial<Openings>): Promise<void> {
  await change(what, (of) => {
    const next = withMembers(of.openings ?? {}, members);
    return withMember(of, "openings", Object.keys(next).length > 0 ? next : undefined);
  });
}

function Limits({ order }: { order: OrderAnswer }): JSX.Element {
  const openings = document.value?.openings;
  const currency = document.value?.currency;
  const closed = readonly.value;
  return (
    <details class="open-limits">
      <summary>What the owner allows</summary>
      {allowedWords(order, openings?.allowed, openings?.cost_limit).map((words) => (
        <p key={words}>{words}</p>
      ))}
      <Amount
        label="Openings allowed" value={openings?.allowed} min={0} max={1000} disabled={closed} hint="Empty: as many as pay"
        onChange={(value) => limit("What the owner allows: openings", { allowed: value === null ? undefined : Math.round(value) })}
      />
      <Amount
        label="Cost allowed" value={openings?.cost_limit} unit={currency} min={0} max={1e9} step={10} disabled={closed || !currency}
        hint={currency ? "For the minutes of all openings; empty: no limit" : "A limit of cost needs a currency: name it at Remedies first"}
        onChange={(value) => limit("What the owner allows: cost", { cost_limit: value ?? undefined })}
      />
    </details>
  );
}

/** The owner's consent, and the limits of it. */
export function Owner({ order }: { order: OrderAnswer }): JSX.Element {
  const [wrong, setWrong] = useState<unknown>(null);
  const [asking, setAsking] = useState(false);
  const agreed = document.value?.openings?.consent === true;
  async function agree(): Promise<void> {
    setWrong(null);
    setAsking(true);
    try {
      await consent();
      say("The owner's consent is recorded.");
    } catch (error) {
      setWrong(error);
    } finally {
      setAsking(false);
    }
  }
  return (
    <section aria-labelledby="open-owner">
      <h2 id="open-owner">The owner</h2>
      {agreed ? (
        <p>✓ The owner has agreed to openings: the vehicle may not run afterwards.</p>
      ) : (
        <div class="open-warn">
          <p>
            <strong>Ask the owner first:</strong> the vehicle may not run after an opening. Have a replacement at hand before a loom is
            removed.
          </p>
          <Big primary disabled={readonly.value || asking} onPress={agree}>
            The owner knows, and agrees
          </Big>
        </div>
      )}
      <Problems problems={wrong} />
      <Limits order={order} />
    </section>
  );
}
