import type { ComponentChildren, JSX } from "preact";
import { acknowledge, job } from "../store/job";
import { library } from "../store/library";
import { Big } from "./big";
import { Cautions } from "./cautions";
import { say } from "./live";

async function accept(): Promise<void> {
  await acknowledge();
  say("The cautions are noted as read.");
  window.document.querySelector("main")?.focus();
}

/** Shows a list that ranks only after the cautions were read, once for each case. */
export function Gate({ children }: { children: ComponentChildren }): JSX.Element {
  if (!job.value) return <p>Open or start a case first.</p>;
  if (job.value.acknowledged) return <>{children}</>;
  if (!library.value) return <p role="status">The engine is starting…</p>;
  return (
    <section class="gate" aria-labelledby="gate">
      <h2 id="gate">Before the first list</h2>
      <p>What follows ranks places of a loom. Somebody will open them by it, so this has to be read once for each case.</p>
      <Cautions full />
      <Big primary onPress={accept}>
        I have read this
      </Big>
    </section>
  );
}
