import type { JSX } from "preact";
import { ConditionMark } from "../../parts/condition_mark";
import type { Lesson } from "./answers";
import { tenKelvin } from "./lesson";
import { lifeWords, percent, twoDigits, yearsWords } from "./words";

/** The chance of each condition now, in words and with its mark. */
export function Chances({ lesson }: { lesson: Lesson }): JSX.Element {
  return (
    <div class="classroom-chances">
      <h3>{lesson.name}</h3>
      <p>
        Most likely after {lesson.years} years at {lesson.temperature_Cel} °C:{" "}
        <ConditionMark condition={lesson.now.most_likely} />
      </p>
      <ul>
        {Object.entries(lesson.now.chance).map(([condition, chance]) => (
          <li key={condition}>
            <ConditionMark condition={condition} />
            <span class="classroom-meter" aria-hidden="true">
              <span style={{ width: `${100 * chance}%` }} />
            </span>
            <span class="classroom-chance">{percent(chance)}</span>
          </li>
        ))}
      </ul>
      <p>
        Half of the draws crack when handled after{" "}
        <b>{yearsWords(lesson.reached_years.flex_cracks.p50, lesson.reached_years.flex_cracks.capped)}</b>, one in ten after{" "}
        {yearsWords(lesson.reached_years.flex_cracks.p10, lesson.reached_years.flex_cracks.capped)}, nine in ten after{" "}
        {yearsWords(lesson.reached_years.flex_cracks.p90, lesson.reached_years.flex_cracks.capped)}.
      </p>
    </div>
  );
}

/** What ten kelvin more do at this place: two answers of the engine side by side. */
export function TenKelvin({ lesson, warmer }: { lesson: Lesson; warmer: Lesson | null }): JSX.Element | null {
  const here = lesson.life_hours?.p50 ?? null;
  const there = warmer?.life_hours?.p50 ?? null;
  const matches =
    warmer?.insulation === lesson.insulation && warmer.temperature_Cel === lesson.temperature_Cel + tenKelvin;
  return (
    <section aria-labelledby="classroom-ten">
      <h2 id="classroom-ten">What ten kelvin do here</h2>
      {!matches || here === null || there === null ? (
        <p>{matches ? "At this temperature it outlasts every calendar." : "Working it out…"}</p>
      ) : (
        <p>
          At {lesson.temperature_Cel} °C half of the draws of {lesson.insulation} crack when handled after{" "}
          <b>{lifeWords(here)}</b>, at {warmer?.temperature_Cel} °C after <b>{lifeWords(there)}</b>: ten kelvin more, and it
          ages <b>{twoDigits(here / there)} times</b> as fast. Elsewhere on the curve, and for another compound, it is another
          number.
        </p>
      )}
    </section>
  );
}
