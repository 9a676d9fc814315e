import type { JSX } from "preact";
import type { CaseDocument, Future } from "../../case/document";
import { withFuture } from "../../case/service_edits";
import type { Library } from "../../engine/answers";
import { Amount } from "../../parts";
import { edit } from "../loom/edit";
import { Assumed, CaseProblems, type Noted } from "../loom/notes";
import { nameIn } from "../loom/words";
import { dutyWords } from "./duty";
import { DutyFields, parkingWords, PlaceFields } from "./use_fields";

interface FutureProps {
  document: CaseDocument;
  library: Library | null;
  disabled: boolean;
  noted: Noted;
}

const asBefore = "As in the last period";

/** The use to come: what remaining life counts with. */
export function FutureCard({ document, library, disabled, noted }: FutureProps): JSX.Element {
  const future = document.future ?? {};
  const put = (words: string, members: Partial<Future>): Promise<boolean> => edit(`From now on: ${words}`, (of) => withFuture(of, members));
  return (
    <section class="card" aria-labelledby="service-future">
      <h2 id="service-future">From now on</h2>
      <p>How it will be used after the inspection; remaining life counts with it.</p>
      <CaseProblems noted={noted} />
      <DutyFields label="How it will be used" duty={future.duty} library={library} disabled={disabled} none={asBefore} onChange={(duty) => put(duty === undefined ? "used as before" : dutyWords(duty, library), { duty, ...(duty === "laid-up" ? { km_per_year: undefined, running_hours_per_year: undefined } : {}) })} />
      <PlaceFields
        climate={future.climate}
        parking={future.parking}
        library={library}
        disabled={disabled}
        none={asBefore}
        onClimate={(climate) => put(climate ? nameIn(library?.climates, climate) : "climate as before", { climate })}
        onParking={(parking) => put(parking ? parkingWords(parking) : "parked as before", { parking })}
      />
      {future.duty !== "laid-up" &&
        (future.running_hours_per_year !== undefined ? (
          <Amount label="Engine running a year" unit="h" step={10} min={0} max={300_000} disabled={disabled} value={future.running_hours_per_year} onChange={(hours) => put(`${hours ?? "no stated"} running hours a year`, { running_hours_per_year: hours ?? undefined })} />
        ) : (
          <Amount label="Driven a year" unit="km" step={1000} min={0} max={3_000_000} disabled={disabled} value={future.km_per_year} hint="Empty: as much as its use says." onChange={(km) => put(`${km ?? "no stated"} km a year`, { km_per_year: km ?? undefined })} />
        ))}
      <Assumed list={noted.assumptions} title="Assumed of the use to come" />
    </section>
  );
}
