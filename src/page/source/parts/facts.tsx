import type { ComponentChildren, JSX } from "preact";

export type Fact = [name: string, value: ComponentChildren] | { name: string; value: ComponentChildren };

/** Names and values. */
export function Facts({ rows }: { rows: Fact[] }): JSX.Element {
  return (
    <dl class="facts">
      {rows.map((row) => {
        const [name, value] = Array.isArray(row) ? row : [row.name, row.value];
        return (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        );
      })}
    </dl>
  );
}
