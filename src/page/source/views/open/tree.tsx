import type { JSX } from "preact";
import { segmentName } from "../estimate/names";
import type { OrderAnswer, TreeNode } from "./answers";
import { aheadWords, changedChoice, choiceWords, seenWord, seenWords } from "./words";

function Branches({ order, node }: { order: OrderAnswer; node: TreeNode }): JSX.Element {
  return (
    <ul class="open-tree">
      {node.branches.map((branch) => (
        <li key={branch.seen.join()}>
          <strong>If found {seenWords(branch.seen)}</strong> ({Math.round(100 * branch.chance)} in 100): <Then order={order} node={branch.next} />
        </li>
      ))}
    </ul>
  );
}

function Stop({ order, node }: { order: OrderAnswer; node: TreeNode }): JSX.Element {
  const changed = changedChoice(order, node.choose);
  return changed ? (
    <>
      stop looking; then <strong>{changed}</strong>
      {Object.keys(node.choose).length > 1 && ", the rest as now"}.
    </>
  ) : (
    <>stop looking; the choice stays as it is now.</>
  );
}

function Then({ order, node }: { order: OrderAnswer; node: TreeNode }): JSX.Element {
  if (node.open === null) return <Stop order={order} node={node} />;
  const handling = order.handling[node.open];
  return (
    <>
      open <strong>{segmentName(node.open)}</strong>
      {handling && <>; treat it as “{seenWord(handling.as)}”</>}.
      <details>
        <summary>After {segmentName(node.open)}</summary>
        <Branches order={order} node={node} />
      </details>
    </>
  );
}

/** What follows from what is seen, as a nested list. */
export function WhatThen({ order }: { order: OrderAnswer }): JSX.Element | null {
  const { tree } = order;
  if (order.looking !== "pays" || tree.root.open === null) return null;
  const ahead = aheadWords(order);
  return (
    <section aria-labelledby="open-then">
      <h2 id="open-then">And then</h2>
      <p>
        Chosen now: {choiceWords(order, order.choice_now)}. After <strong>{segmentName(tree.root.open)}</strong> is open:
      </p>
      <Branches order={order} node={tree.root} />
      {ahead && <p>{ahead}</p>}
      {(!tree.all_looks_kept || tree.thinned) && (
        <p class="open-small">At each step only the best openings were followed{tree.thinned ? `, with ${tree.draws} of the draws` : ""}.</p>
      )}
      <p class="open-small">
        Where bare conductor is seen, what would leave it as it is may no longer be chosen, whatever it costs.
      </p>
    </section>
  );
}
