import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { type Gap, gaps, inOrder, withGapStated } from "../../case/service_edits";
import { Big } from "../../parts";
import { document as caseDocument, library } from "../../store/job";
import { edit, locked } from "../loom/edit";
import { CaseProblems, LastChange, type Noted, notedAt, useNotes } from "../loom/notes";
import "../loom/style.css";
import { FutureCard } from "./future_card";
import { LifeLine } from "./life_line";
import { MeasuredCard } from "./measured_card";
import { PeriodCard } from "./period_card";
import "./style.css";

function GapCard({ gap, disabled }: { gap: Gap; disabled: boolean }): JSX.Element {
  return (
    <div class="service-gap">
      <p>
        {gap.from} to {gap.to}: nothing is stated. It counts as off the road.
      </p>
      <Big disabled={disabled} onPress={() => edit(`Period from ${gap.from} to ${gap.to} stated`, (of) => withGapStated(of, gap))}>
        State what happened then
      </Big>
    </div>
  );
}

function Periods({ document, noted }: { document: CaseDocument; noted: Noted }): JSX.Element {
  const order = inOrder(document);
  const holes = gaps(document);
  return (
    <section aria-labelledby="service-life">
      <h2 id="service-life">The life so far</h2>
      <LifeLine document={document} />
      {order.map(({ period, index }, i) => (
        <div key={index}>
          {holes.filter((gap) => gap.before === index).map((gap) => (
            <GapCard key={gap.from} gap={gap} disabled={locked()} />
          ))}
          <PeriodCard document={document} period={period} index={index} number={i + 1} library={library.value} disabled={locked()} noted={notedAt(noted, `/service/${index}`)} open={order.length === 1} />
        </div>
      ))}
      {holes.filter((gap) => gap.before === null).map((gap) => (
        <GapCard key={gap.from} gap={gap} disabled={locked()} />
      ))}
    </section>
  );
}

/** Where and how it was driven and parked, what comes, and what was measured. */
export function ServiceView(): JSX.Element {
  const document = caseDocument.value;
  const noted = useNotes();
  if (!document) return <p>Open or start a case first.</p>;
  return (
    <div class="service">
      <h1>Service history</h1>
      <p>Heat adds up over the years: where it stood, how it was driven, and where it was parked.</p>
      <CaseProblems noted={noted} />
      <div class="service-columns">
        <Periods document={document} noted={noted} />
        <div>
          <FutureCard document={document} library={library.value} disabled={locked()} noted={notedAt(noted, "/future")} />
          <MeasuredCard document={document} disabled={locked()} noted={notedAt(noted, "/measured")} />
        </div>
      </div>
      <div class="loom-bar">
        <LastChange noted={noted} />
      </div>
    </div>
  );
}
