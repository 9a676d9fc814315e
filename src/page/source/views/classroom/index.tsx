import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { conditionWord } from "../../parts/condition_mark";
import { say } from "../../parts/live";
import { library } from "../../store/job";
import { AgeingChart } from "./ageing_chart";
import { Compounds, Sliders } from "./controls";
import { Chances, TenKelvin } from "./findings_now";
import { type Lessons, type Wish, tenKelvin, useLessons } from "./lesson";
import { LifeChart } from "./life_chart";
import "./style.css";
import { Topics } from "./topics";
import { ValueTables } from "./value_table";
import { yearsWords } from "./words";

const usual = "xlpo-125";
const starting: Wish = { insulation: usual, second: "", celsius: 100, years: 10 };

/** The controls among the pictures, so that a hand on a slider and the curve that it moves are seen together. */
function Lab({ wish, onChange, shown }: { wish: Wish; onChange: (wish: Wish) => void; shown: Lessons | null }): JSX.Element {
  return (
    <section class="classroom-lab" aria-labelledby="classroom-lab">
      <h2 id="classroom-lab">A wire held at one temperature</h2>
      <Compounds wish={wish} onChange={onChange} />
      <div class="classroom-ageing">
        <h3>What is left over the years</h3>
        {shown && <AgeingChart lessons={shown.lessons} years={shown.wish.years} />}
      </div>
      <Sliders wish={wish} onChange={onChange} />
      <div class="classroom-life">
        <h3>Life against temperature</h3>
        {shown && <LifeChart lessons={shown.lessons} celsius={shown.wish.celsius} years={shown.wish.years} />}
      </div>
    </section>
  );
}

function Words({ shown }: { shown: Lessons }): JSX.Element {
  const first = shown.lessons[0];
  return (
    <>
      <p class="classroom-note">
        A model experiment with likely numbers of the library: a wire lies at one temperature, day and night, dry, without
        current. In a vehicle no wire does, and it says nothing about a wire that nobody has looked at.
      </p>
      <p class="classroom-note">
        Thick line: half of the draws. Hatched or dotted band: eight of ten. ◆: the point that ovens gave. ●: where the
        class is. The temperature axis is drawn by the inverse of the absolute temperature: on it one single way of ageing
        is a straight line.
      </p>
      <ValueTables lessons={shown.lessons} />
      <section aria-labelledby="classroom-chances">
        <h2 id="classroom-chances">Its condition then</h2>
        <div class="classroom-pair">
          {shown.lessons.map((lesson) => (
            <Chances key={lesson.insulation} lesson={lesson} />
          ))}
        </div>
      </section>
      {first && <TenKelvin lesson={first} warmer={shown.warmer} />}
    </>
  );
}

/** Tells those who do not see the curves what they came to, once the sliders rest. */
function useTelling(shown: Lessons | null): void {
  const first = shown?.lessons[0];
  const rests = first !== undefined && shown?.warmer?.temperature_Cel === first.temperature_Cel + tenKelvin;
  useEffect(() => {
    if (!first || !rests) return;
    const { p50, capped } = first.reached_years.flex_cracks;
    const place = `${first.insulation}, ${first.years} years at ${first.temperature_Cel} °C`;
    const likely = conditionWord(first.now.most_likely).toLowerCase();
    say(`${place}: most likely ${likely}; half crack when handled after ${yearsWords(p50, capped)}.`);
  }, [first, rests]);
}

/** Why heat ages insulation: a wire held at one temperature, with everything moving as the sliders do. */
export function ClassroomView(): JSX.Element {
  const [wish, setWish] = useState<Wish>(starting);
  const { shown, failure } = useLessons(library.value ? wish : { ...wish, insulation: "" });
  useTelling(shown);
  return (
    <div class="classroom">
      <h1>Classroom</h1>
      {failure && <p role="alert">{failure}</p>}
      <Lab wish={wish} onChange={setWish} shown={shown} />
      {shown ? <Words shown={shown} /> : !failure && <p role="status">Drawing the first curves…</p>}
      <Topics />
    </div>
  );
}
