import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type CaseDocument, nameOf } from "../../case/document";
import { withLoomOf } from "../../case/loom_lots";
import { whyNotRemoved, whyNotSplit, withSegmentId, whyIdStays } from "../../case/loom_references";
import { addAfter, branchOff, type Leaving, type Made, shortest, splitAt, withoutSegment } from "../../case/loom_structure";
import { Amount, Big, Choice, Pick, TextField } from "../../parts";
import { edit } from "./edit";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";
import { millimetres } from "./words";

const newLoom = "\u0000";

function Remove({ document, segment, disabled, go }: SegmentProps): JSX.Element {
  const why = whyNotRemoved(document, segment.id);
  const name = nameOf(segment);
  async function remove(): Promise<void> {
    if (await edit(`Removed ${name}`, (of) => withoutSegment(of, segment.id))) go(null);
  }
  return (
    <>
      <Big disabled={disabled || why !== null} onPress={remove}>
        Remove this segment
      </Big>
      <p>{why ? `It stays: ${why}` : "What hangs at its far end will hang at its start. It can be undone."}</p>
    </>
  );
}

/** Which loom it belongs to, and the short name by which files speak of it. */
function Belonging({ document, segment, disabled, go }: SegmentProps): JSX.Element {
  const stays = whyIdStays(document, segment.id);
  const name = nameOf(segment);
  async function rename(next: string): Promise<void> {
    if (await edit(`Short name of ${name}: ${next.trim()}`, (of) => withSegmentId(of, segment.id, next.trim()))) go(next.trim());
  }
  return (
    <details>
      <summary>Loom and short name</summary>
      <Pick
        label="Loom it belongs to"
        disabled={disabled}
        value={segment.loom}
        options={[...document.looms.map((one) => ({ id: one.id, name: nameOf(one) })), { id: newLoom, name: "another loom, fitted by itself…" }]}
        hint="A loom is what was fitted as one piece."
        onChange={(id) =>
          edit(`${name} belongs to ${id === newLoom ? "a loom of its own" : nameOf(document.looms.find((one) => one.id === id), id)}`, (of) => withLoomOf(of, segment.id, id === newLoom ? null : id))
        }
      />
      <TextField label="Short name in the case file" value={segment.id} required disabled={disabled || stays !== null} hint={stays ?? "Every mention in the case changes with it."} onChange={rename} />
    </details>
  );
}

/** How the loom runs here: cut, lengthen, branch off, take out. */
export function RouteFields(props: SegmentProps): JSX.Element {
  const { document, segment, disabled, go } = props;
  const whole = millimetres(segment.length_m);
  const [cut, setCut] = useState(Math.round(whole / 2));
  const [leaving, setLeaving] = useState<"start" | "end" | "between">("end");
  const name = nameOf(segment);
  const noCut = whyNotSplit(document, segment.id) ?? (whole < 2 * shortest ? "It is too short to be cut." : null);
  const at = Math.min(whole - shortest, Math.max(shortest, cut));
  const made = async (words: string, make: (of: CaseDocument) => Made): Promise<void> => {
    let id = "";
    if (await edit(words, (of) => {
      const next = make(of);
      id = next.id;
      return next.document;
    })) go(id);
  };
  const where: Leaving = leaving === "between" ? at : leaving;
  return (
    <Part title="How the loom runs here" now={"Split it, add a segment after it, branch off, remove it"}>
      {noCut ? (
        <p>It cannot be cut in two: {noCut}</p>
      ) : (
        <Amount label="A place on it, from its start" unit="mm" step={10} min={shortest} max={whole - shortest} disabled={disabled} value={at} onChange={(mm) => mm !== null && setCut(mm)} />
      )}
      <div class="row">
        <Big disabled={disabled || noCut !== null} onPress={() => made(`Split ${name} at ${at} mm`, (of) => splitAt(of, segment.id, at))}>
          Split here, at {at} mm
        </Big>
        <Big disabled={disabled} onPress={() => made(`Added a segment after ${name}`, (of) => addAfter(of, segment.id))}>
          Add a segment after it
        </Big>
      </div>
      <Choice
        label="A branch leaves"
        disabled={disabled}
        options={[
          { id: "start", name: "at its start" },
          { id: "end", name: "at its far end" },
          { id: "between", name: `at ${at} mm`, disabled: noCut !== null },
        ]}
        value={leaving}
        onChange={(id) => setLeaving(id as typeof leaving)}
      />
      <div class="row">
        <Big disabled={disabled} onPress={() => made(`Branch from ${name}`, (of) => branchOff(of, segment.id, where))}>
          Branch off here
        </Big>
      </div>
      <Remove {...props} />
      <Belonging {...props} />
    </Part>
  );
}
