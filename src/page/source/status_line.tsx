import type { JSX } from "preact";
import { busy, refining } from "./engine/ask";
import { Big } from "./parts/big";
import { momentWords } from "./parts/dates";
import { say } from "./parts/live";
import { document as caseDocument, exportFile, job } from "./store/job";

function exportWords(): string {
  const now = job.value;
  if (!now) return "";
  if (!now.exportedAt) return "never saved as a file";
  const since = now.step - (now.exportedStep ?? 0);
  const changes = since === 0 ? "nothing changed since" : `${since} change${since === 1 ? "" : "s"} since`;
  return `file saved ${momentWords(now.exportedAt)}, ${changes}`;
}

// Drawn, not spoken: what an answer changes is said by the view that shows it.
function Engine(): JSX.Element {
  const words = busy.value ? "working…" : refining.value ? "refining…" : "";
  return (
    <div class={`status-engine${words ? " status-working" : ""}`} aria-hidden="true">
      {words}
    </div>
  );
}

async function save(): Promise<void> {
  say(`${await exportFile()} is handed to the downloads.`);
}

/** Which case it is, whether the engine works, and when the case was last saved as a file. */
export function StatusLine(): JSX.Element {
  const now = job.value;
  return (
    <header class="status">
      <div class="status-words">
        <strong class="status-title">{now ? (caseDocument.value?.title ?? now.name) : "heatside"}</strong>
        <span class="status-export">
          {now ? `Kept on this device; ${exportWords()}` : "Heat ageing of engine-bay wires. Nothing leaves this device."}
        </span>
      </div>
      {now && (
        <Big class="status-save" onPress={save}>
          Save file
        </Big>
      )}
      <Engine />
    </header>
  );
}
