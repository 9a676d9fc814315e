import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type CaseDocument, nameOf, type Segment } from "../../case/document";
import type { Library } from "../../engine/answers";
import { Big, type Column, DataTable, TextField } from "../../parts";
import { coveringWords, coverWords, lastSeen, millimetres, wireCount, zoneWords } from "./words";

interface TableProps {
  document: CaseDocument;
  library: Library | null;
  wrong: Set<string>;
  onSegment: (id: string) => unknown;
}

function columns({ document, library, wrong, onSegment }: TableProps): Column<Segment>[] {
  const node = (id: string): string => nameOf(document.nodes.find((one) => one.id === id), id);
  return [
    {
      id: "name", name: "Segment", by: (one) => nameOf(one),
      cell: (one) => (
        <Big class="loom-table-open" onPress={() => onSegment(one.id)} label={`Edit ${nameOf(one)}`}>
          {nameOf(one)}
          {wrong.has(one.id) && " (! does not fit yet)"}
        </Big>
      ),
    },
    { id: "length", name: "Length [mm]", number: true, by: (one) => one.length_m, cell: (one) => millimetres(one.length_m) },
    { id: "zone", name: "Zone", by: (one) => zoneWords(one, library), cell: (one) => zoneWords(one, library) },
    { id: "covering", name: "Covering", by: (one) => coveringWords(one, library), cell: (one) => coveringWords(one, library) },
    { id: "cover", name: "Reached", by: (one) => one.cover_group ?? "", cell: (one) => coverWords(one.cover_group) },
    { id: "minutes", name: "Time to bare it [min]", number: true, by: (one) => one.minutes_to_open ?? -1, cell: (one) => one.minutes_to_open ?? "not stated" },
    { id: "wires", name: "Wires", number: true, by: wireCount, cell: wireCount },
    { id: "from", name: "From", by: (one) => node(one.from), cell: (one) => node(one.from) },
    { id: "to", name: "To", by: (one) => node(one.to), cell: (one) => node(one.to) },
    {
      id: "marks", name: "Marks", by: (one) => (one.airbag ? "a" : "b"),
      cell: (one) => [one.airbag ? "AIRBAG: never opened" : "", lastSeen(document, one.id, library) ?? ""].filter(Boolean).join(", ") || "–",
    },
  ];
}

const searched = (one: Segment, library: Library | null): string =>
  [nameOf(one), one.id, zoneWords(one, library), coveringWords(one, library), one.cover_group ?? ""].join(" ").toLowerCase();

/** All segments, to be sorted and searched; a press opens the same sheet as on the map. */
export function SegmentTable(props: TableProps): JSX.Element {
  const { document, library } = props;
  const [wanted, setWanted] = useState("");
  const word = wanted.trim().toLowerCase();
  const rows = document.segments.filter((one) => word === "" || searched(one, library).includes(word));
  return (
    <>
      {document.segments.length > 8 && (
        <TextField label="Only segments with" value={wanted} onChange={setWanted} hint="Part of a name, a zone, a covering or a cover; empty: all." />
      )}
      <DataTable
        caption={word ? `Segments with “${wanted.trim()}”: ${rows.length} of ${document.segments.length}` : `Segments: ${rows.length}`}
        columns={columns(props)}
        rows={rows}
        rowKey={(one) => one.id}
      />
    </>
  );
}
