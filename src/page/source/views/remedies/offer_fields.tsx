import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { Amount } from "../../parts/amount";
import { Choice } from "../../parts/choice";
import { DateField } from "../../parts/date_field";
import { Pick } from "../../parts/pick";
import { TextField } from "../../parts/text_field";
import { library } from "../../store/job";
import type { Offer, Question } from "./answers";
import { asOptions } from "./names";
import { type StatedOffer, currencyOf, putsWireIn, worksOnWires } from "./offers";
import { counted, money } from "./words";

interface FieldsProps {
  draft: StatedOffer;
  put: (changes: Partial<StatedOffer>) => void;
}

const textOrNothing = (text: string): string | undefined => (text.trim() === "" ? undefined : text);

export function WordFields({ draft, put }: FieldsProps): JSX.Element {
  return (
    <>
      <TextField label="Name" value={draft.name ?? ""} onChange={(name: string) => put({ name: textOrNothing(name) })} />
      <TextField
        label="Note (not computed with)"
        value={draft.note ?? ""}
        lines={2}
        onChange={(note: string) => put({ note: textOrNothing(note) })}
      />
    </>
  );
}

/** What it covers: single segments where somebody works on the wires, otherwise a loom. */
export function PlaceFields(props: FieldsProps & { question: Question; document: CaseDocument }): JSX.Element | null {
  const { draft, put, question, document } = props;
  const here = document.segments.filter((one) => question.looms.includes(one.loom ?? ""));
  if (!worksOnWires(draft.kind)) {
    if (question.looms.length < 2) return null;
    const looms = asOptions(document.looms.filter((loom) => question.looms.includes(loom.id)));
    const all = { id: "", name: draft.segments ? "the segments as stated" : "every loom of the case" };
    return (
      <Pick
        label="It replaces"
        options={[all, ...looms]}
        value={draft.loom ?? ""}
        onChange={(loom: string) => put(loom === "" ? { loom: undefined } : { loom, segments: undefined })}
      />
    );
  }
  const workable = here.filter((one) => !one.airbag); // nobody works on airbag wiring but a licensed practice
  const chosen = draft.segments ?? here.filter((one) => one.loom === draft.loom).map((one) => one.id);
  return (
    <>
      <Choice
        label="Segments that it covers"
        many
        options={asOptions(workable)}
        value={chosen}
        onChange={(segments: string[]) => put({ segments, loom: undefined })}
      />
      {workable.length < here.length && (
        <p class="remedies-note">
          Segments with airbag or belt-tensioner circuits are not offered: that is work for a licensed practice by the maker's
          procedure.
        </p>
      )}
    </>
  );
}

const asItIs = "as stated";

function compoundOptions(draft: StatedOffer): { id: string; name: string }[] {
  const open = draft.kind === "used-part" || draft.kind === "new-part";
  const unknown = open ? { id: "", name: "not known: what was fitted at its date" } : { id: "unknown", name: "not known" };
  const stated = typeof draft.insulation === "object" ? [{ id: asItIs, name: "candidates with chances, as stated" }] : [];
  return [unknown, ...stated, ...(library.value?.insulations ?? []).map((one) => ({ id: one.id, name: one.name }))];
}

/** What goes in: compound, date of make, date code, covering. */
export function MaterialFields({ draft, put, offer }: FieldsProps & { offer: Offer | null }): JSX.Element {
  const coverings = (library.value?.coverings ?? []).map((one) => ({ id: one.id, name: one.name }));
  const sleeve = draft.kind === "sleeve-and-tape";
  const compound = typeof draft.insulation === "object" ? asItIs : (draft.insulation ?? "");
  const likeliest = offer && offer.compounds.length > 1 ? offer.compounds[0] : undefined;
  return (
    <>
      {putsWireIn(draft.kind) && (
        <>
          <Pick
            label="Compound of the new insulation"
            options={compoundOptions(draft)}
            value={compound}
            onChange={(id: string) => id !== asItIs && put({ insulation: textOrNothing(id) })}
          />
          {likeliest && !draft.insulation && (
            <p class="remedies-note">
              Likeliest now: {likeliest.insulation}, {Math.round(100 * likeliest.chance)} in 100. Read the print on the
              jacket or a class letter before it is paid for.
            </p>
          )}
          <DateField
            label="Made (its own date; leave empty if nobody knows)"
            value={draft.made ?? ""}
            onChange={(made: string) => put({ made: textOrNothing(made) })}
          />
          <TextField
            label="Date code as read on its tag"
            value={draft.date_code ?? ""}
            onChange={(code: string) => put({ date_code: textOrNothing(code) })}
          />
        </>
      )}
      <Pick
        label={sleeve ? "Sleeve or covering that is put on" : "Covering"}
        options={sleeve ? coverings : [{ id: "", name: "as it is now" }, ...coverings]}
        value={draft.covering ?? ""}
        onChange={(covering: string) => put({ covering: textOrNothing(covering) })}
      />
    </>
  );
}

interface PriceProps extends FieldsProps {
  offer: Offer | null;
  unit: string;
  document: CaseDocument;
}

/** Price, work and waiting for parts; what stays empty is taken as typical for its kind. */
export function PriceFields({ draft, put, offer, unit, document }: PriceProps): JSX.Element {
  const currency = currencyOf(document);
  const assumed = (what: string): string =>
    offer ? `Empty: not stated; ${what} is counted with` : "Empty: not stated; what is typical for its kind is counted with";
  return (
    <>
      {currency === "" ? (
        <p class="remedies-note">A price can be entered once a currency is chosen.</p>
      ) : (
        <Amount
          label="Price of the parts"
          unit={currency}
          value={draft.parts_cost}
          hint={draft.parts_cost === undefined ? assumed(offer ? money(offer.cost.parts, unit) : "") : undefined}
          step={10}
          min={0}
          max={1e9}
          onChange={(cost) => put({ parts_cost: cost ?? undefined })}
        />
      )}
      <Amount
        label="Work"
        unit="min"
        value={draft.minutes}
        hint={draft.minutes === undefined ? assumed(offer ? `${Math.round(offer.minutes)} min` : "") : undefined}
        step={10}
        min={0}
        max={100000}
        onChange={(minutes) => put({ minutes: minutes ?? undefined })}
      />
      <Amount
        label="Until the parts are at hand"
        unit="days"
        value={draft.lead_days}
        hint={draft.lead_days === undefined ? assumed(offer ? leadDays(offer) : "") : undefined}
        step={1}
        min={0}
        max={1000}
        onChange={(days) => put({ lead_days: days ?? undefined })}
      />
    </>
  );
}

const leadDays = (offer: Offer): string => counted(Math.round(offer.lead_days), "day", "days");
