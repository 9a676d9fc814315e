import type { JSX } from "preact";
import type { Duty, OwnTrips, Parking } from "../../case/document";
import type { Library } from "../../engine/answers";
import { Amount, Choice, Pick } from "../../parts";
import { dutyOptions, ownTrips, someTrips, withMix } from "./duty";

interface DutyProps {
  label: string;
  duty: Duty | undefined;
  library: Library | null;
  disabled: boolean;
  /** First of the choices: what holds where nothing is stated. */
  none?: string;
  onChange: (duty: Duty | undefined) => unknown;
}

function Trips({ trips, library, disabled, onChange }: { trips: OwnTrips; library: Library | null; disabled: boolean; onChange: (trips: OwnTrips) => unknown }): JSX.Element {
  return (
    <div class="card" role="group" aria-label="Trips of its own">
      <Amount label="Trips a week" min={1} max={400} disabled={disabled} value={trips.trips_per_week} onChange={(count) => count !== null && Number.isInteger(count) && onChange({ ...trips, trips_per_week: count })} />
      <Amount label="Length of a trip" unit="min" step={5} min={1} max={1440} disabled={disabled} value={trips.trip_minutes} hint="All trips lie between 7 and 19 o'clock." onChange={(minutes) => minutes !== null && onChange({ ...trips, trip_minutes: minutes })} />
      {(library?.running_states ?? []).map((state) => (
        <Amount
          key={state.id}
          label={`Share of the running time: ${state.name}`}
          unit="%"
          step={5}
          min={0}
          max={100}
          disabled={disabled}
          value={Math.round(trips.running_mix[state.id as keyof OwnTrips["running_mix"]] * 1000) / 10}
          onChange={(percent) => percent !== null && onChange({ ...trips, running_mix: withMix(trips.running_mix, state.id as keyof OwnTrips["running_mix"], percent / 100) })}
        />
      ))}
    </div>
  );
}

export function DutyFields({ label, duty, library, disabled, none, onChange }: DutyProps): JSX.Element {
  const own = duty !== undefined && typeof duty !== "string";
  const options = [
    ...(none ? [{ id: "", name: none }] : []),
    ...dutyOptions(library),
    { id: ownTrips, name: "Something else", hint: "trips a week, and how long" },
  ];
  return (
    <div class="service-duty">
      <Choice label={label} disabled={disabled} options={options} value={own ? ownTrips : ((duty as string | undefined) ?? "")} onChange={(id) => onChange(id === ownTrips ? someTrips : id || undefined)} />
      {own && <Trips trips={duty} library={library} disabled={disabled} onChange={onChange} />}
    </div>
  );
}

interface PlaceProps {
  climate: string | undefined;
  parking: Parking | undefined;
  library: Library | null;
  disabled: boolean;
  none?: string;
  onClimate: (id: string | undefined) => unknown;
  onParking: (id: Parking | undefined) => unknown;
}

const parkingNames: Record<string, string> = { open: "In the open", shade: "In the shade", garage: "In a garage" };
export const parkingWords = (id: string | undefined): string => (id ? (parkingNames[id] ?? id).toLowerCase() : "parking not stated");

export function PlaceFields({ climate, parking, library, disabled, none, onClimate, onParking }: PlaceProps): JSX.Element {
  const climates = [...(library?.climates ?? [])].sort((a, b) => Number(b.generic) - Number(a.generic) || a.name.localeCompare(b.name, "en"));
  return (
    <>
      <Pick
        label="Climate where it stood and drove"
        disabled={disabled}
        value={climate ?? ""}
        options={[...(none ? [{ id: "", name: none }] : []), ...climates.map((one) => ({ id: one.id, name: one.name, hint: one.note }))]}
        onChange={(id) => onClimate(id || undefined)}
      />
      <Choice
        label="Parked"
        disabled={disabled}
        options={[...["open", "shade", "garage"].map((id) => ({ id, name: parkingNames[id] as string })), { id: "", name: none ?? "Not known", ...(none ? {} : { hint: "counted as shade" }) }]}
        value={parking ?? ""}
        onChange={(id) => onParking((id || undefined) as Parking | undefined)}
      />
    </>
  );
}
