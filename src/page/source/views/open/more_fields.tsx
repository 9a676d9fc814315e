import type { JSX } from "preact";
import type { Segment } from "../../case/document";
import { Choice, Pick, TextField } from "../../parts";
import { library } from "../../store/job";
import { lotName, zoneName } from "../estimate/names";
import type { Draft } from "./finding_draft";

interface MoreProps {
  draft: Draft;
  segment: Segment | undefined;
  onChange: (members: Partial<Draft>) => void;
}

export const lotsOf = (segment: Segment | undefined): string[] => [...new Set((segment?.groups ?? []).map((group) => group.lot))];

function WhichPart({ draft, segment, onChange }: MoreProps): JSX.Element {
  const stretches = (segment?.stretches ?? []).filter((one) => one.id !== undefined);
  const lots = lotsOf(segment);
  return (
    <>
      {stretches.length > 1 && (
        <Choice
          label="Which stretch" value={draft.stretch} onChange={(id: string) => onChange({ stretch: id })}
          options={[
            { id: "", name: "All of it" },
            ...stretches.map((one) => ({ id: one.id as string, name: one.id as string, hint: zoneName(one.zone) })),
          ]}
        />
      )}
      {lots.length > 1 && (
        <Choice
          label="Which wires" value={draft.lot} onChange={(id: string) => onChange({ lot: id })}
          options={[{ id: "", name: "All of them" }, ...lots.map((id) => ({ id, name: lotName(id) }))]}
        />
      )}
    </>
  );
}

const foundBy: Record<string, string> = { print: "Print on the wire", feel: "Look and feel", sample: "Test of a sample" };

/** What the wire itself tells of its compound. */
export function Clues({ draft, segment, onChange }: MoreProps): JSX.Element {
  const all = library.value?.clues ?? [];
  const kinds = [...new Set(all.map((one) => one.found_by))];
  const needsLot = draft.clues.length > 0 && draft.lot === "" && lotsOf(segment).length > 1;
  return (
    <details>
      <summary>Clues to the compound{draft.clues.length > 0 ? ` (${draft.clues.length})` : ""}</summary>
      {needsLot && <p class="open-warn">Say which wires the clues speak of.</p>}
      {kinds.map((kind) => {
        const options = all.filter((one) => one.found_by === kind).map(({ id, name, how }) => ({ id, name, hint: how }));
        const others = draft.clues.filter((id) => !options.some((one) => one.id === id));
        return (
          <Choice
            key={kind} label={foundBy[kind] ?? kind} many options={options} value={draft.clues.filter((id) => !others.includes(id))}
            onChange={(ids: string[]) => onChange({ clues: [...others, ...ids] })}
          />
        );
      })}
    </details>
  );
}

/** What is worth keeping beside the condition; nothing of it is needed. */
export function MoreFields(props: MoreProps): JSX.Element {
  const { draft, onChange } = props;
  return (
    <>
      <WhichPart {...props} />
      <Choice label="Signs" many options={library.value?.signs ?? []} value={draft.signs} onChange={(signs: string[]) => onChange({ signs })} />
      <Clues {...props} />
      <TextField label="Who looked" value={draft.by} onChange={(by) => onChange({ by })} />
      <TextField label="Note" lines={2} value={draft.note} onChange={(note) => onChange({ note })} />
    </>
  );
}

export function CausePick({ draft, onChange }: Omit<MoreProps, "segment">): JSX.Element {
  const options = library.value?.causes ?? [];
  return <Pick label="Cause" options={options} value={draft.cause} onChange={(id) => onChange({ cause: id as Draft["cause"] })} />;
}
