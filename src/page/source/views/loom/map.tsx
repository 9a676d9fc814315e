import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { type CaseDocument, nameOf } from "../../case/document";
import type { Library } from "../../engine/answers";
import { type Field, fieldsOf, laneStep, type NodeRow, type Row, route, type SegmentRow } from "./layout";
import { countWords, coveringWords, coverWords, lastSeen, millimetres, spoken, zoneWords } from "./words";

interface MapProps {
  document: CaseDocument;
  library: Library | null;
  /** Segments of which the engine says that something does not fit. */
  wrong: Set<string>;
  onSegment: (id: string) => unknown;
}

const margin = 14;

const laneAt = (lane: number, step: number): number => margin + lane * step;

// Lengths in per cent: a row is as high as its words need, at any size of the letters.
function Gutter({ row, step, width }: { row: Row; step: number; width: number }): JSX.Element {
  const x = laneAt(row.lane, step);
  return (
    <svg class="loom-gutter" width={width} height="100%" aria-hidden="true">
      {row.through.map((lane) => (
        <line key={lane} class="loom-past" x1={laneAt(lane, step)} x2={laneAt(lane, step)} y1="0" y2="100%" />
      ))}
      {row.kind === "segment" ? <Strand row={row} x={x} from={laneAt(row.fromLane, step)} /> : <Knot row={row} x={x} />}
    </svg>
  );
}

function Strand({ row, x, from }: { row: SegmentRow; x: number; from: number }): JSX.Element {
  if (row.fromLane === row.lane) return <line class="loom-strand" x1={x} x2={x} y1="0" y2="100%" />;
  return (
    <>
      <line class="loom-strand" x1={from} x2={x} y1="6" y2="6" />
      <line class="loom-strand" x1={x} x2={x} y1="6" y2="100%" />
    </>
  );
}

function Knot({ row, x }: { row: NodeRow; x: number }): JSX.Element {
  return (
    <>
      {row.from && <line class="loom-strand" x1={x} x2={x} y1="0" y2="50%" />}
      {row.on && <line class="loom-strand" x1={x} x2={x} y1="50%" y2="100%" />}
      <circle class={row.again ? "loom-knot loom-knot-again" : "loom-knot"} cx={x} cy="50%" r="7" />
    </>
  );
}

const elsewhereWords = (covers: string[]): string => covers.map((cover) => coverWords(cover)).join(", ");

function nodeWords(row: NodeRow): string {
  return [
    row.branches > 0 ? countWords(row.branches, "branch leaves", "branches leave") : "",
    row.again ? "met again: the loop closes here" : "",
    row.elsewhere.length > 0 ? `goes on ${elsewhereWords(row.elsewhere)}` : "",
  ].filter(Boolean).join("; ");
}

function NodeLine({ row, document, step, width }: { row: NodeRow; document: CaseDocument; step: number; width: number }): JSX.Element {
  const node = document.nodes.find((one) => one.id === row.node);
  const more = nodeWords(row);
  return (
    <li class="loom-node" style={{ paddingLeft: `${width}px` }}>
      <Gutter row={row} step={step} width={width} />
      <span class="loom-node-words">
        {nameOf(node, row.node)}
        {node?.terminal && " (screwed to metal)"}
        {more && <em> – {more}</em>}
      </span>
    </li>
  );
}

interface SegmentLineProps extends MapProps {
  row: SegmentRow;
  step: number;
  width: number;
  stop: boolean;
  onFocus: () => void;
}

function SegmentLine({ row, step, width, stop, onFocus, document, library, wrong, onSegment }: SegmentLineProps): JSX.Element {
  const { segment } = row;
  const seen = lastSeen(document, segment.id, library);
  const bad = wrong.has(segment.id);
  return (
    <li>
      <button
        type="button"
        class="loom-segment"
        style={{ paddingLeft: `${width}px` }}
        data-segment={segment.id}
        tabIndex={stop ? 0 : -1}
        aria-label={`${spoken(document, segment, library)}${bad ? ", something does not fit" : ""}. Edit.`}
        onFocus={onFocus}
        onClick={() => onSegment(segment.id)}
      >
        <Gutter row={row} step={step} width={width} />
        <span class="loom-segment-words">
          <span class="loom-segment-head">
            <strong>{nameOf(segment)}</strong>
            <span class="loom-segment-length">{millimetres(segment.length_m)} mm</span>
          </span>
          <span class="loom-segment-zone">{zoneWords(segment, library)}</span>
          <span class="loom-segment-more">{coveringWords(segment, library)}</span>
          {segment.airbag && <strong class="loom-mark">AIRBAG: never opened</strong>}
          {seen && <span class="loom-mark">Seen: {seen}</span>}
          {bad && <strong class="loom-mark">! does not fit yet</strong>}
        </span>
      </button>
    </li>
  );
}

function headWords(field: Field): string {
  const minutes = field.minutes === null ? "" : `, ${field.minutes} min or more to reach one`;
  return countWords(field.segments, "segment") + minutes;
}

/** The loom by what comes off to reach it. The arrow keys walk along the route. */
export function LoomMap(props: MapProps): JSX.Element {
  const { document } = props;
  const box = useRef<HTMLDivElement>(null);
  const [stop, setStop] = useState<string | null>(null);
  const fields = fieldsOf(document);
  const ids = route(fields);
  const here = stop !== null && ids.includes(stop) ? stop : ids[0];

  function walk(event: KeyboardEvent): void {
    const at = ids.indexOf((event.target as HTMLElement).closest<HTMLElement>("[data-segment]")?.dataset["segment"] ?? "");
    const to = { ArrowDown: at + 1, ArrowRight: at + 1, ArrowUp: at - 1, ArrowLeft: at - 1, Home: 0, End: ids.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    const id = ids[Math.min(ids.length - 1, Math.max(0, to))] as string;
    setStop(id);
    [...(box.current?.querySelectorAll<HTMLElement>("[data-segment]") ?? [])].find((one) => one.dataset["segment"] === id)?.focus();
  }

  return (
    <div class="loom-map" ref={box} onKeyDown={walk}>
      {fields.map((field, i) => {
        const step = laneStep(field.lanes);
        const width = Math.ceil(laneAt(field.lanes - 1, step) + margin);
        return (
          <section key={field.cover} class={field.cover ? "loom-field" : "loom-field loom-field-open"} aria-labelledby={`loom-field-${i}`}>
            <header class="loom-field-head">
              <h2 id={`loom-field-${i}`}>{field.cover ? `Take off: ${field.cover}` : "Nothing comes off"}</h2>
              <p>{headWords(field)}</p>
            </header>
            <ul class="loom-rows">
              {field.rows.map((row, at) =>
                row.kind === "node" ? (
                  <NodeLine key={`node ${at}`} row={row} document={document} step={step} width={width} />
                ) : (
                  <SegmentLine
                    key={row.segment.id}
                    {...props}
                    row={row}
                    step={step}
                    width={width}
                    stop={row.segment.id === here}
                    onFocus={() => setStop(row.segment.id)}
                  />
                ),
              )}
            </ul>
          </section>
        );
      })}
    </div>
  );
}
