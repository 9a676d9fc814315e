import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { CaseDocument, Period } from "../../case/document";
import { daysOf, endOf, firstDay, inOrder, withEnd, withoutPeriod, withPeriod, withSplit, withStart } from "../../case/service_edits";
import type { Library } from "../../engine/answers";
import { Amount, Big, DateField, TextField } from "../../parts";
import { edit } from "../loom/edit";
import { Assumed, CaseProblems, type Noted } from "../loom/notes";
import { nameIn } from "../loom/words";
import { dutyWords } from "./duty";
import { DutyFields, parkingWords, PlaceFields } from "./use_fields";

interface CardProps {
  document: CaseDocument;
  period: Period;
  index: number;
  number: number;
  library: Library | null;
  disabled: boolean;
  noted: Noted;
  open: boolean;
}

const laidUp = "laid-up";

function middle(document: CaseDocument, period: Period): string {
  const day = Math.round((firstDay(period.from) + firstDay(endOf(document, period))) / 2);
  return new Date(day * 86_400_000).toISOString().slice(0, 7);
}

export function yearsWords(days: number): string {
  if (days < 60) return `${days} days`;
  return days < 730 ? `${Math.round(days / 30.44)} months` : `${Math.round(days / 36.525) / 10} years`;
}

function Split({ document, period, index, number, disabled }: CardProps): JSX.Element {
  const [day, setDay] = useState(() => middle(document, period));
  return (
    <details>
      <summary>Something changed in between</summary>
      <p>Another owner, place or use: two periods then, the distance shared by their days.</p>
      <DateField label="Changed on" value={day} disabled={disabled} required onChange={setDay} hint="Between its two ends: YYYY, YYYY-MM or YYYY-MM-DD" />
      <Big disabled={disabled} onPress={() => edit(`Period ${number} split at ${day}`, (of) => withSplit(of, index, day))}>
        Split at {day}
      </Big>
    </details>
  );
}

function Dates({ document, period, index, number, disabled }: CardProps): JSX.Element {
  const last = inOrder(document).slice(-1)[0]?.index === index;
  return (
    <div class="service-dates">
      <DateField label="From" required value={period.from} disabled={disabled} onChange={(from) => edit(`Period ${number} begins ${from}`, (of) => withStart(of, index, from))} />
      <DateField
        label="To"
        required={!last}
        value={period.to ?? ""}
        disabled={disabled}
        hint={last ? `Empty: until the inspection, ${document.inspected}.` : "The next period begins then."}
        onChange={(to) => edit(`Period ${number} ends ${to || "with the inspection"}`, (of) => withEnd(of, index, to || undefined))}
      />
    </div>
  );
}

function Distance({ document, period, index, number, disabled }: CardProps): JSX.Element | null {
  if (period.duty === laidUp) return null;
  const whole = document.vehicle.odometer_km;
  if (period.running_hours !== undefined)
    return (
      <>
        <Amount label="Engine running in this period" unit="h" step={100} min={0} max={300_000} disabled={disabled} value={period.running_hours} onChange={(hours) => edit(`Period ${number}: ${hours ?? "no"} running hours`, (of) => withPeriod(of, index, { running_hours: hours ?? undefined }))} />
        <Big disabled={disabled} onPress={() => edit(`Period ${number} by distance`, (of) => withPeriod(of, index, { running_hours: undefined }))}>
          State the distance instead
        </Big>
      </>
    );
  return (
    <Amount
      label="Driven in this period"
      unit="km"
      step={1000}
      min={0}
      max={3_000_000}
      disabled={disabled}
      value={period.km}
      hint={whole !== undefined ? `Empty: its share of the ${whole} km on the odometer that no period states.` : "Empty: as much as its use says."}
      onChange={(km) => edit(`Period ${number}: ${km ?? "no stated"} km`, (of) => withPeriod(of, index, { km: km ?? undefined }))}
    />
  );
}

/** One period of the life so far. */
export function PeriodCard(props: CardProps): JSX.Element {
  const { document, period, index, number, library, disabled, noted, open } = props;
  const put = (words: string, members: Parameters<typeof withPeriod>[2]): Promise<boolean> =>
    edit(`Period ${number}: ${words}`, (of) => withPeriod(of, index, members));
  const only = document.service.length < 2;
  // A problem opens it; nothing but a press closes it again.
  const [shown, setShown] = useState(open);
  const wrong = noted.problems.length > 0;
  useEffect(() => void (wrong && setShown(true)), [wrong]);
  return (
    <details class="card service-period" open={shown} onToggle={(event) => setShown(event.currentTarget.open)}>
      <summary>
        {number}. {period.from} to {endOf(document, period)}
        <small>
          {yearsWords(daysOf(document, period))}: {dutyWords(period.duty, library)}, {nameIn(library?.climates, period.climate)}, {parkingWords(period.parking)}
          {period.km !== undefined && `, ${period.km} km`}
        </small>
      </summary>
      <CaseProblems noted={noted} />
      <DutyFields
        label="How it was used"
        duty={period.duty}
        library={library}
        disabled={disabled}
        onChange={(duty) => duty !== undefined && put(dutyWords(duty, library), { duty, ...(duty === laidUp ? { km: undefined, running_hours: undefined } : {}) })}
      />
      <Dates {...props} />
      <PlaceFields
        climate={period.climate}
        parking={period.parking}
        library={library}
        disabled={disabled}
        onClimate={(climate) => climate !== undefined && put(nameIn(library?.climates, climate), { climate })}
        onParking={(parking) => put(parkingWords(parking), { parking })}
      />
      <Distance {...props} />
      <TextField label="Note" value={period.note ?? ""} disabled={disabled} onChange={(note) => put("note", { note: note.trim() || undefined })} />
      <Split {...props} />
      <div class="row">
        <Big disabled={disabled || only} onPress={() => edit(`Period ${number} removed`, (of) => withoutPeriod(of, index))}>
          Remove this period
        </Big>
      </div>
      <p>{only ? "The only period stays." : `The period ${number === 1 ? "after" : "before"} it takes its time and its distance.`}</p>
      <Assumed list={noted.assumptions} title="Assumed of this period" />
    </details>
  );
}
