import type { JSX } from "preact";
import { AssumedList } from "../../parts/assumed_list";
import { Big, type Column, DataTable } from "../../parts";
import { answers } from "../../store/answers";
import { document } from "../../store/job";
import { useWide } from "../../parts/wide";
import { segmentName } from "../estimate/names";
import { chanceWords, counted } from "../estimate/words";
import type { Opening, OrderAnswer } from "./answers";
import { lookAgainWords, money } from "./words";

const coverOf = (id: string): string => document.value?.segments.find((one) => one.id === id)?.cover_group ?? "in the open";

const savingWords = (one: Opening): string => `${Math.round(one.saving)} ± ${Math.round(one.standard_error)}`;

// Minus signs as people write them.
const signed = (amount: number): string => (amount < -0.5 ? `−${Math.round(-amount)}` : amount > 0.5 ? `+${Math.round(amount)}` : "0");

function OpeningTable({ openings, unit, onRecord }: ListProps): JSX.Element {
  const columns: Column<Opening>[] = [
    {
      id: "order", name: "Segment", by: (one) => one.order,
      cell: (one) => (
        <Big class="open-list-name" onPress={() => onRecord(one.id)} label={`${one.order}. ${segmentName(one.id)}: record what was seen`}>
          {one.order}. {segmentName(one.id)}
        </Big>
      ),
    },
    { id: "cracked", name: "Cracked or worse", by: (one) => one.chance_cracked_now, cell: (one) => chanceWords(one.chance_cracked_now) },
    { id: "saves", name: `Saves, ${unit}`, number: true, by: (one) => one.saving, cell: savingWords },
    { id: "minutes", name: "Minutes", number: true, by: (one) => one.minutes, cell: (one) => Math.round(one.minutes) },
    { id: "price", name: `They cost, ${unit}`, number: true, by: (one) => one.price, cell: (one) => Math.round(one.price) },
    { id: "harm", name: `May break, ${unit}`, number: true, by: (one) => one.harm, cell: (one) => Math.round(one.harm) },
    { id: "net", name: `Net, ${unit}`, number: true, by: (one) => one.net, cell: (one) => signed(one.net) },
    { id: "changes", name: "May change the choice", cell: (one) => (one.changes_a_choice ? "yes" : "no") },
    { id: "cover", name: "Below", by: (one) => coverOf(one.id), cell: (one) => coverOf(one.id) },
  ];
  return <DataTable caption="What opening one segment next is worth" quiet columns={columns} rows={openings} sort="order" rowKey={(one) => one.id} />;
}

interface ListProps {
  openings: Opening[];
  unit: string;
  onRecord: (id: string) => unknown;
}

function OpeningList({ openings, unit, onRecord }: ListProps): JSX.Element {
  return (
    <ol class="open-list">
      {openings.map((one) => (
        <li key={one.id} class="card">
          <h3>
            {one.order}. {segmentName(one.id)}
          </h3>
          <p>
            Cracked or worse: {chanceWords(one.chance_cracked_now)}. {counted(Math.round(one.minutes), "minute")}, {coverOf(one.id)}.
          </p>
          <p>
            Saves {savingWords(one)} {unit}; its minutes cost {Math.round(one.price)}, what it may break {Math.round(one.harm)}; net{" "}
            <strong>
              {signed(one.net)} {unit}
            </strong>
            . {one.changes_a_choice ? "May change the choice." : "Changes no choice by itself."}
          </p>
          <Big onPress={() => onRecord(one.id)} label={`I look here: ${segmentName(one.id)}`}>
            I look here
          </Big>
        </li>
      ))}
    </ol>
  );
}

function KeptOut({ order }: { order: OrderAnswer }): JSX.Element | null {
  if (order.kept_out.length === 0) return null;
  return (
    <p class="open-warn">
      <strong>Airbag or belt-tensioner circuits, never in this order and looked at by trained people only:</strong>{" "}
      {order.kept_out.map(segmentName).join(", ")}.
    </p>
  );
}

function LookAgain({ order }: { order: OrderAnswer }): JSX.Element | null {
  const words = lookAgainWords(order, answers.estimate.value.value?.inspected ?? document.value?.inspected ?? "");
  if (words.length === 0) return null;
  return (
    <section aria-labelledby="open-again">
      <h2 id="open-again">Where it stays closed</h2>
      <p>Look again by the time a tenth of the draws crack when handled:</p>
      <ul>
        {words.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
    </section>
  );
}

/** The order of all that is closed, what is kept out of it, and when to look again. */
export function Rest({ order, onRecord }: { order: OrderAnswer; onRecord: (id: string) => unknown }): JSX.Element {
  const wide = useWide(52);
  const unit = money(0, order.unit).slice(2);
  const props: ListProps = { openings: order.openings, unit, onRecord };
  return (
    <>
      <KeptOut order={order} />
      {order.openings.length > 0 && (
        <details>
          <summary>All that is closed, by what opening it next is worth ({order.openings.length})</summary>
          <p>One step ahead, in {unit}: what it is expected to save, and what it costs.</p>
          {wide ? <OpeningTable {...props} /> : <OpeningList {...props} />}
        </details>
      )}
      <LookAgain order={order} />
      <details>
        <summary>Assumed of costs and of everything else ({order.assumptions.length})</summary>
        <AssumedList list={order.assumptions} />
      </details>
    </>
  );
}
