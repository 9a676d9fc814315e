import type { JSX } from "preact";
import type { EstimateAnswer } from "../../store/estimate_answer";
import { AssumedList } from "../../parts/assumed_list";
import { learnedOf, segmentsOf } from "./answers";
import { insulationName } from "./names";
import { counted, listed } from "./words";

const wordsOf = (warning: unknown): string =>
  typeof warning === "string" ? warning : String((warning as { text?: unknown } | null)?.text ?? JSON.stringify(warning));

function feelWarning(answer: EstimateAnswer): string | null {
  const guarded = segmentsOf(answer).filter((one) => one.guarded && one.condition.most_likely === "supple");
  if (guarded.length === 0) return null;
  const names = [...new Set(guarded.map((one) => insulationName(one.insulation)))];
  return `Supple says little for ${listed(names)}: these compounds feel sound until shortly before they crack.`;
}

/** What must be known before the numbers are used. */
export function Warnings({ answer }: { answer: EstimateAnswer }): JSX.Element | null {
  const feel = feelWarning(answer);
  const warnings = [
    ...(feel ? [feel] : []),
    ...(learnedOf(answer)?.warnings ?? []),
    ...answer.measured.warnings.map(wordsOf),
  ];
  if (warnings.length === 0) return null;
  return (
    <section class="estimate-warn" aria-label="Warnings">
      <ul>
        {warnings.map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
    </section>
  );
}

/** "Learnt from 3 findings; 8 100 of 10 000 draws still count." */
export function LearnedLine({ answer }: { answer: EstimateAnswer }): JSX.Element | null {
  const learned = learnedOf(answer);
  if (!learned) return null;
  return (
    <p>
      Learnt from {counted(learned.findings, "finding")}; {Math.round(learned.effective_sample)} of {answer.draws} draws still count.
    </p>
  );
}

/** What was assumed, what is not in it, and what it rests on. */
export function Grounds({ answer }: { answer: EstimateAnswer }): JSX.Element {
  return (
    <section aria-labelledby="estimate-grounds">
      <h2 id="estimate-grounds">What it rests on</h2>
      <details>
        <summary>Assumed ({answer.assumptions.length}), each replaceable in the case</summary>
        <AssumedList list={answer.assumptions} places />
      </details>
      <details>
        <summary>Records of the library ({answer.rests_on.length})</summary>
        <ul>
          {answer.rests_on.map((one) => (
            <li key={`${one.kind} ${one.id}`}>
              {one.kind} {one.name}: <strong>{one.weakest_grade}</strong>
            </li>
          ))}
        </ul>
      </details>
      <details>
        <summary>What is not known, and how it was drawn ({answer.unknowns.length})</summary>
        <ul>
          {answer.unknowns.map((one) => (
            <li key={one.name}>
              {one.words}: {one.law} <small>[{one.grade}, {one.source}]</small>
            </li>
          ))}
        </ul>
      </details>
      {answer.not_computed_with.length > 0 && (
        <>
          <h3>Not computed with</h3>
          <ul>
            {answer.not_computed_with.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
