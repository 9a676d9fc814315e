import type { JSX } from "preact";
import { nameOf } from "../../case/document";
import type { Segment } from "../../case/document";
import { Big, Cautions, ConditionSwatch, type Fact, Facts } from "../../parts";
import { document, library } from "../../store/job";
import { segmentName, zoneName } from "../estimate/names";
import { capital, chanceWords, counted, listed } from "../estimate/words";
import type { Handling, OrderAnswer } from "./answers";
import { money, reasonWords, seenWord, stopWords } from "./words";

/** How to touch it until it is seen. */
export function HandlingAdvice({ handling }: { handling: Handling }): JSX.Element {
  const worse = handling.as === "crumbling" ? "" : " or worse";
  return (
    <div class="open-warn">
      <p class="open-as">
        <ConditionSwatch condition={handling.as} />
        <strong>Treat it as “{seenWord(handling.as)}” until it is seen</strong>
      </p>
      <p>
        {Math.round(100 * handling.chance)} in 100 that it is that{worse}. {capital(handling.advice)}.
      </p>
    </div>
  );
}

/** What is not opened is not claimed. */
function NotOpened({ closed }: { closed: string[] }): JSX.Element | null {
  if (closed.length === 0) return null;
  return (
    <details>
      <summary>Not opened, nothing claimed: {counted(closed.length, "segment")}</summary>
      <p>{closed.map(segmentName).join("; ")}.</p>
    </details>
  );
}

const nodeName = (id: string): string => nameOf(document.value?.nodes.find((one) => one.id === id), id);

/** Where a segment lies and what has to come off. */
export function wayTo(segment: Segment): Fact[] {
  const zones = [...new Set(segment.stretches.map((one) => zoneName(one.zone)))];
  return [
    ["Where", `from ${nodeName(segment.from)} to ${nodeName(segment.to)}; ${zones.join("; ")}`],
    ["To get there", segment.cover_group ? `take off: ${segment.cover_group}` : "in the open: nothing comes off"],
  ];
}

function factsOf(order: OrderAnswer, id: string): Fact[] {
  const segment = document.value?.segments.find((one) => one.id === id);
  const opening = order.openings.find((one) => one.id === id);
  const facts: Fact[] = segment ? wayTo(segment) : [];
  if (opening) {
    facts.push(["Time", counted(Math.round(opening.minutes), "minute")]);
    facts.push(["Cracked or worse now", chanceWords(opening.chance_cracked_now)]);
    facts.push([
      "Opening it costs",
      `${money(opening.price, order.unit)} for the minutes, and ${money(opening.harm, order.unit)} expected for what it may break`,
    ]);
  }
  return facts;
}

function FirstOpening({ order, id, onRecord }: { order: OrderAnswer; id: string; onRecord: () => unknown }): JSX.Element {
  const handling = order.handling[id];
  const before = library.value?.methods.find((one) => one.id === order.method)?.before ?? [];
  return (
    <>
      <h2 id="open-next" tabIndex={-1}>
        Open next: <span class="open-place">{segmentName(id)}</span>
      </h2>
      <p>{reasonWords(order)}</p>
      {handling && <HandlingAdvice handling={handling} />}
      <Facts rows={factsOf(order, id)} />
      {before.length > 0 && (
        <ul>
          {before.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      <Cautions cautions={order.cautions} />
      <Big primary class="open-wide" onPress={onRecord}>
        Record what is seen here
      </Big>
    </>
  );
}

interface OpenNextProps {
  order: OrderAnswer;
  /** Segments that were not opened. */
  closed: string[];
  onRecord: (id: string) => unknown;
}

/** What to open next and why, or why to stop. */
export function OpenNext({ order, closed, onRecord }: OpenNextProps): JSX.Element {
  const first = order.looking === "pays" ? order.tree.root.open : null;
  return (
    <section class="card open-next" aria-labelledby="open-next">
      {order.found_bare.length > 0 && (
        <p class="open-warn">
          <strong>Bare conductor was seen at {listed(order.found_bare.map((one) => segmentName(one.id)))}:</strong> it is mended before power
          comes back.
        </p>
      )}
      {first === null ? (
        <>
          <h2 id="open-next" tabIndex={-1}>Stop looking</h2>
          <p>{stopWords(order, document.value?.segments.length ?? 0)}</p>
          <Cautions cautions={order.cautions} />
        </>
      ) : (
        <FirstOpening order={order} id={first} onRecord={() => onRecord(first)} />
      )}
      <NotOpened closed={closed} />
    </section>
  );
}
