import type { JSX } from "preact";
import type { Assumption } from "../engine/answers";

interface AssumedListProps {
  list: Pick<Assumption, "at" | "text" | "grade">[];
  places?: boolean; // where in the case each can be replaced
}

/** Assumptions, each with its grade. */
export function AssumedList({ list, places = false }: AssumedListProps): JSX.Element {
  return (
    <ul>
      {list.map((one) => (
        <li key={`${one.at} ${one.text}`}>
          {one.text} <small>[{one.grade.replace("-", " ")}]</small> {places && one.at && <code>{one.at}</code>}
        </li>
      ))}
    </ul>
  );
}
