import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Finding } from "../../case/document";
import { Amount, Big, Choice, Problems, Sheet, say } from "../../parts";
import { library, readonly } from "../../store/job";
import { segmentName } from "../estimate/names";
import { record } from "./deeds";
import type { Draft } from "./finding_draft";
import { CausePick } from "./more_fields";

interface Reading {
  diameter: number | null;
  temperature: number | null;
  cracked: boolean | null;
  percent: number | null;
  error: number | null;
  megohms: number | null;
  asked: string[];
}

interface FieldsProps {
  reading: Reading;
  onChange: (members: Partial<Reading>) => void;
}

function BendFields({ reading, onChange }: FieldsProps): JSX.Element {
  return (
    <>
      <Amount label="Diameter of the rod" unit="mm" min={0.2} max={1000} value={reading.diameter} onChange={(diameter) => onChange({ diameter })} />
      <Amount
        label="How warm the tail was" unit="°C" min={-60} max={150} value={reading.temperature} hint="Empty: as warm as a workshop"
        onChange={(temperature) => onChange({ temperature })}
      />
      <Choice
        label="It" options={[{ id: "whole", name: "stayed whole" }, { id: "cracked", name: "cracked" }]}
        value={reading.cracked === null ? null : reading.cracked ? "cracked" : "whole"}
        onChange={(id: string) => onChange({ cracked: id === "cracked" })}
      />
    </>
  );
}

function ElongationFields({ reading, onChange }: FieldsProps): JSX.Element {
  return (
    <>
      <Amount label="Mean elongation at break" unit="%" min={0} max={2000} value={reading.percent} onChange={(percent) => onChange({ percent })} />
      <Amount
        label="Its standard error" unit="%" min={0.01} max={1000} value={reading.error} hint="Empty: that of the method"
        onChange={(error) => onChange({ error })}
      />
    </>
  );
}

const conditions = [
  { id: "unplugged", name: "Both ends of the wires are unplugged" },
  { id: "free", name: "No control unit is attached anywhere along them" },
];

function ResistanceFields({ reading, onChange }: FieldsProps): JSX.Element {
  return (
    <>
      <Amount label="Reading" unit="MΩ" min={0} max={1e7} value={reading.megohms} onChange={(megohms) => onChange({ megohms })} />
      <Choice label="No other reading counts" many options={conditions} value={reading.asked} onChange={(asked: string[]) => onChange({ asked })} />
    </>
  );
}

// What was measured, as the case has it; null while something is missing.
function measuredOf(gives: string, reading: Reading): Partial<Finding> | null {
  const { diameter, temperature, cracked, percent, error, megohms, asked } = reading;
  if (gives === "bend")
    return diameter === null || cracked === null
      ? null
      : { bend: { diameter_mm: diameter, ...(temperature === null ? {} : { temperature_Cel: temperature }), cracked } };
  if (gives === "elongation")
    return percent === null ? null : { elongation: { percent, ...(error === null ? {} : { standard_error: error }) } };
  return megohms === null || asked.length < conditions.length
    ? null
    : { resistance: { MOhm: megohms, both_ends_unplugged: true, control_units_attached: false } };
}

function partOf(draft: Draft): Finding {
  const finding: Finding = { segment: draft.segment, on: draft.on };
  if (draft.stretch) finding.stretch = draft.stretch;
  if (draft.lot) finding.lot = draft.lot;
  if (draft.by.trim()) finding.by = draft.by.trim();
  return finding;
}

const noReading: Reading = { diameter: null, temperature: null, cracked: null, percent: null, error: null, megohms: null, asked: [] };

interface TailTestProps {
  draft: Draft;
  onClose: () => void;
  onRecorded: () => void;
}

/** Something measured instead of seen. */
export function TailTest({ draft, onClose, onRecorded }: TailTestProps): JSX.Element {
  const methods = (library.value?.methods ?? []).filter((one) => one.gives !== "seen");
  const [method, setMethod] = useState(methods[0]?.id ?? "");
  const [reading, setReading] = useState(noReading);
  const [cause, setCause] = useState(draft.cause);
  const [wrong, setWrong] = useState<unknown>(null);
  const [keeping, setKeeping] = useState(false);
  const chosen = methods.find((one) => one.id === method);
  const gives = chosen?.gives ?? "";
  const measured = measuredOf(gives, reading);
  const put = (members: Partial<Reading>): void => setReading({ ...reading, ...members });
  const Fields = gives === "bend" ? BendFields : gives === "elongation" ? ElongationFields : ResistanceFields;
  const causeCounts = gives === "elongation" || (gives === "bend" && reading.cracked === true);

  async function keep(): Promise<void> {
    if (!measured) return;
    setWrong(null);
    setKeeping(true);
    try {
      const words = `${segmentName(draft.segment)}: ${chosen?.name ?? method}`;
      await record({ ...partOf(draft), ...measured, method, ...(causeCounts ? { cause } : {}) }, words);
      say(`Recorded: ${words}.`);
      onClose();
      onRecorded();
    } catch (error) {
      setWrong(error);
    } finally {
      setKeeping(false);
    }
  }

  return (
    <Sheet title={`Test at ${segmentName(draft.segment)}`} onClose={onClose}>
      <Choice label="Which test" options={methods.map(({ id, name }) => ({ id, name }))} value={method} onChange={(id: string) => setMethod(id)} />
      <p>{chosen?.how}</p>
      {chosen?.note && <p class="open-small">{chosen.note}</p>}
      <ul>
        {chosen?.before.map((words) => (
          <li key={words}>
            <strong>{words}</strong>
          </li>
        ))}
      </ul>
      <Fields reading={reading} onChange={put} />
      {causeCounts && <CausePick draft={{ ...draft, cause }} onChange={(members) => members.cause && setCause(members.cause)} />}
      <Problems problems={wrong} />
      <Big primary class="open-wide" disabled={readonly.value || keeping || !measured} onPress={keep}>
        {keeping ? "It is kept…" : measured ? "Record it" : "Record it: something is missing"}
      </Big>
    </Sheet>
  );
}
