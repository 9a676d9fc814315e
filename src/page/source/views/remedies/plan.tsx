import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import type { CaseDocument } from "../../case/document";
import { Big } from "../../parts/big";
import { Problems } from "../../parts/problems";
import { Sheet } from "../../parts/sheet";
import { useAnswer } from "../../store/answers";
import { job, library } from "../../store/job";
import { fileName, pageAround, printDocument, saveDocument } from "../report/paper";
import type { Offer, PlanAnswer, RemediesAnswer } from "./answers";
import { PlanPaper } from "./plan_paper";
import { planStyle } from "./plan_style";

interface PlanSheetProps {
  offer: Offer;
  answer: RemediesAnswer;
  document: CaseDocument;
  onClose: () => void;
}

/** The work of one remedy as a list to print and tick. */
export function PlanSheet({ offer, answer, document, onClose }: PlanSheetProps): JSX.Element {
  const paper = useRef<HTMLDivElement>(null);
  const { state, value: plan, problems } = useAnswer<PlanAnswer>("plan", { remedy: offer.id }).value;
  const kind = plan?.plan ? (plan.plan.is_wiring_plan ? "Wiring plan" : "Route checklist") : "Plan";
  const page = (): string =>
    pageAround(`${kind}: ${offer.name}`, planStyle, paper.current?.innerHTML ?? "");
  return (
    <Sheet title={`${kind}: ${offer.name}`} onClose={onClose}>
      <div class="remedies-actions">
        <Big primary disabled={state !== "ready"} onPress={() => void printDocument(page())}>
          Print
        </Big>
        <Big disabled={state !== "ready"} onPress={() => saveDocument(fileName(job.value?.name ?? "", `plan-${offer.id}`), page())}>
          Save the page
        </Big>
      </div>
      {state === "refused" && <Problems problems={problems} />}
      {(state === "none" || state === "working") && (
        <p role="status">{plan ? "Its minutes and prices are still being refined…" : "Drawing up the plan…"}</p>
      )}
      {plan && (
        <div ref={paper} class="remedies-plan">
          {plan.plan ? (
            <PlanPaper plan={plan.plan} offer={offer} answer={answer} document={document} cautions={library.value?.cautions ?? []} />
          ) : (
            <pre class="table-box">{plan.text}</pre>
          )}
        </div>
      )}
    </Sheet>
  );
}
