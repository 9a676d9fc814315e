import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { withBuilt, withEntered, withInspected, withNote, withOdometer, withRegion, withSigned } from "../../case/vehicle_edits";
import { Choice, DateField, TextField } from "../../parts";
import { change, document as caseDocument, library, readonly } from "../../store/job";
import { Assumptions } from "./assumptions";
import { Odometer } from "./odometer";
import "./style.css";
import { SymptomFields } from "./symptoms";

interface FieldsProps {
  document: CaseDocument;
  disabled: boolean;
}

function CaseFields({ document, disabled }: FieldsProps): JSX.Element {
  return (
    <section class="card" aria-labelledby="start-case">
      <h2 id="start-case">Case</h2>
      {document.invented && <p>This case is marked as invented: it is nobody's vehicle.</p>}
      <TextField
        label="Title"
        required
        disabled={disabled}
        value={document.title}
        onChange={(title) => change("Title", (of) => ({ ...of, title }))}
      />
      <DateField
        label="Day of the inspection"
        value={document.inspected}
        precision="day"
        required
        disabled={disabled}
        hint="Remaining life counts from this day."
        onChange={(day) => change("Day of the inspection", (of) => withInspected(of, day))}
      />
      <TextField
        label="Signed by"
        disabled={disabled}
        value={document.signed_by ?? ""}
        hint="Whoever answers for the inspection; it stands in the report."
        onChange={(by) => change("Signed by", (of) => withSigned(of, by))}
      />
      <TextField label="Note" lines={3} disabled={disabled} value={document.note ?? ""} onChange={(note) => change("Note", (of) => withNote(of, note))} />
    </section>
  );
}

function VehicleFields({ document, disabled }: FieldsProps): JSX.Element {
  const { vehicle } = document;
  return (
    <section class="card" aria-labelledby="start-vehicle">
      <h2 id="start-vehicle">Vehicle</h2>
      <DateField label="Built" value={vehicle.built} required disabled={disabled} onChange={(built) => change("Build date", (of) => withBuilt(of, built))} />
      <DateField
        label="First driven"
        value={vehicle.entered_service ?? ""}
        disabled={disabled}
        hint="YYYY, YYYY-MM or YYYY-MM-DD; empty: with the first period of service."
        onChange={(day) => change("First driven", (of) => withEntered(of, day || undefined))}
      />
      <Choice
        label="Region where it was made"
        options={library.value?.regions ?? []}
        value={vehicle.region}
        disabled={disabled}
        onChange={(region) => change("Region", (of) => withRegion(of, region))}
      />
      <Odometer km={vehicle.odometer_km} disabled={disabled} onChange={(km) => change("Odometer", (of) => withOdometer(of, km))} />
    </section>
  );
}

/** The vehicle, the case around it, and everything that is assumed about them. */
export function VehicleView(): JSX.Element {
  const document = caseDocument.value;
  if (!document) return <p>Open or start a case first.</p>;
  const props = { document, disabled: readonly.value };
  return (
    <div class="start">
      <h1>Vehicle and case</h1>
      <div class="start-columns">
        <VehicleFields {...props} />
        <CaseFields {...props} />
      </div>
      <SymptomFields {...props} />
      <Assumptions />
    </div>
  );
}
