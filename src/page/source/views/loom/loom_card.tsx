import type { JSX } from "preact";
import { type CaseDocument, type Loom, nameOf } from "../../case/document";
import { withLoom } from "../../case/loom_lots";
import type { Library } from "../../engine/answers";
import { Choice, DateField, TextField } from "../../parts";
import { DonorFields } from "../remedies/donor_fields";
import { edit } from "./edit";
import { LotFields } from "./lot_fields";
import { Assumed, CaseProblems, type Noted, notedAt } from "./notes";
import { countWords } from "./words";

interface CardProps {
  document: CaseDocument;
  loom: Loom;
  library: Library | null;
  disabled: boolean;
  noted: Noted;
}

const histories = [
  { id: "first", name: "The first one", hint: "as the vehicle was built" },
  { id: "new", name: "Replaced by a new one" },
  { id: "used", name: "Replaced by a used one" },
];

const copperOptions = [
  { id: "bare", name: "Bare, reddish" },
  { id: "tinned", name: "Tinned, silvery" },
  { id: "", name: "Not looked", hint: "counted as bare" },
];

const historyOf = (loom: Loom): string => (loom.donor ? "used" : loom.fitted !== undefined ? "new" : "first");

function Dates({ document, loom, library, disabled }: CardProps): JSX.Element {
  const name = nameOf(loom);
  const put = (words: string, members: Partial<Loom>): Promise<boolean> => edit(`${name}: ${words}`, (of) => withLoom(of, loom.id, members));
  function history(id: string): void {
    const fitted = loom.fitted ?? document.inspected.slice(0, 4);
    if (id === "first") void put("the first one", { fitted: undefined, donor: undefined });
    else if (id === "new") void put("replaced by a new one", { fitted, donor: undefined });
    else void put("replaced by a used one", { fitted, donor: loom.donor ?? {} });
  }
  return (
    <>
      <DateField label="Made" value={loom.made ?? ""} disabled={disabled} hint="From its date code: YYYY, YYYY-MM or YYYY-MM-DD. Empty: not known." onChange={(made) => put(`made ${made || "not known"}`, { made: made || undefined })} />
      <TextField label="Date code as read" value={loom.date_code ?? ""} disabled={disabled} onChange={(code) => put("date code", { date_code: code.trim() || undefined })} />
      <Choice label="This loom is" disabled={disabled} options={histories} value={historyOf(loom)} onChange={history} />
      {loom.fitted !== undefined && (
        <DateField label="Fitted" value={loom.fitted} required disabled={disabled} hint="When it went into this vehicle." onChange={(fitted) => put(`fitted ${fitted}`, { fitted })} />
      )}
      {loom.donor && (
        <fieldset class="loom-fieldset" disabled={disabled}>
          <DonorFields donor={loom.donor} climates={library?.climates ?? []} duties={library?.duties ?? []} onChange={(donor) => void put("life in the donor", { donor: donor ?? {} })} />
        </fieldset>
      )}
    </>
  );
}

/** What was fitted as one piece, and the lots of wire in it. */
export function LoomCard(props: CardProps): JSX.Element {
  const { document, loom, library, disabled, noted } = props;
  const at = document.looms.findIndex((one) => one.id === loom.id);
  const lots = document.lots.filter((one) => one.loom === loom.id);
  const here = notedAt(noted, `/looms/${at}`, ...lots.map((one) => `/lots/${document.lots.indexOf(one)}`));
  const put = (words: string, members: Partial<Loom>): Promise<boolean> => edit(`${nameOf(loom)}: ${words}`, (of) => withLoom(of, loom.id, members));
  const count = document.segments.filter((one) => one.loom === loom.id).length;
  return (
    <section class="loom-card" aria-labelledby={`loom-card-${at}`}>
      <h3 id={`loom-card-${at}`}>{nameOf(loom)}</h3>
      <p>{countWords(count, "segment")}. First what its wires are made of: that matters most.</p>
      <CaseProblems noted={here} />
      {lots.map((lot) => (
        <LotFields key={lot.id} document={document} loom={loom} lot={lot} library={library} disabled={disabled} />
      ))}
      <details class="card loom-make">
        <summary>
          Age and make of this loom
          <small>
            {loom.made ? `made ${loom.made}` : "date of make not known"}
            {loom.fitted ? `, fitted ${loom.fitted}` : ""}
          </small>
        </summary>
        <TextField label="Name" value={loom.name ?? ""} disabled={disabled} onChange={(name) => put(`renamed to ${name || loom.id}`, { name: name.trim() || undefined })} />
        <Dates {...props} />
        <Choice
          label="Region where it was made"
          disabled={disabled}
          options={[{ id: "", name: "As the vehicle" }, ...(library?.regions ?? [])]}
          value={loom.region ?? ""}
          onChange={(id) => put(`made in ${id || "the region of the vehicle"}`, { region: id || undefined })}
        />
        <Choice label="Copper at a cut end" disabled={disabled} options={copperOptions} value={loom.copper ?? ""} onChange={(id) => put(`copper ${id || "not looked at"}`, { copper: (id || undefined) as Loom["copper"] })} />
      </details>
      <Assumed list={here.assumptions} title="Assumed of this loom" />
    </section>
  );
}
