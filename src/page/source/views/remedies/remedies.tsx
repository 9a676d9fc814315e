import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { AssumedList } from "../../parts/assumed_list";
import { Problems } from "../../parts/problems";
import { useAnswer } from "../../store/answers";
import { document as caseDocument, library, readonly } from "../../store/job";
import type { Offer, Question, RemediesAnswer } from "./answers";
import { EditOffer } from "./edit_offer";
import type { Kinds } from "./kinds";
import { PlanSheet } from "./plan";
import { QuestionSection } from "./question";
import { Settings } from "./settings";

function Together({ answer }: { answer: RemediesAnswer }): JSX.Element {
  return (
    <section>
      <h2>Every remedy ends with</h2>
      <ul>
        {answer.every_remedy_ends_with.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ul>
      <details>
        <summary>What this assumes ({answer.assumptions.length})</summary>
        <AssumedList list={answer.assumptions} />
      </details>
    </section>
  );
}

/** The looms of the case one after the other, with their remedies side by side. */
export function Remedies(): JSX.Element {
  const answer = useAnswer<RemediesAnswer>("remedies").value;
  const [edited, setEdited] = useState<{ question: Question; offer: Offer | null } | null>(null);
  const [planned, setPlanned] = useState<Offer | null>(null);
  const document = caseDocument.value;
  const value = answer.value;
  if (!document) return <p>Open or start a case first.</p>;
  if (answer.state === "refused") return <Problems problems={answer.problems} />;
  if (!value) return <p role="status">Working out what each remedy would cost…</p>;
  const kinds = (library.value?.remedy_kinds ?? []) as Kinds;
  return (
    <>
      <Settings answer={value} document={document} />
      {answer.state === "working" && (
        <p role="status" class="remedies-note">
          So far from {answer.draws} draws; the full answer is on its way.
        </p>
      )}
      {value.choices.map((question) => (
        <QuestionSection
          key={question.id}
          question={question}
          answer={value}
          document={document}
          kinds={kinds}
          insulations={library.value?.insulations ?? []}
          readonly={readonly.value}
          onEdit={(one, offer) => setEdited({ question: one, offer })}
          onPlan={setPlanned}
        />
      ))}
      <Together answer={value} />
      {edited && <EditOffer {...edited} answer={value} document={document} onClose={() => setEdited(null)} />}
      {planned && <PlanSheet offer={planned} answer={value} document={document} onClose={() => setPlanned(null)} />}
    </>
  );
}
