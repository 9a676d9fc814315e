import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type CaseDocument, type Json, nameOf } from "../../case/document";
import { type Reading, withoutReading, withReading } from "../../case/service_edits";
import { Amount, Big, Choice, Pick } from "../../parts";
import { edit } from "../loom/edit";
import { CaseProblems, type Noted } from "../loom/notes";

interface MeasuredProps {
  document: CaseDocument;
  disabled: boolean;
  noted: Noted;
}

const states = [
  { id: "city", name: "Driven in town" },
  { id: "cruise", name: "Driven steadily" },
  { id: "idle", name: "Idling" },
  { id: "hill", name: "Driven hard or uphill" },
  { id: "soak", name: "Stopped hot", hint: "minutes after key-off" },
  { id: "parked", name: "Parked, cold engine" },
  { id: "peak", name: "Highest of an indicator", hint: "label, paint, wax" },
];

const instruments = [
  { id: "infrared", name: "Infrared" },
  { id: "contact", name: "Touching probe" },
];

const wordsOf = (value: Json | undefined): string => (value === undefined || value === null ? "" : String(value));

function readingWords(document: CaseDocument, one: { [key: string]: Json }): string {
  const id = wordsOf(one["segment"]);
  const name = nameOf(document.segments.find((segment) => segment.id === id), id);
  const state = states.find((known) => known.id === one["state"])?.name.toLowerCase() ?? wordsOf(one["state"]);
  if (one["file"] !== undefined) return `${name}: logger file ${wordsOf(one["file"])}`;
  return `${name}: ${wordsOf(one["temperature_Cel"])} °C with ${wordsOf(one["ambient_Cel"])} °C outside, ${state}`;
}

function NewReading({ document, disabled, onDone }: { document: CaseDocument; disabled: boolean; onDone: () => void }): JSX.Element {
  const [reading, setReading] = useState<Reading>({ segment: document.segments[0]?.id ?? "", temperature_Cel: 80, ambient_Cel: 20, state: "city", minutes_since_key_off: 15, instrument: "infrared" });
  const put = (members: Partial<Reading>): void => setReading({ ...reading, ...members });
  async function add(): Promise<void> {
    const name = nameOf(document.segments.find((one) => one.id === reading.segment), reading.segment);
    if (await edit(`${reading.temperature_Cel} °C measured at ${name}`, (of) => withReading(of, { ...reading, on: of.inspected }))) onDone();
  }
  return (
    <div class="card" role="group" aria-label="New reading">
      <Pick label="Measured at" value={reading.segment} options={document.segments.map((one) => ({ id: one.id, name: nameOf(one) }))} onChange={(segment) => put({ segment })} />
      <Amount label="Temperature there" unit="°C" step={5} min={-60} max={300} value={reading.temperature_Cel} onChange={(value) => value !== null && put({ temperature_Cel: value })} />
      <Amount label="Air outside" unit="°C" step={1} min={-60} max={60} value={reading.ambient_Cel} onChange={(value) => value !== null && put({ ambient_Cel: value })} />
      <Choice label="What the engine was doing" options={states} value={reading.state} onChange={(state) => put({ state })} />
      {reading.state === "soak" && (
        <Amount label="Since the engine was stopped" unit="min" step={5} min={0} max={10_080} value={reading.minutes_since_key_off} onChange={(value) => value !== null && put({ minutes_since_key_off: value })} />
      )}
      {reading.state !== "peak" && <Choice label="Measured with" options={instruments} value={reading.instrument ?? "infrared"} onChange={(instrument) => put({ instrument })} />}
      <div class="row">
        <Big primary disabled={disabled || !reading.segment} onPress={add}>
          Add this reading
        </Big>
        <Big onPress={onDone}>Leave it</Big>
      </div>
    </div>
  );
}

/** Temperatures that somebody measured: they say more of this vehicle than any zone of the library. */
export function MeasuredCard({ document, disabled, noted }: MeasuredProps): JSX.Element {
  const [adding, setAdding] = useState(false);
  const list = document.measured ?? [];
  return (
    <section class="card" aria-labelledby="service-measured">
      <h2 id="service-measured">Measured temperatures</h2>
      <p>One reading under the bonnet (hood) tells more about this vehicle than the general values of the zones. Keep hands and instruments clear of moving and hot parts.</p>
      <CaseProblems noted={noted} />
      {list.length === 0 && <p>None so far.</p>}
      <ul class="service-readings">
        {list.map((one, i) => (
          <li key={i}>
            <span>{readingWords(document, one)}</span>
            <Big disabled={disabled} label={`Remove: ${readingWords(document, one)}`} onPress={() => edit(`Reading removed: ${readingWords(document, one)}`, (of) => withoutReading(of, i))}>
              Remove
            </Big>
          </li>
        ))}
      </ul>
      {adding ? <NewReading document={document} disabled={disabled} onDone={() => setAdding(false)} /> : (
        <Big disabled={disabled} onPress={() => setAdding(true)}>
          Add a reading
        </Big>
      )}
    </section>
  );
}
