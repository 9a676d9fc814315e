import type { JSX } from "preact";
import type { Lesson } from "./answers";
import { lifeWords } from "./words";

const every = 4; // as many points as a table can be read with

function AgeingTable({ lesson }: { lesson: Lesson }): JSX.Element {
  const caption = `${lesson.name}: elongation at break that is left`;
  return (
    <div class="table-box" role="region" aria-label={caption} tabIndex={0}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Years</th>
            <th scope="col">1 in 10 below, %</th>
            <th scope="col">Half, %</th>
            <th scope="col">1 in 10 above, %</th>
          </tr>
        </thead>
        <tbody>
          {lesson.points
            .filter((_, i) => i % every === 0)
            .map((point) => (
              <tr key={point.years}>
                <th scope="row">{Math.max(0, point.years).toFixed(1)}</th>
                <td>{Math.round(point.elongation_percent.p10)}</td>
                <td>{Math.round(point.elongation_percent.p50)}</td>
                <td>{Math.round(point.elongation_percent.p90)}</td>
              </tr>
            ))}
        </tbody>
      </table>
    </div>
  );
}

function LifeTable({ lesson }: { lesson: Lesson }): JSX.Element {
  const caption = `${lesson.name}: until it cracks when handled`;
  return (
    <div class="table-box" role="region" aria-label={caption} tabIndex={0}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">°C</th>
            <th scope="col">1 in 10 by</th>
            <th scope="col">Half by</th>
            <th scope="col">9 in 10 by</th>
          </tr>
        </thead>
        <tbody>
          {lesson.life_line
            .filter((point, i) => i % 2 === 0 || point.temperature_Cel === lesson.temperature_Cel)
            .map((point) => (
              <tr key={point.temperature_Cel}>
                <th scope="row">{Math.round(point.temperature_Cel)}</th>
                <td>{lifeWords(point.hours.p10)}</td>
                <td>{lifeWords(point.hours.p50)}</td>
                <td>{lifeWords(point.hours.p90)}</td>
              </tr>
            ))}
        </tbody>
      </table>
    </div>
  );
}

/** The numbers of both charts. */
export function ValueTables({ lessons }: { lessons: Lesson[] }): JSX.Element {
  return (
    <details class="classroom-values">
      <summary>The numbers of these charts</summary>
      {lessons.map((lesson) => (
        <div key={lesson.insulation}>
          <AgeingTable lesson={lesson} />
          <LifeTable lesson={lesson} />
        </div>
      ))}
    </details>
  );
}
