import type { JSX } from "preact";
import { Gate } from "../../parts";
import { answers, useAnswer } from "../../store/answers";
import type { CaseDocument } from "../../case/document";
import { document, library } from "../../store/job";
import { DrawsLine } from "../estimate/draws_line";
import { Mend } from "../estimate/mend";
import type { OrderAnswer } from "./answers";
import { chosenPlace } from "./chosen";
import { Findings } from "./findings";
import { lastMethod } from "./finding_draft";
import { WhatMoved } from "./moved";
import { OpenNext } from "./next";
import { Owner } from "./owner";
import { RecordForm } from "./record_form";
import { Rest } from "./rest";
import { StepZero } from "./step_zero";
import "./style.css";
import { WhatThen } from "./tree";

// Segments that nobody opened: those seen only from outside are among them.
function closedIn(of: CaseDocument): string[] {
  const opening = new Set((library.value?.methods ?? []).filter((one) => one.opens).map((one) => one.id));
  const opened = new Set((of.findings ?? []).filter((one) => opening.has(one.method ?? "")).map((one) => one.segment));
  return of.segments.map((one) => one.id).filter((id) => !opened.has(id));
}

function show(id: "open-next" | "open-record"): void {
  const title = window.document.getElementById(id);
  title?.scrollIntoView({ block: "start" });
  title?.focus({ preventScroll: true });
}

function OpenOrder({ order, of }: { order: OrderAnswer | null; of: CaseDocument }): JSX.Element {
  const first = order?.looking === "pays" ? order.tree.root.open : null;
  const ids = new Set(of.segments.map((one) => one.id));
  const place = [chosenPlace.value, first, order?.openings[0]?.id, of.segments[0]?.id].find((id) => id && ids.has(id)) ?? "";
  const look = (id: string): void => {
    chosenPlace.value = id === first ? null : id;
    show("open-record");
  };
  const lookOutside = (): void => {
    lastMethod.value = library.value?.methods.find((one) => one.gives === "seen" && !one.opens)?.id ?? null;
    show("open-record");
  };
  return (
    <>
      <WhatMoved order={order} onNext={() => show("open-next")} />
      {order && <StepZero order={order} onRecord={lookOutside} />}
      {order && <Owner order={order} />}
      <div class="open-both">
        {order && <OpenNext order={order} closed={closedIn(of)} onRecord={look} />}
        <RecordForm
          order={order} place={place} first={first} onPlace={(id) => (chosenPlace.value = id)}
          onRecorded={() => (chosenPlace.value = null)}
        />
      </div>
      {order && <WhatThen order={order} />}
      {order && <Rest order={order} onRecord={look} />}
      <Findings />
    </>
  );
}

/** Where to open next, and what was seen there. */
export function OpenView(): JSX.Element {
  const order = useAnswer<OrderAnswer>("order").value;
  const of = document.value;
  const problems = order.state === "refused" ? order.problems : answers.estimate.value.problems;
  return (
    <div class="open">
      <h1>Open next</h1>
      {problems.length > 0 && <Mend problems={problems} here="open" title="This case gives no order yet" />}
      <Gate>
        {order.state === "working" && !order.value && <p role="status">The order is worked out…</p>}
        <DrawsLine answer={order} />
        {of && <OpenOrder order={order.value} of={of} />}
      </Gate>
    </div>
  );
}
