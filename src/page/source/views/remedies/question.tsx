import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { Big } from "../../parts/big";
import { useWide } from "../../parts/wide";
import type { Offer, Question, RemediesAnswer } from "./answers";
import { Glance, StopNote, scaleOf } from "./cost_words";
import type { Kinds } from "./kinds";
import { BreakEven, Knowing, UsedParts } from "./knowing";
import { fullName, plainName } from "./names";
import { OfferCard, type OfferProps } from "./offer_card";
import { OfferTable } from "./offer_table";
import { sentences } from "./words";

export interface QuestionProps {
  question: Question;
  answer: RemediesAnswer;
  document: CaseDocument;
  kinds: Kinds;
  insulations: { id: string; name: string }[];
  readonly: boolean;
  onEdit: (question: Question, offer: Offer | null) => void;
  onPlan: (offer: Offer) => void;
}

function Advice({ advice }: { advice: string }): JSX.Element {
  const [what, why] = sentences(advice);
  return (
    <div class="remedies-advice">
      <p>
        <strong>{what}</strong>
      </p>
      {why && <p>{why}</p>}
    </div>
  );
}

/** One loom, or looms that one remedy covers together: what to do about it. */
export function QuestionSection(props: QuestionProps): JSX.Element {
  const { question, answer, document, kinds, insulations } = props;
  const wide = useWide(64);
  const looms = question.looms.map((id) => fullName(document.looms, id)).join(", ");
  const segmentName = (id: string): string => fullName(document.segments, id);
  const insulationName = (id: string): string => plainName(insulations, id);
  const scale = scaleOf(question);
  const rows: OfferProps[] = question.remedies.map((offer) => ({
    offer,
    best: offer.id === question.best,
    scale,
    unit: answer.unit,
    kinds,
    insulationName,
    segmentName,
    onEdit: props.readonly ? undefined : (one: Offer) => props.onEdit(question, one),
    onPlan: props.onPlan,
  }));
  const heading = `remedies-loom-${question.id}`;
  return (
    <section class="remedies-question" aria-labelledby={heading}>
      <h2 id={heading}>Loom: {looms}</h2>
      <Advice advice={question.advice} />
      {!question.stated && (
        <p class="remedies-note">
          The case states no offers for this loom yet: the built-in kinds are compared at typical prices. Change one as soon
          as you know its price.
        </p>
      )}
      {wide ? (
        <OfferTable caption={`Remedies for ${looms}, cheapest first`} rows={rows} />
      ) : (
        <>
          <Glance question={question} scale={scale} unit={answer.unit} />
          <ul class="remedies-cards">
            {rows.map((row) => (
              <OfferCard key={row.offer.id} {...row} />
            ))}
          </ul>
        </>
      )}
      {question.remedies[0] && <StopNote offer={question.remedies[0]} answer={answer} />}
      {!props.readonly && <Big onPress={() => props.onEdit(question, null)}>Add an offer for this loom</Big>}
      <BreakEven question={question} answer={answer} />
      <Knowing question={question} unit={answer.unit} segmentName={segmentName} />
      <UsedParts question={question} unit={answer.unit} segmentName={segmentName} insulationName={insulationName} />
    </section>
  );
}
