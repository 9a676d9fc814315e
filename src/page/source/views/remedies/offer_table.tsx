import type { JSX } from "preact";
import { CostRange, afterWords, leadWords } from "./cost_words";
import { LeftIn, Marks, OfferActions, type OfferProps } from "./offer_card";
import { percent, roundedMoney, tellsStops, unitWord, whatGoesIn } from "./words";

/** All remedies of one choice side by side, where there is room for a table. */
export function OfferTable({ caption, rows }: { caption: string; rows: OfferProps[] }): JSX.Element {
  const first = rows[0];
  return (
    <div class="table-box" role="region" aria-label={caption} tabIndex={0}>
      <table class="remedies-table">
        <caption>
          {caption}, in {unitWord(first?.unit ?? "")}
        </caption>
        <thead>
          <tr>
            <th scope="col">Remedy</th>
            <th scope="col">Cost, with nine of ten futures</th>
            <th scope="col">Parts</th>
            <th scope="col">Work</th>
            <th scope="col">Breaks</th>
            <th scope="col">Faults to come</th>
            <th scope="col">{first && tellsStops(first.offer) ? "Chance of a stop" : "Chance of a fault"}</th>
            <th scope="col">Turns out cheapest</th>
            <th scope="col">Stays in</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <OfferRow key={row.offer.id} {...row} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function OfferRow(props: OfferProps): JSX.Element {
  const { offer, best, scale, unit } = props;
  const goesIn = whatGoesIn(offer, props.insulationName);
  return (
    <tr class={`${best ? "is-best" : ""}${offer.allowed ? "" : " is-struck"}`}>
      <th scope="row">
        <span class="remedies-name">{offer.name}</span> <span class="remedies-id">{offer.id}</span>
        <Marks offer={offer} best={best} />
        {goesIn && <p>{goesIn}.</p>}
        {offer.kind !== "leave" && <p>At hand {leadWords(offer)}.</p>}
        <OfferActions offer={offer} onEdit={props.onEdit} onPlan={props.onPlan} />
      </th>
      <td>
        <CostRange offer={offer} scale={scale} unit={unit} />
      </td>
      <td class="is-number">{roundedMoney(offer.cost.parts)}</td>
      <td class="is-number">
        {roundedMoney(offer.cost.work)}
        {offer.kind !== "leave" && <p>{Math.round(offer.minutes)} min</p>}
      </td>
      <td class="is-number">{roundedMoney(offer.cost.breaks)}</td>
      <td class="is-number">{roundedMoney(offer.cost.faults)}</td>
      <td>{afterWords(offer, unit)}</td>
      <td class="is-number">{percent(offer.chance_cheapest)}</td>
      <td class="is-words">
        <LeftIn offer={offer} kinds={props.kinds} segmentName={props.segmentName} />
      </td>
    </tr>
  );
}
