import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { withCover, withLength, withSegment, withSegmentName } from "../../case/loom_edits";
import { nameOf } from "../../case/document";
import { Amount, Choice, Pick, TextField } from "../../parts";
import { edit } from "./edit";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";
import { coverWords, millimetres } from "./words";

const open = "";
const other = "\u0000";

function Cover({ document, segment, disabled }: SegmentProps): JSX.Element {
  const [asked, setAsked] = useState(false);
  const covers = [...new Set(document.segments.flatMap((one) => (one.cover_group ? [one.cover_group] : [])))].sort();
  const put = (cover: string): void => {
    setAsked(false);
    void edit(`${nameOf(segment)} is ${coverWords(cover.trim())}`, (of) => withCover(of, segment.id, cover));
  };
  return (
    <>
      <Pick
        label="What comes off to reach it"
        disabled={disabled}
        value={asked ? other : (segment.cover_group ?? open)}
        options={[
          { id: open, name: "nothing, it is in the open" },
          ...covers.map((one) => ({ id: one, name: one })),
          { id: other, name: "another cover…" },
        ]}
        hint="Segments under the same cover come free together."
        onChange={(id) => (id === other ? setAsked(true) : put(id))}
      />
      {asked && <TextField label="Name of the cover" value="" required disabled={disabled} onChange={put} hint="Such as “head-cover trim” or “air box”." />}
    </>
  );
}

const airbagOptions = [
  { id: "yes", name: "Yes", hint: "it is never opened" },
  { id: "no", name: "No", hint: "checked in the wiring diagram" },
  { id: "", name: "Not checked" },
];

/** Its name, its length and the way to it. */
export function PlaceFields(props: SegmentProps): JSX.Element {
  const { segment, disabled } = props;
  const name = nameOf(segment);
  return (
    <Part title="Name, length and the way to it" now={[`${millimetres(segment.length_m)} mm`, coverWords(segment.cover_group), segment.minutes_to_open === undefined ? "" : `${segment.minutes_to_open} min to bare it`, segment.airbag ? "AIRBAG circuit" : ""].filter(Boolean).join(", ")} open>
      <TextField
        label="Name"
        value={segment.name ?? ""}
        disabled={disabled}
        hint={`In plain words. Its short name “${segment.id}” stays.`}
        onChange={(next) => edit(`Renamed ${name} to ${next || segment.id}`, (of) => withSegmentName(of, segment.id, next))}
      />
      <Amount
        label="Length"
        unit="mm"
        value={millimetres(segment.length_m)}
        step={10}
        min={10}
        max={30_000}
        disabled={disabled}
        onChange={(mm) => mm !== null && edit(`Length of ${name} to ${mm} mm`, (of) => withLength(of, segment.id, mm))}
      />
      <Cover {...props} />
      <Amount
        label="Time to bare it"
        unit="min"
        value={segment.minutes_to_open}
        step={5}
        min={0}
        max={6000}
        disabled={disabled}
        hint="With everything that has to come off first. Empty: not known."
        onChange={(minutes) => edit(`Time to bare ${name}: ${minutes ?? "not known"} min`, (of) => withSegment(of, segment.id, { minutes_to_open: minutes ?? undefined }))}
      />
      <Choice
        label="Carries airbag or belt-tensioner circuits"
        disabled={disabled}
        options={airbagOptions}
        value={segment.airbag === undefined ? "" : segment.airbag ? "yes" : "no"}
        onChange={(id) =>
          edit(`Airbag circuits in ${name}: ${id || "not checked"}`, (of) => withSegment(of, segment.id, { airbag: id === "" ? undefined : id === "yes" }))
        }
      />
    </Part>
  );
}
