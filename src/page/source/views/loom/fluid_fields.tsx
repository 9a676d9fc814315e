import type { JSX } from "preact";
import { type Leak, nameOf } from "../../case/document";
import { withLeaks, withSegment } from "../../case/loom_edits";
import { Amount, Big, Choice, DateField, TextField } from "../../parts";
import { edit } from "./edit";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";

/** Its tightest bend, what has leaked onto it, and a note. */
export function FluidFields({ document, segment, library, disabled }: SegmentProps): JSX.Element {
  const leaks = segment.leaks ?? [];
  const name = nameOf(segment);
  const put = (words: string, next: Leak[]): Promise<boolean> => edit(`${words}, ${name}`, (of) => withLeaks(of, segment.id, next));
  return (
    <Part title="Bends, fluids, note" now={[segment.route_radius_mm === undefined ? "bend not measured" : `tightest bend ${segment.route_radius_mm} mm`, leaks.length > 0 ? `leaked onto it: ${leaks.map((one) => one.fluid).join(", ")}` : "", segment.note ?? ""].filter(Boolean).join("; ")}>
      <Amount
        label="Inner radius of its tightest bend, as it lies"
        unit="mm"
        step={5}
        min={1}
        max={500}
        disabled={disabled}
        value={segment.route_radius_mm}
        hint="Measured without moving it: aged wire may crack when it is bent. Empty: not known."
        onChange={(mm) => edit(`Tightest bend of ${name}: ${mm ?? "not known"} mm`, (of) => withSegment(of, segment.id, { route_radius_mm: mm ?? undefined }))}
      />
      {leaks.map((leak, i) => (
        <fieldset key={i} class="card loom-fieldset">
          <legend>Leaked onto it</legend>
          <Choice label="Fluid" disabled={disabled} options={library?.fluids ?? []} value={leak.fluid} onChange={(id) => put(`Leak is ${id}`, leaks.map((one, at) => (at === i ? { ...one, fluid: id as Leak["fluid"] } : one)))} />
          <DateField label="Since" required disabled={disabled} value={leak.since} onChange={(since) => put(`Leak since ${since}`, leaks.map((one, at) => (at === i ? { ...one, since } : one)))} />
          <div class="row">
            <Big disabled={disabled} onPress={() => put("Leak removed", leaks.filter((_, at) => at !== i))}>
              Remove this leak
            </Big>
          </div>
        </fieldset>
      ))}
      <Big disabled={disabled} onPress={() => put("Leak added", [...leaks, { fluid: "oil", since: document.vehicle.built }])}>
        {leaks.length === 0 ? "Oil or coolant has leaked onto it" : "Another leak"}
      </Big>
      <TextField label="Note" lines={2} disabled={disabled} value={segment.note ?? ""} onChange={(note) => edit(`Note of ${name}`, (of) => withSegment(of, segment.id, { note: note.trim() || undefined }))} />
    </Part>
  );
}
