import type { JSX } from "preact";
import { nameOf, type WireGroup } from "../../case/document";
import { withGroup, withMoreGroups, withoutGroup } from "../../case/loom_edits";
import { withOwnLot } from "../../case/loom_lots";
import { Amount, Big, Choice, Pick, TextField } from "../../parts";
import { edit } from "./edit";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";
import { compoundWords, countWords, wallWords } from "./words";

interface OneProps extends SegmentProps {
  group: WireGroup;
  index: number;
  only: boolean;
}

const places = [
  { id: "", name: "Not said", hint: "counted as the outer layer" },
  { id: "outer", name: "Outer layer" },
  { id: "inner", name: "Inside, other wires around" },
];

function Current({ group, index, segment, disabled }: OneProps): JSX.Element {
  const put = (words: string, members: Partial<WireGroup>): Promise<boolean> =>
    edit(`${words}, ${nameOf(segment)}`, (of) => withGroup(of, segment.id, index, members));
  return (
    <>
      <Amount
        label="Current in each loaded wire"
        unit="A"
        step={1}
        min={0}
        max={600}
        disabled={disabled}
        value={group.current_A}
        hint="Empty: signals, no heat of their own."
        onChange={(amperes) => put(amperes === null ? "No current stated" : `${amperes} A in each loaded wire`, { current_A: amperes ?? undefined })}
      />
      {group.current_A !== undefined && (
        <>
          <Amount label="Wires that carry it at once" min={1} max={group.count} disabled={disabled} value={group.loaded} hint="Empty: all of them." onChange={(count) => put(`${count ?? "all"} wires loaded at once`, { loaded: count ?? undefined })} />
          <Amount
            label="Share of the running time that it flows"
            unit="%"
            step={5}
            min={0}
            max={100}
            disabled={disabled}
            value={group.current_share === undefined ? undefined : Math.round(group.current_share * 1000) / 10}
            hint="Empty: all the time."
            onChange={(percent) => put(`Current flows ${percent ?? 100} % of the time`, { current_share: percent === null ? undefined : percent / 100 })}
          />
        </>
      )}
    </>
  );
}

function OneGroup(props: OneProps): JSX.Element {
  const { document, segment, group, index, only, library, disabled } = props;
  const lot = document.lots.find((one) => one.id === group.lot);
  const put = (words: string, members: Partial<WireGroup>): Promise<boolean> =>
    edit(`${words}, ${nameOf(segment)}`, (of) => withGroup(of, segment.id, index, members));
  const title = group.function || nameOf(lot, group.lot);
  return (
    <details class="card loom-group">
      <summary>
        {countWords(group.count, "wire")}: {title}
        <small>
          {group.size ?? lot?.size}
          {lot && `, ${compoundWords(lot.insulation, library)}`}
          {group.current_A !== undefined && `, ${group.current_A} A`}
        </small>
      </summary>
      <Amount label="Number of wires" min={1} max={500} disabled={disabled} value={group.count} onChange={(count) => count !== null && Number.isInteger(count) && put(`${countWords(count, "wire")} of ${title}`, { count })} />
      <Pick
        label="Lot: wires made together, of one compound"
        disabled={disabled}
        value={group.lot}
        options={document.lots.filter((one) => one.loom === segment.loom).map((one) => ({ id: one.id, name: `${nameOf(one)}, ${one.size}`, hint: `${compoundWords(one.insulation, library)}; ${wallWords(one.wall)}` }))}
        onChange={(id) => put(`Wires are ${nameOf(document.lots.find((one) => one.id === id), id)}`, { lot: id })}
      />
      <Pick
        label="Conductor size"
        disabled={disabled}
        value={group.size ?? ""}
        options={[{ id: "", name: `as its lot: ${lot?.size ?? ""}` }, ...(library?.conductors ?? []).map((one) => ({ id: one, name: one }))]}
        onChange={(size) => put(`Conductor ${size || "as its lot"}`, { size: size || undefined })}
      />
      <TextField label="What the circuits do" disabled={disabled} value={group.function ?? ""} onChange={(text) => put(`Function ${text || "not stated"}`, { function: text.trim() || undefined })} />
      <Current {...props} />
      <Choice label="Where they lie in the bundle" disabled={disabled} options={places} value={group.place ?? ""} onChange={(id) => put(`Place in the bundle: ${id || "not said"}`, { place: (id || undefined) as WireGroup["place"] })} />
      <div class="row">
        <Big disabled={disabled} onPress={() => edit(`Wires of ${title} are a lot of their own`, (of) => withOwnLot(of, segment.id, index).document)}>
          These are of another make or compound
        </Big>
        {!only && (
          <Big disabled={disabled} onPress={() => edit(`Wires of ${title} removed from ${nameOf(segment)}`, (of) => withoutGroup(of, segment.id, index))}>
            Remove these wires
          </Big>
        )}
      </div>
    </details>
  );
}

/** The wires in it. */
export function GroupFields(props: SegmentProps): JSX.Element {
  const { segment, disabled } = props;
  return (
    <Part title="Wires in it" now={segment.groups.map((one) => `${one.count} × ${one.size ?? props.document.lots.find((lot) => lot.id === one.lot)?.size ?? "?"}`).join(", ")}>
      {segment.groups.map((one, i) => (
        <OneGroup key={i} {...props} group={one} index={i} only={segment.groups.length === 1} />
      ))}
      <Big disabled={disabled} onPress={() => edit(`Wires added to ${nameOf(segment)}`, (of) => withMoreGroups(of, segment.id))}>
        Add wires
      </Big>
      <p>
        <small>Compound, wall and dates of a lot are set once for all its segments, under “Looms and compounds” below the map.</small>
      </p>
    </Part>
  );
}
