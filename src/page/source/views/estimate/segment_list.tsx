import type { JSX } from "preact";
import type { Quantiles } from "../../engine/answers";
import { Big, type Column, ConditionMark, DataTable } from "../../parts";
import type { Estimated } from "./answers";
import { type Move, Moved } from "./change_words";
import { chanceWords, reachedWords, spanWords, spreadWords } from "./words";

export interface SegmentListProps {
  segments: Estimated[];
  moveOf: (segment: Estimated) => Move | null;
  moveTitle: string;
  onOpen: (id: string) => unknown;
}

const stateOf = (segment: Estimated): number => segment.condition.chance[segment.condition.most_likely] ?? 0;

function Life({ life }: { life: Quantiles }): JSX.Element {
  return (
    <>
      <strong>{reachedWords(life.p50)}</strong> <small>({spanWords(life)})</small>
    </>
  );
}

function columnsOf({ segments, moveOf, moveTitle, onOpen }: SegmentListProps): Column<Estimated>[] {
  const columns: Column<Estimated>[] = [
    {
      id: "rank", name: "Segment", by: (one) => one.weakest_rank,
      cell: (one) => (
        <Big class="estimate-open" onPress={() => onOpen(one.id)}>
          {one.weakest_rank}. {one.name || one.id}
        </Big>
      ),
    },
    {
      id: "now", name: "Now", by: (one) => one.chance_cracked_now,
      cell: (one) => (
        <>
          <ConditionMark condition={one.condition.most_likely} />
          <br />
          {chanceWords(stateOf(one))}
          <br />
          <small>cracked or worse: {chanceWords(one.chance_cracked_now)}</small>
        </>
      ),
    },
    { id: "flex", name: "Cracks when bent", by: (one) => one.remaining_years.flex_cracks.p50, cell: (one) => <Life life={one.remaining_years.flex_cracks} /> },
    { id: "cracked", name: "Cracked as it lies", by: (one) => one.remaining_years.cracked.p50, cell: (one) => <Life life={one.remaining_years.cracked} /> },
    { id: "spread", name: "Spread from", cell: (one) => <small>{spreadWords(one.spread)}</small> },
  ];
  if (segments.some((one) => moveOf(one))) {
    columns.splice(2, 0, {
      id: "moved", name: moveTitle,
      by: (one) => {
        const move = moveOf(one);
        return move ? move.now - move.before : 0;
      },
      cell: (one) => {
        const move = moveOf(one);
        return move ? <Moved move={move} /> : "–";
      },
    });
  }
  return columns;
}

/** Where there is room: a table. */
export function SegmentTable(props: SegmentListProps): JSX.Element {
  return (
    <DataTable caption="All segments, weakest first" quiet sort="rank" rowKey={(one) => one.id} columns={columnsOf(props)} rows={props.segments} />
  );
}

function SegmentCard({ segment, move, onOpen }: { segment: Estimated; move: Move | null; onOpen: () => unknown }): JSX.Element {
  const { flex_cracks, cracked } = segment.remaining_years;
  return (
    <li class="card estimate-card">
      <h3>
        <Big class="estimate-open" onPress={onOpen}>
          {segment.weakest_rank}. {segment.name || segment.id} <span aria-hidden="true">›</span>
        </Big>
      </h3>
      <p>
        <ConditionMark condition={segment.condition.most_likely} />, {chanceWords(stateOf(segment))}; cracked or worse:{" "}
        {chanceWords(segment.chance_cracked_now)}
      </p>
      {move && (
        <p>
          <Moved move={move} />
        </p>
      )}
      <p>
        Cracks when bent: <Life life={flex_cracks} />
      </p>
      <p>
        Cracked as it lies: <Life life={cracked} />
      </p>
      <p class="estimate-small">The spread comes from: {spreadWords(segment.spread)}.</p>
    </li>
  );
}

/** On a phone: the same as cards, as a table of this width would have to be pushed about. */
export function SegmentCards({ segments, moveOf, onOpen }: SegmentListProps): JSX.Element {
  return (
    <ol class="estimate-cards">
      {segments.map((segment) => (
        <SegmentCard key={segment.id} segment={segment} move={moveOf(segment)} onOpen={() => onOpen(segment.id)} />
      ))}
    </ol>
  );
}
