import type { JSX } from "preact";
import type { EstimateAnswer } from "../../store/estimate_answer";
import { Big, ConditionMark, type Fact, Facts, Range, Sheet } from "../../parts";
import { goTo } from "../../places";
import { chosenPlace } from "../open/chosen";
import { type Estimated, segmentsOf } from "./answers";
import { Moved } from "./change_words";
import { ChanceBars } from "./chances";
import { Curves } from "./curves";
import { insulationName, lotName, zoneName } from "./names";
import { chanceWords, crackedOf, likeliest, percent, reachedWords, spanWords, spreadWords } from "./words";

const whole = 300; // % of elongation that the bar shows

function compoundWords(segment: Estimated): JSX.Element {
  const name = insulationName(segment.insulation);
  if (segment.compound_known) return <>{name}: stated in the case.</>;
  return (
    <>
      Not known; likeliest: {name}, {chanceWords(segment.compound_chance)}. The chances above count every candidate.
    </>
  );
}

function worstWords(segment: Estimated): string {
  const where = segment.worst_at_m === null ? "" : `, worst ${segment.worst_at_m.toFixed(2)} m from its start`;
  return `${zoneName(segment.zone)}${where}`;
}

function gradeWords(segment: Estimated, answer: EstimateAnswer): string {
  const wanted = new Set([segment.insulation, segment.zone]);
  const records = answer.rests_on.filter((one) => wanted.has(one.id) && ["insulation", "zone"].includes(one.kind));
  if (records.length === 0) return "no record of the library";
  return records.map((one) => `${one.kind} ${one.name}: ${one.weakest_grade}`).join("; ");
}

function factsOf(segment: Estimated, answer: EstimateAnswer): Fact[] {
  const { flex_cracks, cracked } = segment.remaining_years;
  const { running, soak, parked } = segment.damage_share;
  return [
    ["Cracks when bent", `${reachedWords(flex_cracks.p50)} (${spanWords(flex_cracks)})`],
    ["Cracked as it lies", `${reachedWords(cracked.p50)} (${spanWords(cracked)})`],
    ["Worst place", worstWords(segment)],
    ["Wires that are worst", lotName(segment.lot)],
    ["Compound", compoundWords(segment)],
    ["What matters most", `${spreadWords(segment.spread, 5)}: knowing this better would narrow it most`],
    [
      "Where the ageing came from",
      `${percent(running)} while running, ${percent(soak)} in the hot soak after key-off, ${percent(parked)} parked cold; as much as ${Math.round(segment.equivalent_temperature_Cel)} °C held all the time`,
    ],
    ["The weakest number behind it", gradeWords(segment, answer)],
  ];
}

function Before({ segment }: { segment: Estimated }): JSX.Element | null {
  if (!segment.before) return null;
  const then = likeliest(segment.before.chance);
  return (
    <section>
      <h3>What the findings changed</h3>
      <p>
        <Moved move={{ before: crackedOf(segment.before.chance), now: segment.chance_cracked_now }} />
      </p>
      <p>
        Likeliest without them: <ConditionMark condition={then} />, now <ConditionMark condition={segment.condition.most_likely} />.
      </p>
    </section>
  );
}

/** Everything that is known of one segment. */
export function SegmentSheet({ id, answer, onClose }: { id: string; answer: EstimateAnswer; onClose: () => void }): JSX.Element {
  const segment = segmentsOf(answer).find((one) => one.id === id);
  const name = segment?.name || id;
  const look = (): void => {
    chosenPlace.value = id;
    onClose();
    // The entry of this panel in the history goes first.
    setTimeout(() => goTo("open"), 60);
  };
  return (
    <Sheet title={name} onClose={onClose}>
      {segment ? (
        <>
          {segment.guarded && (
            <p class="estimate-warn">
              <strong>Supple gives little warning here:</strong> this compound feels sound until shortly before it cracks.
            </p>
          )}
          <h3>Condition now</h3>
          <ChanceBars chances={segment.condition.chance} />
          <Before segment={segment} />
          <Range label="Elongation at break that is left" unit="%" from={0} to={whole} {...segment.elongation_percent} />
          <Facts rows={factsOf(segment, answer)} />
          <div class="row">
            <Big primary onPress={look}>
              Record what was seen here
            </Big>
          </div>
          <h3>Curves</h3>
          <Curves segment={id} name={name} />
        </>
      ) : (
        <p>The case has no such segment any more.</p>
      )}
    </Sheet>
  );
}
