import type { ComponentChildren, JSX } from "preact";
import { Big } from "../../parts/big";
import type { Offer } from "./answers";
import { CostRange, afterWords, leadWords, workWords } from "./cost_words";
import { type Kinds, aboutOf, staysInOf } from "./kinds";
import { cracksWhen, money, percent, tellsStops, whatGoesIn } from "./words";

export interface OfferProps {
  offer: Offer;
  best: boolean;
  scale: number;
  unit: string;
  kinds: Kinds;
  insulationName: (id: string) => string;
  segmentName: (id: string) => string;
  onEdit?: (offer: Offer) => void;
  onPlan: (offer: Offer) => void;
}

export function Marks({ offer, best }: { offer: Offer; best: boolean }): JSX.Element {
  return (
    <>
      {best && <p class="remedies-mark is-best">✓ Advised</p>}
      {!offer.allowed && (
        <div class="remedies-mark is-struck">
          <p>
            <strong>✕ Struck out.</strong> A rule that no price overrides:
          </p>
          <ul>
            {offer.struck_out.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </div>
      )}
      {offer.conditions.length > 0 && (
        <ul class="remedies-first">
          {offer.conditions.map((condition) => (
            <li key={condition}>
              <strong>First:</strong> {condition}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

export function LeftIn({ offer, kinds, segmentName }: Pick<OfferProps, "offer" | "kinds" | "segmentName">): JSX.Element {
  return (
    <>
      <p>{staysInOf(kinds, offer.kind)}</p>
      {offer.weakest_left_in && (
        <p>
          Weakest of the old: {segmentName(offer.weakest_left_in.id)}, {cracksWhen(offer.weakest_left_in.flex_cracks)}.
        </p>
      )}
      {offer.weakest.renewed && (
        <p>
          Weakest of the new: {segmentName(offer.weakest.id)}, {cracksWhen(offer.weakest.flex_cracks)}.
        </p>
      )}
    </>
  );
}

export function OfferActions({ offer, onEdit, onPlan }: Pick<OfferProps, "offer" | "onEdit" | "onPlan">): JSX.Element {
  return (
    <div class="remedies-actions">
      {offer.kind !== "leave" && onEdit && (
        <Big onPress={() => onEdit(offer)}>
          Change <span class="spoken">of {offer.name}</span>
        </Big>
      )}
      {offer.allowed && (
        <Big onPress={() => onPlan(offer)}>
          Plan of work <span class="spoken">of {offer.name}</span>
        </Big>
      )}
    </div>
  );
}

/** One remedy on a narrow screen. */
export function OfferCard(props: OfferProps): JSX.Element {
  const { offer, best, scale, unit, kinds } = props;
  const goesIn = whatGoesIn(offer, props.insulationName);
  return (
    <li class={`remedies-card${best ? " is-best" : ""}${offer.allowed ? "" : " is-struck"}`}>
      <h3>
        {offer.name} <span class="remedies-id">{offer.id}</span>
      </h3>
      <Marks offer={offer} best={best} />
      <CostRange offer={offer} scale={scale} unit={unit} />
      <dl class="remedies-facts">
        <Fact term="Parts">{money(offer.cost.parts, unit)}</Fact>
        <Fact term="Work">{workWords(offer, unit)}</Fact>
        <Fact term={tellsStops(offer) ? "Chance of a stop" : "Chance of a fault"}>{afterWords(offer, unit)}</Fact>
        <Fact term="Turns out cheapest">in {percent(offer.chance_cheapest)} of futures</Fact>
        <Fact term="Stays in" long>
          <LeftIn offer={offer} kinds={kinds} segmentName={props.segmentName} />
        </Fact>
      </dl>
      <details>
        <summary>
          More about it <span class="spoken">: {offer.name}</span>
        </summary>
        <p>{aboutOf(kinds, offer.kind)}</p>
        {goesIn && <p>{goesIn}.</p>}
        <dl class="remedies-facts">
          <Fact term="What the work breaks in brittle neighbours">{money(offer.cost.breaks, unit)}</Fact>
          <Fact term="Faults still to come">{money(offer.cost.faults, unit)}</Fact>
          <Fact term="At hand">{leadWords(offer)}</Fact>
        </dl>
      </details>
      <OfferActions offer={offer} onEdit={props.onEdit} onPlan={props.onPlan} />
    </li>
  );
}

interface FactProps {
  term: string;
  long?: boolean; // takes the whole width
  children: ComponentChildren;
}

function Fact({ term, long, children }: FactProps): JSX.Element {
  return (
    <div class={long ? "is-long" : undefined}>
      <dt>{term}</dt>
      <dd>{children}</dd>
    </div>
  );
}

