import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Choice } from "../../parts";
import { document as caseDocument, library } from "../../store/job";
import { locked } from "./edit";
import { LoomCard } from "./loom_card";
import { LoomMap } from "./map";
import { Assumed, CaseProblems, LastChange, useNotes } from "./notes";
import { SegmentSheet } from "./segment_sheet";
import { SegmentTable } from "./segment_table";
import "./style.css";
import { countWords } from "./words";

const shapes = [
  { id: "map", name: "Map" },
  { id: "table", name: "Table" },
];

function wrongSegments(ids: string[], problems: { at: string }[]): Set<string> {
  const wrong = new Set<string>();
  for (const one of problems) {
    const id = ids[Number(/^\/segments\/(\d+)/.exec(one.at)?.[1] ?? -1)];
    if (id !== undefined) wrong.add(id);
  }
  return wrong;
}

/** The loom: as a map by what comes off to reach it, or as a table; each segment opens to be edited. */
export function LoomView(): JSX.Element {
  const document = caseDocument.value;
  const [shape, setShape] = useState("map");
  const [open, setOpen] = useState<string | null>(null);
  const noted = useNotes();
  if (!document) return <p>Open or start a case first.</p>;
  const props = {
    document,
    library: library.value,
    wrong: wrongSegments(document.segments.map((one) => one.id), noted.problems),
    onSegment: setOpen,
  };
  const metres = document.segments.reduce((sum, one) => sum + one.length_m, 0);
  return (
    <div class="loom">
      <h1>The loom</h1>
      <p>
        {countWords(document.segments.length, "segment")}, {Math.round(metres * 10) / 10} m in all. Press a segment to say how
        long it is, where it lies, what is around it and which wires are in it; or to split it, add to it, branch off or take
        it out.
      </p>
      <CaseProblems noted={noted} />
      <Choice label="Shown as" quiet options={shapes} value={shape} onChange={setShape} />
      {shape === "map" ? <LoomMap {...props} /> : <SegmentTable {...props} />}
      <section aria-labelledby="loom-looms">
        <h2 id="loom-looms">Looms and compounds</h2>
        <div class="loom-cards">
          {document.looms.map((loom) => (
            <LoomCard key={loom.id} document={document} loom={loom} library={library.value} disabled={locked()} noted={noted} />
          ))}
        </div>
      </section>
      <Assumed list={noted.assumptions.filter((one) => /^\/(segments|nodes|circuits)/.test(one.at))} title="Assumed of all segments" />
      <div class="loom-bar">
        <LastChange noted={noted} />
      </div>
      {open !== null && <SegmentSheet key={open} {...props} id={open} noted={noted} go={setOpen} />}
    </div>
  );
}
