import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type DistanceUnit, fromKilometres, toKilometres } from "../../case/distance";
import { Amount } from "../../parts/amount";
import { Choice } from "../../parts/choice";

const units = [
  { id: "km", name: "km" },
  { id: "mi", name: "miles" },
];

interface OdometerProps {
  km: number | undefined;
  onChange: (km: number | undefined) => unknown;
  disabled?: boolean;
}

/** As it is read off the instrument; the case keeps kilometres. */
export function Odometer({ km, onChange, disabled }: OdometerProps): JSX.Element {
  const [unit, setUnit] = useState<DistanceUnit>("km");
  return (
    <div class="start-odometer">
      <Choice label="Odometer counts" options={units} value={unit} disabled={disabled} onChange={(id) => setUnit(id as DistanceUnit)} />
      <Amount
        label="Odometer"
        unit={unit === "km" ? "km" : "miles"}
        value={km === undefined ? null : fromKilometres(km, unit)}
        step={1000}
        min={0}
        max={fromKilometres(3_000_000, unit)}
        disabled={disabled}
        hint="Leave it empty where it cannot be read: then the hours of the kind of use are assumed."
        onChange={(now) => onChange(now === null ? undefined : toKilometres(now, unit))}
      />
    </div>
  );
}
