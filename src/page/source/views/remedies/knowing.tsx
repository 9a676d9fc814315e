import type { JSX } from "preact";
import type { Question, RemediesAnswer, UsedPart } from "./answers";
import { faultWord, money, percent } from "./words";

const most = 3;
const mostTimes = 10; // what nobody would put on a stop is left out

/** The cost of a stop or fault at which the choice changes. */
export function BreakEven({ question, answer }: { question: Question; answer: RemediesAnswer }): JSX.Element | null {
  const first = question.remedies[0];
  const pieces = question.cheapest_by_cost_of_a_stop;
  const second = pieces[1];
  if (!first || !question.best) return null;
  const what = faultWord(first);
  if (!second) {
    return (
      <section>
        <h3>When the choice would change</h3>
        <p>
          Whatever {what} costs, <b>{pieces[0]?.id ?? question.best}</b> stays the cheapest that the rules allow.
        </p>
      </section>
    );
  }
  return (
    <section>
      <h3>When the choice would change</h3>
      <p>What {what} may cost before another remedy is the cheaper one:</p>
      <ul>
        <li>
          below {money(second.from_stop, answer.unit)}: <b>{pieces[0]?.id}</b>
        </li>
        {pieces.slice(1).map((piece, i) =>
          i > 0 && piece.from_stop > mostTimes * answer.stop ? null : (
            <li key={piece.id}>
              above {money(piece.from_stop, answer.unit)}: <b>{piece.id}</b>
            </li>
          ),
        )}
      </ul>
      <p>Here it is taken to cost {money(answer.stop, answer.unit)}.</p>
    </section>
  );
}

// What is no more than its own error is not worth a line.
const matters = (one: { saving: number; standard_error: number }): boolean =>
  one.saving >= 1 && one.saving >= 2 * one.standard_error;

interface KnowingProps {
  question: Question;
  unit: string;
  segmentName: (id: string) => string;
}

/** What would have to be known to choose otherwise, and what knowing it is worth. */
export function Knowing({ question, unit, segmentName }: KnowingProps): JSX.Element {
  const known = question.worth_knowing.filter(matters).slice(0, most);
  const looks = question.worth_looking.filter(matters).slice(0, most);
  const error = (one: { standard_error: number }): string => `± ${Math.round(one.standard_error)}`;
  return (
    <section>
      <h3>What would have to be known to choose otherwise</h3>
      {known.length + looks.length === 0 ? (
        <p>Nothing that could be found out beforehand is expected to change this choice.</p>
      ) : (
        <ul>
          {known.map((one) => (
            <li key={one.what}>
              {one.what}: worth up to <b>{money(one.saving, unit)}</b> ({error(one)}); the choice would become{" "}
              {one.instead} in {percent(one.chance_of_change)} of the answers
            </li>
          ))}
          {looks.map((one) => (
            <li key={one.id}>
              a look at {segmentName(one.id)}, opened: worth up to <b>{money(one.saving, unit)}</b> ({error(one)}) before
              what opening costs; step “Open next” weighs that
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function madeWords(part: UsedPart): string {
  if (!part.oldest) return "not worth it at any age";
  const year = part.oldest.slice(0, 4);
  return `worth it if made in ${year} or later${part.any_age ? " (older than that was not worked out)" : ""}`;
}

const onItsTag = [
  "its own date code, not the year its donor was built",
  "compound or class letter on the jacket",
  "part number and region",
  "kilometres and climate of the donor",
  "signs of an earlier repair",
  "a spare tail at its hottest branch: bend it before paying",
];

/** How old a used part may be to be worth its price, by what it is made of. */
export function UsedParts(props: KnowingProps & { insulationName: (id: string) => string }): JSX.Element | null {
  const { question, unit, insulationName } = props;
  const ids = [...new Set(question.used_parts.map((part) => part.id))];
  if (ids.length === 0) return null;
  return (
    <section>
      <h3>How old a used part may be</h3>
      {ids.map((id) => {
        const limits = question.used_parts.filter((part) => part.id === id);
        const first = limits[0];
        const offer = question.remedies.find((one) => one.id === id);
        if (!first) return null;
        return (
          <div key={id}>
            <p>
              {offer?.name ?? id} ({id}) at {money(first.price, unit)}; the best of the others is expected to cost{" "}
              {money(first.best_of_the_others, unit)}:
            </p>
            <ul>
              {limits.map((part) => (
                <li key={part.compound}>
                  of {insulationName(part.compound)}: <b>{madeWords(part)}</b>
                </li>
              ))}
              {(offer?.compounds.length ?? 0) > 1 && (
                <li>of a compound that nobody knows: not before its tag has been read</li>
              )}
            </ul>
          </div>
        );
      })}
      <h4>Read on its tag and on the part</h4>
      <ul>
        {onItsTag.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
