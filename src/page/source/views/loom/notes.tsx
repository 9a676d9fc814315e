import type { JSX } from "preact";
import type { Assumption, CheckAnswer } from "../../engine/answers";
import { Big, Problems } from "../../parts";
import { type Answer, useAnswer } from "../../store/answers";
import { AssumedList } from "../../parts/assumed_list";
import { lastChange, locked, refusal, takeBack } from "./edit";

export interface Noted {
  problems: { at: string; text: string }[];
  assumptions: Assumption[];
  /** The engine is still reading the case as it stands now. */
  working: boolean;
  refused: Answer<CheckAnswer>["problems"];
}

/** What the engine says of the case as it stands: it is read again after every change. */
export function useNotes(): Noted {
  const answer = useAnswer<CheckAnswer>("check", { rounds: [500] }).value;
  const file = answer.value?.files[0];
  return {
    problems: file?.problems ?? [],
    assumptions: file?.assumptions ?? [],
    working: answer.state === "working" || answer.state === "none",
    refused: answer.state === "refused" ? answer.problems : [],
  };
}

export const under = (place: string, at: string): boolean => at === place || at.startsWith(`${place}/`);

export function notedAt(noted: Noted, ...places: string[]): Noted {
  const here = (one: { at: string }): boolean => places.some((place) => under(place, one.at));
  return { ...noted, problems: noted.problems.filter(here), assumptions: noted.assumptions.filter(here) };
}

function short(problems: Noted["problems"]): string {
  const first = problems[0]?.text ?? "";
  return problems.length < 2 ? first : `${first}; and ${problems.length - 1} more`;
}

/** Why nothing happened, what does not fit since, and how to take back what did. It stays in sight. */
export function LastChange({ noted }: { noted?: Noted }): JSX.Element {
  return (
    <>
      {refusal.value && (
        <p class="loom-refusal" role="alert">
          <strong>Not changed.</strong> {refusal.value}
        </p>
      )}
      {lastChange.value && !locked() && (
        <p class="loom-undo">
          <span>
            {lastChange.value}
            {noted && noted.problems.length > 0 && <strong class="loom-mark">! Does not fit yet: {short(noted.problems)}</strong>}
          </span>
          <Big onPress={takeBack} label={`Undo: ${lastChange.value}`}>
            Undo
          </Big>
        </p>
      )}
    </>
  );
}

/** Problems of the case, and that it can be edited all the same. */
export function CaseProblems({ noted }: { noted: Noted }): JSX.Element | null {
  if (noted.refused.length > 0) return <Problems problems={noted.refused} title="The case cannot be read" />;
  if (noted.problems.length === 0) return null;
  return (
    <section class="problems" role="status">
      <h2>{noted.problems.length === 1 ? "One thing does not fit yet" : `${noted.problems.length} things do not fit yet`}</h2>
      <p>Everything stays as entered and can be edited; there is no estimate until this is mended.</p>
      <ul>
        {noted.problems.slice(0, 12).map((one) => (
          <li key={one.at + one.text}>
            <code class="problems-place">{one.at}</code>
            <span>{one.text}</span>
          </li>
        ))}
      </ul>
      {noted.problems.length > 12 && <p>… and {noted.problems.length - 12} more.</p>}
    </section>
  );
}

/** What is assumed here, folded. */
export function Assumed({ list, title = "Assumed here" }: { list: Assumption[]; title?: string }): JSX.Element | null {
  if (list.length === 0) return null;
  return (
    <details class="loom-assumed">
      <summary>
        {title} ({list.length})
      </summary>
      <AssumedList list={list} />
    </details>
  );
}
