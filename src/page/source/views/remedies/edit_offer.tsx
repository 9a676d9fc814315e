import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type CaseDocument, written } from "../../case/document";
import type { Problem } from "../../engine/ask";
import { Big } from "../../parts/big";
import { Choice } from "../../parts/choice";
import { say } from "../../parts/live";
import { Problems } from "../../parts/problems";
import { Sheet } from "../../parts/sheet";
import { problemsIn } from "../../store/files";
import { change, job, library } from "../../store/job";
import type { Offer, Question, RemediesAnswer } from "./answers";
import { DonorFields } from "./donor_fields";
import { aboutOf, type Kinds } from "./kinds";
import { MaterialFields, PlaceFields, PriceFields, WordFields } from "./offer_fields";
import {
  type StatedOffer,
  freshId,
  offersOf,
  putsWireIn,
  statedOffers,
  withOffer,
  withoutEmpty,
  withoutOffer,
  worksOnWires,
} from "./offers";

interface EditOfferProps {
  question: Question;
  offer: Offer | null; // null: a new one
  answer: RemediesAnswer;
  document: CaseDocument;
  onClose: () => void;
}

/** What a new offer of this kind starts with: the id, and what such an offer has to state. */
function started(kind: string, name: string, props: EditOfferProps): StatedOffer {
  const { question, document, answer } = props;
  const taken = [...statedOffers(document), ...answer.choices.flatMap((one) => one.remedies)].map((one) => one.id);
  const weakest = question.remedies.find((one) => one.weakest_left_in)?.weakest_left_in?.id;
  return withoutEmpty({
    id: freshId(kind, question.id, taken),
    kind,
    name,
    ...(worksOnWires(kind)
      ? { segments: weakest ? [weakest] : [] }
      : { loom: question.looms[0] }),
    insulation: putsWireIn(kind) && kind !== "used-part" && kind !== "new-part" ? "xlpo-125" : undefined,
    covering: kind === "sleeve-and-tape" ? library.value?.coverings[0]?.id : undefined,
  });
}

/** A sheet to change one offer, or to add one; it is written into the case at the end. */
export function EditOffer(props: EditOfferProps): JSX.Element {
  const { question, offer, answer, document, onClose } = props;
  const coverings = library.value?.coverings ?? [];
  const kinds = ((library.value?.remedy_kinds ?? []) as Kinds).filter((kind) => kind.id !== "leave");
  const others = offersOf(question, document, answer.assumptions, coverings);
  const [draft, setDraft] = useState<StatedOffer | null>(
    () => others.find((one) => one.id === offer?.id) ?? null,
  );
  const [problems, setProblems] = useState<Problem[]>([]);
  const put = (changes: Partial<StatedOffer>): void => setDraft((now) => now && withoutEmpty({ ...now, ...changes }));
  const missing = draft ? whatIsMissing(draft) : "Choose what kind of offer it is.";

  async function keep(): Promise<void> {
    if (!draft || missing || !job.value) return;
    // What the engine would refuse does not get into the case.
    const { name, files } = job.value;
    const wrong = await problemsIn(name, written(withOffer(document, draft, others)), files);
    setProblems(wrong);
    if (wrong.length > 0) return;
    await change(`Offer ${draft.name ?? draft.id}`, (now) => withOffer(now, draft, others));
    say("Offer kept in the case. The remedies are worked out again.");
    onClose();
  }

  async function takeOut(): Promise<void> {
    if (!offer) return;
    await change(`Took out offer ${offer.name}`, (now) => withoutOffer(now, offer.id, others));
    say("Offer taken out of the case.");
    onClose();
  }

  return (
    <Sheet title={offer ? "Change an offer" : "Add an offer"} onClose={onClose}>
      <div class="remedies-edit">
        {!offer && (
          <Choice
            label="What is offered"
            options={kinds.map((kind) => ({ id: kind.id, name: kind.name }))}
            value={draft?.kind ?? ""}
            onChange={(kind: string) =>
              setDraft(started(kind, kinds.find((one) => one.id === kind)?.name ?? kind, props))
            }
          />
        )}
        {draft && (
          <>
            {offer && <h3>{offer.name}</h3>}
            <p class="remedies-note">{aboutOf(kinds, draft.kind)}</p>
            <PriceFields draft={draft} put={put} offer={offer} unit={answer.unit} document={document} />
            <PlaceFields draft={draft} put={put} question={question} document={document} />
            <MaterialFields draft={draft} put={put} offer={offer} />
            {draft.kind === "used-part" && (
              <DonorFields
                donor={draft.donor}
                climates={library.value?.climates ?? []}
                duties={library.value?.duties ?? []}
                onChange={(donor) => put({ donor })}
              />
            )}
            <WordFields draft={draft} put={put} />
          </>
        )}
        {missing && <p role="status">{missing}</p>}
        <Problems problems={problems} />
        <div class="remedies-actions">
          <Big primary onPress={() => void keep()} disabled={missing !== ""}>
            Keep this offer
          </Big>
          {offer?.stated && <Big onPress={() => void takeOut()}>Take it out of the case</Big>}
          <Big onPress={onClose}>Close without change</Big>
        </div>
      </div>
    </Sheet>
  );
}

function whatIsMissing(draft: StatedOffer): string {
  if (worksOnWires(draft.kind) && !draft.loom && (draft.segments ?? []).length === 0) {
    return "Choose at least one segment that it covers.";
  }
  return "";
}
