import type { JSX } from "preact";
import { Sheet } from "../../parts/sheet";
import type { Candidate, CompareAnswer, Heat, Lasting, Quantiles } from "./answers";
import { candidateName, limitWords } from "./candidates";
import { lifeCell, percent, signed, whenWords } from "./words";

interface CandidateSheetProps {
  candidate: Candidate;
  answer: CompareAnswer;
  segmentName: (id: string) => string;
  onClose: () => void;
}

const whole = (range: Quantiles): string =>
  `${Math.round(range.p50)} (${Math.round(range.p10)} to ${Math.round(range.p90)})`;

function Row({ name, of, wanted }: { name: string; of: Lasting & Heat; wanted: string }): JSX.Element {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>
        {of.serves ? "✓ serves" : "✕ does not serve"} <span class="spoken">{wanted}</span>
      </td>
      <td class="is-number">{percent(of.chance_of_lasting)}</td>
      <td>{lifeCell(of.flex_cracks_years.p50)}</td>
      <td class="is-number">{whole(of.hottest_Cel)}</td>
      <td>{whenWords(of.when)}</td>
      <td class="is-number">{whole(of.margin_K)}</td>
      <td class="is-number">{of.hours_a_year_above.toFixed(1)}</td>
    </tr>
  );
}

interface HeatTableProps {
  caption: string;
  first: string;
  years: number;
  rows: { key: string; name: string; of: Lasting & Heat }[];
}

function HeatTable({ caption, first, years, rows }: HeatTableProps): JSX.Element {
  return (
    <div class="table-box" role="region" aria-label={caption} tabIndex={0}>
      <table class="remedies-table">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">{first}</th>
            <th scope="col">Serves</th>
            <th scope="col">Lasts {years} years</th>
            <th scope="col">Cracks when handled</th>
            <th scope="col">Hottest, °C</th>
            <th scope="col">When</th>
            <th scope="col">Below its limit, K</th>
            <th scope="col">Hours a year above</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Row key={row.key} name={row.name} of={row.of} wanted={`for ${years} years`} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** One insulation by zone and by segment. */
export function CandidateSheet({ candidate, answer, segmentName, onClose }: CandidateSheetProps): JSX.Element {
  const changed = candidate.segments.filter((one) => one.change !== null);
  return (
    <Sheet title={candidateName(candidate)} onClose={onClose}>
      <p>
        {limitWords(candidate)}. It serves a place that is not hotter than this limit by the middle of what is believed, and
        that lasts {answer.wanted_years} years with a chance of at least {Math.round(100 * answer.wanted_chance)} in 100.
      </p>
      <HeatTable
        caption="By zone"
        first="Zone"
        years={answer.wanted_years}
        rows={candidate.zones.map((of) => ({ key: of.zone, name: of.zone, of }))}
      />
      <HeatTable
        caption="By segment"
        first="Segment"
        years={answer.wanted_years}
        rows={candidate.segments.map((of) => ({ key: of.id, name: segmentName(of.id), of }))}
      />
      {changed.length > 0 && <Changes rows={changed} segmentName={segmentName} />}
      <p class="remedies-note">Range in brackets: 10 to 90 of 100 draws.</p>
    </Sheet>
  );
}

function Changes({ rows, segmentName }: { rows: Candidate["segments"]; segmentName: (id: string) => string }): JSX.Element {
  return (
    <div class="table-box" role="region" aria-label="What the change does" tabIndex={0}>
      <table class="remedies-table">
        <caption>What the change does</caption>
        <thead>
          <tr>
            <th scope="col">Segment</th>
            <th scope="col">Lasts, before → after</th>
            <th scope="col">Gain, years</th>
            <th scope="col">Hottest, before → after, °C</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((one) =>
            one.change === null ? null : (
              <tr key={one.id}>
                <th scope="row">{segmentName(one.id)}</th>
                <td>
                  {percent(one.change.before.chance_of_lasting)} → {percent(one.chance_of_lasting)}
                </td>
                <td class="is-number">
                  {signed(one.change.gain_years.p50)} ({signed(one.change.gain_years.p10)} to{" "}
                  {signed(one.change.gain_years.p90)})
                </td>
                <td class="is-number">
                  {one.change.hottest_before_Cel === null ? "–" : Math.round(one.change.hottest_before_Cel)} →{" "}
                  {Math.round(one.hottest_Cel.p50)}
                </td>
              </tr>
            ),
          )}
        </tbody>
      </table>
    </div>
  );
}
