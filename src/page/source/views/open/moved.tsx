import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Big, ConditionMark, Problems, say } from "../../parts";
import { answers } from "../../store/answers";
import { document, readonly } from "../../store/job";
import { type Estimated, segmentsOf } from "../estimate/answers";
import { Moved } from "../estimate/change_words";
import { DrawsLine } from "../estimate/draws_line";
import { segmentName } from "../estimate/names";
import type { OrderAnswer } from "./answers";
import { currentDeed, lastEntry, takeBack } from "./deeds";

const most = 5;
const least = 0.005; // what whole per cents do not show has not moved

interface Pair {
  before: Estimated;
  now: Estimated;
}

// The segments that moved most first; those whose likeliest condition changed count as moved.
function movedMost(before: Estimated[], now: Estimated[]): Pair[] {
  const earlier = new Map(before.map((one) => [one.id, one]));
  const by = ({ before: then, now: is }: Pair): number => Math.abs(is.chance_cracked_now - then.chance_cracked_now);
  const turned = ({ before: then, now: is }: Pair): boolean => then.condition.most_likely !== is.condition.most_likely;
  return now
    .flatMap((one) => {
      const then = earlier.get(one.id);
      return then ? [{ before: then, now: one }] : [];
    })
    .filter((pair) => by(pair) >= least || turned(pair))
    .sort((a, b) => by(b) - by(a));
}

function PairRow({ before, now }: Pair): JSX.Element {
  return (
    <li>
      <strong>{segmentName(now.id)}</strong>
      <br />
      <Moved move={{ before: before.chance_cracked_now, now: now.chance_cracked_now }} />
      {before.condition.most_likely !== now.condition.most_likely && (
        <span class="open-turned">
          Likeliest: <ConditionMark condition={before.condition.most_likely} /> → <ConditionMark condition={now.condition.most_likely} />
        </span>
      )}
    </li>
  );
}

export function TakeBack({ words }: { words: string }): JSX.Element {
  const [wrong, setWrong] = useState<unknown>(null);
  const [working, setWorking] = useState(false);
  async function press(): Promise<void> {
    setWrong(null);
    setWorking(true);
    try {
      await takeBack(words);
      say(`Taken back: ${words}.`);
    } catch (error) {
      setWrong(error);
    } finally {
      setWorking(false);
    }
  }
  return (
    <>
      <Big disabled={readonly.value || working} onPress={press}>
        Take it back<span class="spoken">: {words}</span>
      </Big>
      <Problems problems={wrong} />
    </>
  );
}

const nextWords = (order: OrderAnswer): string =>
  order.looking === "pays" && order.tree.root.open !== null ? `Open next: ${segmentName(order.tree.root.open)}.` : "Stop looking: see below.";

const titles: Record<string, string> = { recorded: "Recorded", "taken-back": "Taken back" };

/** What the last finding, or taking it back, has moved: before and after. */
export function WhatMoved({ order, onNext }: { order: OrderAnswer | null; onNext: () => unknown }): JSX.Element | null {
  const deed = currentDeed();
  const estimate = answers.estimate.value;
  const fresh = deed !== null && estimate.value !== null && estimate.value !== deed.estimateBefore && estimate.before !== null;
  const pairs = fresh && estimate.value && estimate.before ? movedMost(segmentsOf(estimate.before), segmentsOf(estimate.value)) : [];
  const title = useRef<HTMLHeadingElement>(null);
  const next = order ? nextWords(order) : "";
  useEffect(() => title.current?.focus(), [deed?.step]);
  useEffect(() => {
    if (!deed || !fresh || !next) return;
    const words = pairs.slice(0, 2).map((pair) => segmentName(pair.now.id));
    say(`${pairs.length === 0 ? "No segment moved." : `${pairs.length} segments moved, most: ${words.join(", ")}.`} ${next}`);
  }, [deed?.step, fresh, next]);
  if (!deed || deed.reply.what !== "finding") return null;
  const entry = document.value && lastEntry(document.value);
  return (
    <section class="card open-moved" aria-labelledby="open-moved">
      <h2 id="open-moved" ref={title} tabIndex={-1}>
        {titles[deed.reply.did] ?? "Done"}: {deed.words.replace(/^Taken back: /, "")}
      </h2>
      {!fresh && estimate.state !== "refused" && <p role="status">Everything is estimated again…</p>}
      {fresh && pairs.length === 0 && <p>No segment moved by as much as 1 in 100.</p>}
      {pairs.length > 0 && (
        <ul class="open-pairs">
          {pairs.slice(0, most).map((pair) => (
            <PairRow key={pair.now.id} {...pair} />
          ))}
        </ul>
      )}
      {pairs.length > most && <p>And {pairs.length - most} more moved less: see Estimate.</p>}
      {fresh && next && <p class="open-strong">{next}</p>}
      {fresh && <DrawsLine answer={estimate} />}
      {deed.reply.prediction && deed.reply.did === "recorded" && (
        <p class="open-small">Stored before it: what the model said of all segments, so that it can be compared with what is found.</p>
      )}
      {deed.reply.assumptions.map((one) => (
        <p key={one.at} class="open-small">
          Assumed: {one.text} [{one.grade}]
        </p>
      ))}
      <div class="row">
        {fresh && next && (
          <Big primary onPress={onNext}>
            Go on
          </Big>
        )}
        {deed.reply.did === "recorded" && entry?.did === "finding" && <TakeBack words={deed.words} />}
      </div>
    </section>
  );
}
