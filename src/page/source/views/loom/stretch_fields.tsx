import type { JSX } from "preact";
import { nameOf, type Stretch } from "../../case/document";
import { withMoreStretches, withoutStretch, withShare, withStretch } from "../../case/loom_edits";
import type { Library } from "../../engine/answers";
import { Amount, Big, Choice, Pick } from "../../parts";
import { edit } from "./edit";
import { HotBodyFields } from "./hot_body_fields";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";
import { coveringWords, millimetres, nameIn, zoneWords } from "./words";

function zoneOptions(library: Library | null): { id: string; name: string; hint?: string }[] {
  return (library?.zones ?? []).map((one) => ({ id: one.id, name: one.name, ...(one.radiant ? { hint: "Beside a hot part: its heat reaches the wires by radiation too." } : {}) }));
}

const coveringOptions = (library: Library | null): { id: string; name: string; hint?: string }[] => [
  { id: "", name: "not looked at", hint: "Counted as bare, and listed as an assumption." },
  { id: "none", name: "none, the wires are bare" },
  ...(library?.coverings ?? []).map((one) => ({ id: one.id, name: one.name, hint: `Rated to ${one.rating_Cel} °C.` })),
];

const dampOptions = [
  { id: "yes", name: "Water stays here" },
  { id: "no", name: "Dry" },
  { id: "", name: "Not looked" },
];

interface OneProps extends SegmentProps {
  stretch: Stretch;
  index: number;
  only: boolean;
}

function OneStretch({ segment, stretch, index, only, library, disabled }: OneProps): JSX.Element {
  const name = only ? nameOf(segment) : `${nameOf(segment)}, part ${index + 1}`;
  const put = (words: string, members: Partial<Stretch>): Promise<boolean> =>
    edit(`${words} of ${name}`, (of) => withStretch(of, segment.id, index, members));
  const share = stretch.share ?? 1;
  return (
    <div class={only ? undefined : "card"} role="group" aria-label={name}>
      {!only && <h4>{`Part ${index + 1}: about ${Math.round(millimetres(segment.length_m) * share)} mm`}</h4>}
      <Pick
        label="Zone: the air it lies in"
        disabled={disabled}
        value={stretch.zone}
        options={zoneOptions(library)}
        onChange={(zone) => put(`Zone ${nameIn(library?.zones, zone)}`, { zone })}
      />
      <Pick
        label="Covering"
        disabled={disabled}
        value={stretch.covering ?? ""}
        options={coveringOptions(library)}
        onChange={(id) => put(`Covering ${id ? nameIn(library?.coverings, id) : "not looked at"}`, { covering: id || undefined })}
      />
      {!only && (
        <Amount
          label="Share of the length"
          unit="%"
          value={Math.round(share * 10_000) / 100}
          step={5}
          min={1}
          max={99}
          disabled={disabled}
          hint="The other parts share the rest."
          onChange={(percent) => percent !== null && edit(`Share of ${name}: ${percent} %`, (of) => withShare(of, segment.id, index, percent / 100))}
        />
      )}
      <Choice
        label="Damp"
        disabled={disabled}
        options={dampOptions}
        value={stretch.damp === undefined ? "" : stretch.damp ? "yes" : "no"}
        onChange={(id) => put(`Damp: ${id || "not looked"},`, { damp: id === "" ? undefined : id === "yes" })}
      />
      <HotBodyFields segment={segment} stretch={stretch} index={index} library={library} disabled={disabled} />
      <div class="row">
        <Big disabled={disabled} onPress={() => edit(`One part more of ${nameOf(segment)}`, (of) => withMoreStretches(of, segment.id, index))}>
          Part of it lies in another zone
        </Big>
        {!only && (
          <Big disabled={disabled} onPress={() => edit(`Part ${index + 1} of ${nameOf(segment)} removed`, (of) => withoutStretch(of, segment.id, index))}>
            Remove part {index + 1}
          </Big>
        )}
      </div>
    </div>
  );
}

/** Where it lies and what is around it, from its start to its end. */
export function StretchFields(props: SegmentProps): JSX.Element {
  const { stretches } = props.segment;
  return (
    <Part title="Zone and covering" now={`${zoneWords(props.segment, props.library)}; ${coveringWords(props.segment, props.library)}`} open>
      {stretches.length > 1 && <p>Parts in the order from its start to its end.</p>}
      {stretches.map((one, i) => (
        <OneStretch key={one.id ?? i} {...props} stretch={one} index={i} only={stretches.length === 1} />
      ))}
    </Part>
  );
}
