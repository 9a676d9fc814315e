import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { AssumedList } from "../../parts/assumed_list";
import { Problems } from "../../parts/problems";
import { fullDraws, useAnswer } from "../../store/answers";
import { document as caseDocument } from "../../store/job";
import type { CompareAnswer } from "./answers";
import { Candidates } from "./candidates";
import { CompareForm, type Wishes, requestOf, startingWishes } from "./compare_form";
import { MixedBuildSection } from "./mixed_build";
import { ZoneNeeds } from "./zone_needs";

const firstDraws = 200; // the whole library takes its time

type Request = ReturnType<typeof requestOf>;

/** Insulations on the route of this case, what a change would do, and what each zone asks for. */
export function CompareInsulations(): JSX.Element {
  const [wishes, setWishes] = useState<Wishes>(startingWishes);
  const [request, setRequest] = useState<Request | null>(null);
  const document = caseDocument.value;
  if (!document) return <p>Open or start a case first.</p>;
  const changed = request !== null && JSON.stringify(requestOf(wishes)) !== JSON.stringify(request);
  return (
    <>
      <CompareForm wishes={wishes} document={document} onChange={setWishes} onCompare={() => setRequest(requestOf(wishes))} />
      {changed && <p role="status">Something above has been changed since: press “Compare” for it.</p>}
      {request && <Comparison request={request} />}
    </>
  );
}

function Comparison({ request }: { request: Request }): JSX.Element {
  const { state, value, draws, problems } = useAnswer<CompareAnswer>("compare", { ...request, rounds: [firstDraws, fullDraws] }).value;
  if (state === "refused") return <Problems problems={problems} />;
  if (!value) return <p role="status">Comparing…</p>;
  return (
    <>
      {state === "working" && <p role="status">So far from {draws} draws; the full comparison is on its way.</p>}
      <Compared answer={value} />
    </>
  );
}

function Compared({ answer }: { answer: CompareAnswer }): JSX.Element {
  return (
    <>
      <section aria-labelledby="remedies-compared">
        <h2 id="remedies-compared">How long each would last</h2>
        {answer.changes.length > 0 && (
          <div class="remedies-advice">
            <p>What if:</p>
            <ul>
              {answer.changes.map((change) => (
                <li key={change}>{change}</li>
              ))}
            </ul>
          </div>
        )}
        <p class="remedies-note">
          Years from {answer.years_from}, by heat alone; wires of today's sizes on today's route. {answer.draws} draws.
        </p>
        {answer.warnings.length > 0 && (
          <details>
            <summary>What the findings say here ({answer.warnings.length})</summary>
            <ul>
              {answer.warnings.map((warning) => (
                <li key={warning}>{warning}</li>
              ))}
            </ul>
          </details>
        )}
        <Candidates answer={answer} />
      </section>
      <ZoneNeeds answer={answer} />
      <MixedBuildSection answer={answer} />
      <details>
        <summary>What this assumes ({answer.assumptions.length})</summary>
        <AssumedList list={answer.assumptions} />
      </details>
    </>
  );
}
