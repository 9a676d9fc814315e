import type { JSX } from "preact";
import { Amount } from "../../parts/amount";
import { Choice } from "../../parts/choice";
import type { Parking } from "../../case/document";
import { DateField } from "../../parts/date_field";
import { Pick } from "../../parts/pick";
import { type Donor, withoutEmpty } from "./offers";

interface DonorFieldsProps {
  donor: Donor | undefined;
  climates: { id: string; name: string }[];
  duties: { id: string; name: string }[];
  onChange: (donor: Donor | undefined) => void;
}

const notKnown = { id: "", name: "not known" };
const ownTrips = { id: "own", name: "trips of its own, as stated" };

const parkings = [
  { id: "", name: "not known" },
  { id: "open", name: "in the open" },
  { id: "shade", name: "in the shade" },
  { id: "garage", name: "in a garage" },
];

/** The life of a used part in the vehicle that it came from; what nobody knows stays out and widens the answer. */
export function DonorFields({ donor = {}, climates, duties, onChange }: DonorFieldsProps): JSX.Element {
  const put = (change: Partial<Donor>): void => {
    const next = withoutEmpty({ ...donor, ...change });
    onChange(Object.keys(next).length > 0 ? next : undefined);
  };
  const trips = donor.duty !== undefined && typeof donor.duty !== "string";
  const dutyOptions = [notKnown, ...(trips ? [ownTrips] : []), ...duties];
  return (
    <fieldset class="remedies-donor">
      <legend>Its life in the donor</legend>
      <p class="remedies-note">Leave out what nobody knows: it then counts as unknown and widens the answer.</p>
      <DateField label="In use there from" value={donor.from ?? ""} onChange={(from: string) => put({ from })} />
      <DateField label="In use there until" value={donor.to ?? ""} onChange={(to: string) => put({ to })} />
      <Pick
        label="Climate there"
        options={[notKnown, ...climates]}
        value={donor.climate ?? ""}
        onChange={(climate: string) => put({ climate })}
      />
      <Pick
        label="How it was driven"
        options={dutyOptions}
        value={trips ? "own" : ((donor.duty as string | undefined) ?? "")}
        onChange={(duty: string) => duty !== "own" && put({ duty })}
      />
      <Choice
        label="Where it was parked"
        options={parkings}
        value={donor.parking ?? ""}
        onChange={(parking: string) => put({ parking: parking === "" ? undefined : (parking as Parking) })}
      />
      {donor.usage === undefined && (
        <Amount
          label="Driven there in all"
          unit="km"
          value={donor.km}
          hint={donor.km === undefined ? "Empty: not known; as much as its duty says" : undefined}
          step={10000}
          min={0}
          max={3e6}
          onChange={(km) => put({ km: km ?? undefined })}
        />
      )}
    </fieldset>
  );
}
