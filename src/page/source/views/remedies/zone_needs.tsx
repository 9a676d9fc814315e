import type { JSX } from "preact";
import { library } from "../../store/job";
import type { CompareAnswer } from "./answers";
import { plainName } from "./names";
import { whenWords } from "./words";

const orAbove = (letter: string | null): string => letter ?? "above H";

/** What each zone asks of an insulation: its heat, the lowest class, and the lowest compound that serves. */
export function ZoneNeeds({ answer }: { answer: CompareAnswer }): JSX.Element {
  const zones = library.value?.zones ?? [];
  const insulations = library.value?.insulations ?? [];
  const caption = "What each zone asks for";
  return (
    <section aria-labelledby="remedies-zones">
      <h2 id="remedies-zones">{caption}</h2>
      <div class="table-box" role="region" aria-label="Zones of this case" tabIndex={0}>
        <table class="remedies-table">
          <caption class="spoken">{caption}, hottest first</caption>
          <thead>
            <tr>
              <th scope="col">Zone</th>
              <th scope="col">Lowest class</th>
              <th scope="col">Class with a margin</th>
              <th scope="col">Lowest that serves</th>
              <th scope="col">Hottest, °C</th>
              <th scope="col">When</th>
              <th scope="col">Segments</th>
            </tr>
          </thead>
          <tbody>
            {answer.zones.map((zone) => (
              <tr key={zone.zone}>
                <th scope="row">{plainName(zones, zone.zone)}</th>
                <td>{orAbove(zone.class)}</td>
                <td>{orAbove(zone.class_at_p90)}</td>
                <td>{zone.lowest_that_serves ? plainName(insulations, zone.lowest_that_serves) : "none of those compared"}</td>
                <td class="is-number">
                  {Math.round(zone.hottest_Cel.p50)} ({Math.round(zone.hottest_Cel.p10)} to {Math.round(zone.hottest_Cel.p90)})
                </td>
                <td>{whenWords(zone.when)}</td>
                <td>{zone.segments.join(", ")}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="remedies-note">
        Hottest: the insulation on a hot day, with 10 to 90 of 100 draws. Lowest class: the one that the middle does not exceed.
        With a margin: the one that nine of ten draws do not exceed.
      </p>
    </section>
  );
}
