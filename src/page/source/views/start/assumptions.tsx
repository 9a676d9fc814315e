import type { JSX } from "preact";
import type { Assumption, CheckAnswer } from "../../engine/answers";
import { AssumedList, Problems } from "../../parts";
import { useAnswer } from "../../store/answers";

const rooms: [prefix: string, words: string][] = [
  ["/lots", "Compounds and wires"],
  ["/looms", "Looms"],
  ["/segments", "Places of the loom"],
  ["/service", "Service history"],
  ["/future", "Use to come"],
  ["/vehicle", "Vehicle"],
];

const roomOf = (at: string): string => rooms.find(([prefix]) => at.startsWith(prefix))?.[1] ?? "Other";

// In the order in which they come: what matters most is said first.
function grouped(list: Assumption[]): [string, Assumption[]][] {
  const groups = new Map<string, Assumption[]>();
  for (const one of list) groups.set(roomOf(one.at), [...(groups.get(roomOf(one.at)) ?? []), one]);
  return [...groups];
}

/** What stands in the case without being known, and what is wrong with it. */
export function Assumptions(): JSX.Element {
  const answer = useAnswer<CheckAnswer>("check", { rounds: [500] }).value;
  const file = answer.value?.files[0];
  const problems = file?.problems.map(({ at, text }) => ({ file: "", place: at, what: text })) ?? [];
  return (
    <section aria-labelledby="start-assumed">
      <h2 id="start-assumed">What this case assumes{file ? ` (${file.assumptions.length})` : ""}</h2>
      {answer.state === "refused" && <Problems problems={answer.problems} />}
      <Problems problems={problems} title="The case cannot be computed with" />
      {!file && answer.state !== "refused" && <p role="status">Reading the case…</p>}
      {grouped(file?.assumptions ?? []).map(([room, list]) => (
        <div key={room}>
          <h3>{room}</h3>
          <div class="start-assumed">
            <AssumedList list={list} />
          </div>
        </div>
      ))}
      {file && file.not_computed_with.length > 0 && (
        <div>
          <h3>Kept, but not computed with</h3>
          <ul>
            {file.not_computed_with.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
