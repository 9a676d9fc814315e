import type { JSX } from "preact";
import type { Offer, Question, RemediesAnswer } from "./answers";
import { Bar } from "./bar";
import { counted, faultChance, money, percent, roundedMoney, tellsStops, unitWord } from "./words";

/** The scale that the bars of one choice share. What rules strike out may lie far beyond it. */
export function scaleOf(question: Question): number {
  const tops = question.remedies.filter((offer) => offer.allowed).map((offer) => offer.cost.p95);
  const all = question.remedies.map((offer) => offer.cost.p95);
  return Math.max(1, ...(tops.length > 0 ? tops : all)) * 1.05;
}

export function CostRange({ offer, scale, unit }: { offer: Offer; scale: number; unit: string }): JSX.Element {
  const { expected, p5, p95 } = offer.cost;
  return (
    <div class="remedies-cost">
      <p>
        <strong class="remedies-expected">{money(expected, unit)}</strong> expected
      </p>
      <Bar low={p5} mark={expected} high={p95} to={scale} />
      <p>
        {roundedMoney(p5) === roundedMoney(p95) ? "" : `${roundedMoney(p5)} to `}
        {money(p95, unit)} in nine of ten futures
      </p>
    </div>
  );
}

/** All costs of one choice on one scale, as a phone can show them. */
export function Glance({ question, scale, unit }: { question: Question; scale: number; unit: string }): JSX.Element {
  const mark = (offer: Offer): string => {
    if (offer.id === question.best) return "✓ advised";
    return offer.allowed ? "" : "✕ struck out";
  };
  return (
    <ul class="remedies-glance">
      {question.remedies.map((offer) => (
        <li key={offer.id}>
          <p>
            <b>{offer.name}</b> {mark(offer) && <span class="remedies-glance-mark">{mark(offer)}</span>}
            <span class="remedies-glance-cost">{money(offer.cost.expected, unit)}</span>
          </p>
          <Bar low={offer.cost.p5} mark={offer.cost.expected} high={offer.cost.p95} to={scale} />
        </li>
      ))}
    </ul>
  );
}

export function workWords(offer: Offer, unit: string): string {
  if (offer.kind === "leave") return money(offer.cost.work, unit);
  return `${money(offer.cost.work, unit)}, ${Math.round(offer.minutes)} min`;
}

export function leadWords(offer: Offer): string {
  if (offer.kind === "leave") return "nothing to wait for";
  if (offer.lead_days < 0.5) return "at once";
  return `in ${counted(Math.round(offer.lead_days), "day", "days")}; the old stays in until then`;
}

/** What follows the first fault where old insulation is left in. */
export function afterWords(offer: Offer, unit: string): string {
  const chance = percent(faultChance(offer));
  if (offer.after_the_first_fault.length === 0) return chance;
  const after = offer.after_the_first_fault.map((one) => {
    const where = offer.after_the_first_fault.length > 1 ? `loom ${one.looms.join(" and ")}: ` : "";
    return `${where}${one.renewal}, ${money(one.price, unit)}`;
  });
  return `${chance}; after the first fault follows ${after.join("; ")}`;
}

/** Why no chance of a stop is given, where none is. */
export function StopNote({ offer, answer }: { offer: Offer; answer: RemediesAnswer }): JSX.Element {
  const stop = offer.chance_of_a_stop;
  const scale = `All costs in ${unitWord(answer.unit)}, over ${counted(answer.horizon_years, "year", "years")}.`;
  if (tellsStops(offer)) return <p class="remedies-note">{scale}</p>;
  const why = stop
    ? `functions are known in ${stop.segments_counted} of ${stop.segments} segments only. Elsewhere`
    : "the case lists no circuits with a function that the library knows.";
  return (
    <p class="remedies-note">
      {scale} No chance of a stop on the road is given: {why} {stop ? "every" : "Every"} bare-wire fault counts as if it
      stopped the vehicle.
    </p>
  );
}
