import type { JSX } from "preact";
import { type CaseDocument, type Symptoms, withMember, withMembers } from "../../case/document";
import { Choice, TextField } from "../../parts";
import { change } from "../../store/job";

const options = [
  { id: "misfire", name: "Misfires" },
  { id: "none", name: "No symptom at all", hint: "which shows nothing of the insulation" },
];

const listed = (text: string): string[] | undefined => {
  const lines = text.split("\n").map((line) => line.trim()).filter(Boolean);
  return lines.length > 0 ? lines : undefined;
};

function withSymptoms(document: CaseDocument, members: Partial<Symptoms>): CaseDocument {
  const next = withMembers(document.symptoms ?? {}, members);
  return withMember(document, "symptoms", Object.keys(next).length > 0 ? next : undefined);
}

/** What the engine does; it is kept for the report and moves no number. */
export function SymptomFields({ document, disabled }: { document: CaseDocument; disabled: boolean }): JSX.Element {
  const now = document.symptoms ?? {};
  const chosen = options.map((one) => one.id).filter((id) => now[id as "misfire" | "none"] === true);
  const put = (what: string, members: Partial<Symptoms>): void => void change(what, (of) => withSymptoms(of, members));
  // "None" and a symptom exclude each other: the one that was chosen last holds.
  const choose = (ids: string[]): void => {
    const none = ids.includes("none") && !chosen.includes("none");
    const some = ids.includes("misfire");
    if (none) put("No symptoms", { none: true, misfire: undefined, stored_faults: undefined, blown_fuses: undefined });
    else put("Symptoms", { misfire: some || undefined, none: (ids.includes("none") && !some) || undefined });
  };
  return (
    <details class="card">
      <summary>Symptoms{chosen.length > 0 || now.stored_faults || now.blown_fuses ? "" : ": none entered"}</summary>
      <p class="field-hint">Kept for the report; an engine can run faultlessly on insulation that is ready to fall off.</p>
      <Choice label="What it does" many options={options} value={chosen} disabled={disabled} onChange={choose} />
      <TextField
        label="Stored faults, one a line"
        lines={2}
        disabled={disabled}
        value={(now.stored_faults ?? []).join("\n")}
        onChange={(text) => put("Stored faults", { stored_faults: listed(text), none: undefined })}
      />
      <TextField
        label="Blown fuses, one a line"
        lines={2}
        disabled={disabled}
        value={(now.blown_fuses ?? []).join("\n")}
        onChange={(text) => put("Blown fuses", { blown_fuses: listed(text), none: undefined })}
      />
      <TextField label="Note" lines={2} disabled={disabled} value={now.note ?? ""} onChange={(note) => put("Note on symptoms", { note: note.trim() || undefined })} />
    </details>
  );
}
