import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { Big, Cautions, Choice, Gate, conditionWord } from "../../parts";
import { answers } from "../../store/answers";
import type { EstimateAnswer } from "../../store/estimate_answer";
import { useWide } from "../../parts/wide";
import { Ahead } from "./ahead";
import { type Estimated, segmentsOf } from "./answers";
import type { Move } from "./change_words";
import { DrawsLine } from "./draws_line";
import { Grounds, LearnedLine, Warnings } from "./grounds";
import { LoomDrawing } from "./loom_drawing";
import { Mend } from "./mend";
import { SegmentCards, SegmentTable } from "./segment_list";
import { SegmentSheet } from "./segment_sheet";
import "./style.css";
import { chanceWords, crackedOf, reachedWords } from "./words";

function firstWords(segment: Estimated | undefined): string {
  if (!segment) return "The case has no segment.";
  const when = reachedWords(segment.remaining_years.flex_cracks.p50);
  return `First to crack when bent: ${segment.name || segment.id}, ${when}.`;
}

type Against = "findings" | "change";

// What a segment is compared with: the estimate without any finding, or the one before the last change of the case.
function movesOf(against: Against, before: EstimateAnswer | null): (segment: Estimated) => Move | null {
  const earlier = new Map((before ? segmentsOf(before) : []).map((one) => [one.id, one.chance_cracked_now]));
  return (segment) => {
    const then = against === "change" ? earlier.get(segment.id) : segment.before ? crackedOf(segment.before.chance) : undefined;
    return then === undefined ? null : { before: then, now: segment.chance_cracked_now };
  };
}

interface ComparedProps {
  against: Against;
  onChange: (against: Against) => void;
  findings: boolean;
  change: boolean;
}

function Compared({ against, onChange, findings, change }: ComparedProps): JSX.Element | null {
  if (!findings && !change) return null;
  const options = [
    { id: "findings", name: "without any finding", disabled: !findings },
    { id: "change", name: "before the last change", disabled: !change },
  ];
  return <Choice label="Compare with the estimate" options={options} value={against} onChange={(id: string) => onChange(id as Against)} />;
}

function Estimate({ answer, before }: { answer: EstimateAnswer; before: EstimateAnswer | null }): JSX.Element {
  const wide = useWide(52);
  const [opened, setOpened] = useState<string | null>(null);
  const segments = segmentsOf(answer);
  const findings = segments.some((one) => one.before);
  const [wanted, setWanted] = useState<Against>("findings");
  const against = wanted === "change" && before ? "change" : findings ? "findings" : "change";
  const list = useRef<HTMLHeadingElement>(null);
  const byId = new Map(segments.map((one) => [one.id, one]));
  const spoken = (id: string): string => {
    const one = byId.get(id);
    return one ? `${conditionWord(one.condition.most_likely)}, cracked or worse ${chanceWords(one.chance_cracked_now)}` : "";
  };
  const props = {
    segments,
    moveOf: movesOf(against, before),
    moveTitle: against === "change" ? "Since the last change" : "By what was found",
    onOpen: setOpened,
  };
  return (
    <>
      <p class="estimate-first">{firstWords(segments[0])}</p>
      <LearnedLine answer={answer} />
      <Warnings answer={answer} />
      <Compared against={against} onChange={setWanted} findings={findings} change={before !== null} />
      <div class="estimate-both">
        <section aria-labelledby="estimate-drawing">
          <h2 id="estimate-drawing">The looms</h2>
          <p>Press a segment for all that is known of it. Lengths are not to scale.</p>
          {!wide && <Big onPress={() => list.current?.focus()}>To the list of segments</Big>}
          <LoomDrawing label="The looms by what has to come off to reach them" wordsOf={spoken} chosen={opened ?? undefined} onSegment={setOpened} />
        </section>
        <section aria-labelledby="estimate-list">
          <h2 id="estimate-list" ref={list} tabIndex={-1}>
            Segments, weakest first
          </h2>
          {wide ? <SegmentTable {...props} /> : <SegmentCards {...props} />}
        </section>
      </div>
      <Ahead />
      <Grounds answer={answer} />
      {opened && <SegmentSheet id={opened} answer={answer} onClose={() => setOpened(null)} />}
    </>
  );
}

/** How far heat has aged each segment. */
export function EstimateView(): JSX.Element {
  const answer = answers.estimate.value;
  return (
    <div class="estimate">
      <h1>Estimate</h1>
      {answer.state === "refused" && <Mend problems={answer.problems} here="estimate" title="This case gives no estimate yet" />}
      <Gate>
        <Cautions />
        {answer.value?.invented && <p>Invented scenario: an example, not a vehicle.</p>}
        {answer.state === "working" && !answer.value && <p role="status">Working it out…</p>}
        <DrawsLine answer={answer} />
        {answer.value && <Estimate answer={answer.value} before={answer.before} />}
      </Gate>
    </div>
  );
}
