import type { JSX } from "preact";
import { nameOf } from "../../case/document";
import { withNode, withNodeName } from "../../case/loom_edits";
import { Choice, Pick, TextField } from "../../parts";
import { edit } from "./edit";
import { Part } from "./part";
import type { SegmentProps } from "./segment_sheet";
import { nameIn } from "./words";

const kinds = [
  { id: "plug", name: "Plug, clip or break-out" },
  { id: "metal", name: "Screwed to metal", hint: "a stud or an earth point" },
];

function End({ id, label, document, segment, library, disabled }: SegmentProps & { id: string; label: string }): JSX.Element {
  const node = document.nodes.find((one) => one.id === id);
  const others = document.segments.filter((one) => one.id !== segment.id && (one.from === id || one.to === id));
  const name = nameOf(node, id);
  const zone = node?.terminal?.zone;
  return (
    <div class="card" role="group" aria-label={label}>
      <TextField
        label={label}
        disabled={disabled}
        value={node?.name ?? ""}
        hint={others.length === 0 ? "A loose end: name what it plugs into." : `Goes on with: ${others.map((one) => nameOf(one)).join(", ")}.`}
        onChange={(next) => edit(`Renamed ${name} to ${next || id}`, (of) => withNodeName(of, id, next))}
      />
      <Choice
        label="What it is"
        disabled={disabled}
        options={kinds}
        value={zone === undefined ? "plug" : "metal"}
        onChange={(kind) =>
          edit(`${name} is ${kind === "metal" ? "screwed to metal" : "a plug, clip or break-out"}`, (of) =>
            withNode(of, id, { terminal: kind === "metal" ? { zone: segment.stretches[0]?.zone ?? "" } : undefined }),
          )
        }
      />
      {zone !== undefined && (
        <Pick
          label="Air around that metal part"
          disabled={disabled}
          value={zone}
          options={library?.zones ?? []}
          onChange={(next) => edit(`Zone of ${name}: ${nameIn(library?.zones, next)}`, (of) => withNode(of, id, { terminal: { ...node?.terminal, zone: next } }))}
        />
      )}
    </div>
  );
}

/** What it plugs into or leaves from. */
export function EndFields(props: SegmentProps): JSX.Element {
  return (
    <Part title="Its two ends" now={`${nameOf(props.document.nodes.find((one) => one.id === props.segment.from), props.segment.from)}; ${nameOf(props.document.nodes.find((one) => one.id === props.segment.to), props.segment.to)}`}>
      <End {...props} id={props.segment.from} label="Start" />
      {props.segment.to !== props.segment.from && <End {...props} id={props.segment.to} label="Far end" />}
    </Part>
  );
}
