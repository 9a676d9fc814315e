import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { useElementId } from "./ids";

export interface Column<Row> {
  id: string;
  name: string;
  /** What stands in the cell. */
  cell: (row: Row) => ComponentChildren;
  /** What it is sorted by; without it the column cannot be sorted. */
  by?: (row: Row) => number | string;
  /** Numbers stand to the right. */
  number?: boolean;
}

interface DataTableProps<Row> {
  caption: string;
  columns: Column<Row>[];
  rows: Row[];
  /** Id of the column by which it is sorted at first; "-id" for the largest first. */
  sort?: string;
  rowKey?: (row: Row, index: number) => string;
  /** The caption is only spoken. */
  quiet?: boolean;
}

function compared(a: number | string, b: number | string): number {
  if (typeof a === "number" && typeof b === "number") return a - b;
  return String(a).localeCompare(String(b), "en", { numeric: true });
}

/** A table that scrolls in a box of its own; the first column names the row. */
export function DataTable<Row>({ caption, columns, rows, sort, rowKey, quiet }: DataTableProps<Row>): JSX.Element {
  const id = useElementId("table");
  const [order, setOrder] = useState(sort ?? "");
  const falling = order.startsWith("-");
  const column = columns.find((one) => one.id === order.replace(/^-/, ""));
  const by = column?.by;
  const sorted = by ? [...rows].sort((a, b) => (falling ? -1 : 1) * compared(by(a), by(b))) : rows;
  const state = (one: Column<Row>): "ascending" | "descending" | "none" =>
    one !== column ? "none" : falling ? "descending" : "ascending";
  return (
    <div class="table-box" role="region" aria-labelledby={id} tabIndex={0}>
      <table>
        <caption id={id} class={quiet ? "spoken" : undefined}>
          {caption}
        </caption>
        <thead>
          <tr>
            {columns.map((one) => (
              <th key={one.id} scope="col" class={one.number ? "number" : undefined} aria-sort={one.by ? state(one) : undefined}>
                {one.by ? (
                  <button type="button" class="table-sort" onClick={() => setOrder(order === one.id ? `-${one.id}` : one.id)}>
                    {one.name}
                    <span aria-hidden="true">{one !== column ? " ↕" : falling ? " ↓" : " ↑"}</span>
                  </button>
                ) : (
                  one.name
                )}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {sorted.map((row, index) => (
            <tr key={rowKey ? rowKey(row, index) : index}>
              {columns.map((one, i) =>
                i === 0 ? (
                  <th key={one.id} scope="row" class={one.number ? "number" : undefined}>
                    {one.cell(row)}
                  </th>
                ) : (
                  <td key={one.id} class={one.number ? "number" : undefined}>
                    {one.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
