import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Big } from "../../parts/big";
import { useWide } from "../../parts/wide";
import { document as caseDocument } from "../../store/job";
import type { Candidate, CompareAnswer, Quantiles } from "./answers";
import { Bar } from "./bar";
import { CandidateSheet } from "./candidate_sheet";
import { fullName } from "./names";
import { lifeCell, percent, signed, whenWords } from "./words";

const scaleYears = 40;

export function candidateName(candidate: Candidate): string {
  return candidate.insulation ? `${candidate.name}` : "The wires that are in now";
}

/** "Class D, up to 150 °C" */
export function limitWords(candidate: Candidate): string {
  const limit = `${Math.round(candidate.limit_Cel)} °C`;
  return candidate.class ? `Class ${candidate.class}, up to ${limit}` : `Below class A, rated ${limit}`;
}

export function Life({ years, of }: { years: Quantiles; of: string }): JSX.Element {
  const beyond = years.p10 > scaleYears;
  return (
    <div>
      <p>
        <span class="spoken">{of}: </span>
        {beyond ? `> ${scaleYears} years in nine of ten draws` : lifeCell(years.p50)}
      </p>
      <Bar low={Math.max(0, years.p10)} mark={Math.max(0, years.p50)} high={Math.max(0, years.p90)} to={scaleYears} />
      {!beyond && (
        <p class="remedies-note">
          {lifeCell(years.p10)} to {lifeCell(years.p90)} in eight of ten draws
        </p>
      )}
    </div>
  );
}

/** Where the insulation comes nearest to its limit, or goes furthest beyond it. */
function leastMargin(candidate: Candidate): Candidate["zones"][number] | undefined {
  return candidate.zones.reduce<Candidate["zones"][number] | undefined>(
    (least, zone) => (!least || zone.margin_K.p50 < least.margin_K.p50 ? zone : least),
    undefined,
  );
}

function Margin({ candidate }: { candidate: Candidate }): JSX.Element | null {
  const least = leastMargin(candidate);
  if (!least) return null;
  const { p10, p50, p90 } = least.margin_K;
  const kelvin = Math.round(Math.abs(p50));
  return (
    <span>
      {p50 < 0 ? `✕ ${kelvin} K over it` : `${kelvin} K below it`} ({Math.round(p10)} to {Math.round(p90)}) in {least.zone},{" "}
      {whenWords(least.when)}
    </span>
  );
}

export function zonesNotServed(candidate: Candidate): string[] {
  return candidate.zones.filter((zone) => !zone.serves).map((zone) => zone.zone);
}

function NotServed({ candidate }: { candidate: Candidate }): JSX.Element {
  const zones = zonesNotServed(candidate);
  if (zones.length === 0) return <span>none: it serves every zone</span>;
  return <span>✕ {zones.join(", ")}</span>;
}

function Gain({ candidate }: { candidate: Candidate }): JSX.Element | null {
  const change = candidate.change;
  if (!change) return null;
  const { p10, p50, p90 } = change.gain_years;
  return (
    <p>
      By the change: {signed(p50)} years ({signed(p10)} to {signed(p90)}, lives cut at {scaleYears}); chance of lasting{" "}
      {percent(change.before.chance_of_lasting)} → {percent(candidate.chance_of_lasting)}
    </p>
  );
}

/** The compounds side by side: a table where there is room, cards otherwise. */
export function Candidates({ answer }: { answer: CompareAnswer }): JSX.Element {
  const wide = useWide(64);
  const [looked, setLooked] = useState<Candidate | null>(null);
  const document = caseDocument.value;
  const segmentName = (id: string): string => (document ? fullName(document.segments, id) : id);
  const props = { answer, segmentName, onLook: setLooked };
  return (
    <>
      {wide ? <CandidateTable {...props} /> : <CandidateCards {...props} />}
      {looked && (
        <CandidateSheet candidate={looked} answer={answer} segmentName={segmentName} onClose={() => setLooked(null)} />
      )}
    </>
  );
}

interface ListProps {
  answer: CompareAnswer;
  segmentName: (id: string) => string;
  onLook: (candidate: Candidate) => void;
}

function LookAt({ candidate, onLook }: { candidate: Candidate; onLook: (candidate: Candidate) => void }): JSX.Element {
  return (
    <Big onPress={() => onLook(candidate)}>
      By zone and segment <span class="spoken">of {candidateName(candidate)}</span>
    </Big>
  );
}

function Remarks({ candidate }: { candidate: Candidate }): JSX.Element {
  return (
    <>
      <p>{limitWords(candidate)}</p>
      {candidate.obsolete && <p>No longer made by then</p>}
      {candidate.weakest_grade && <p class="remedies-note">Rests on: {candidate.weakest_grade}</p>}
    </>
  );
}

function Lasts({ candidate }: { candidate: Candidate }): JSX.Element {
  const error = Math.round(100 * candidate.standard_error);
  return (
    <>
      {percent(candidate.chance_of_lasting)}
      {error >= 1 && ` (± ${error})`}
    </>
  );
}

function CandidateCards({ answer, segmentName, onLook }: ListProps): JSX.Element {
  return (
    <ul class="remedies-cards">
      {answer.candidates.map((candidate) => (
        <li key={candidate.insulation ?? "now"} class="remedies-card">
          <h3>
            {candidate.rank}. {candidateName(candidate)} <span class="remedies-id">{candidate.insulation}</span>
          </h3>
          <p>
            Lasts {answer.wanted_years} years: <b><Lasts candidate={candidate} /></b>. Cracks when handled:
          </p>
          <Life years={candidate.flex_cracks_years} of="Cracks when handled" />
          <p>
            Zones it does not serve: <NotServed candidate={candidate} />
          </p>
          <Gain candidate={candidate} />
          <details>
            <summary>
              More <span class="spoken">of {candidateName(candidate)}</span>
            </summary>
            <CandidateFacts candidate={candidate} segmentName={segmentName} />
            <LookAt candidate={candidate} onLook={onLook} />
          </details>
        </li>
      ))}
    </ul>
  );
}

function CandidateFacts({ candidate, segmentName }: Pick<ListProps, "segmentName"> & { candidate: Candidate }): JSX.Element {
  return (
    <>
      <Remarks candidate={candidate} />
      <dl class="remedies-facts">
        <div>
          <dt>Cracks as it lies</dt>
          <dd>
            <Life years={candidate.cracked_years} of="Cracks as it lies" />
          </dd>
        </div>
        <div>
          <dt>Weakest at</dt>
          <dd>{segmentName(candidate.weakest_segment)}</dd>
        </div>
        <div>
          <dt>Hottest moment against its limit</dt>
          <dd>
            <Margin candidate={candidate} />
          </dd>
        </div>
        <div>
          <dt>Insulation in all</dt>
          <dd>{candidate.insulation_kg.toFixed(2)} kg</dd>
        </div>
      </dl>
    </>
  );
}

function CandidateTable({ answer, segmentName, onLook }: ListProps): JSX.Element {
  const caption = "Insulations, longest-lived first";
  return (
    <div class="table-box" role="region" aria-label={caption} tabIndex={0}>
      <table class="remedies-table">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Insulation</th>
            <th scope="col">Lasts {answer.wanted_years} years</th>
            <th scope="col">Cracks when handled</th>
            <th scope="col">Cracks as it lies</th>
            <th scope="col">Weakest at</th>
            <th scope="col">Zones it does not serve</th>
            <th scope="col">Hottest moment against its limit</th>
          </tr>
        </thead>
        <tbody>
          {answer.candidates.map((candidate) => (
            <tr key={candidate.insulation ?? "now"}>
              <th scope="row">
                <span class="remedies-name">{candidateName(candidate)}</span>{" "}
                <span class="remedies-id">{candidate.insulation}</span>
                <Remarks candidate={candidate} />
                <p>{candidate.insulation_kg.toFixed(2)} kg of insulation</p>
                <Gain candidate={candidate} />
                <LookAt candidate={candidate} onLook={onLook} />
              </th>
              <td class="is-number">
                <Lasts candidate={candidate} />
              </td>
              <td>
                <Life years={candidate.flex_cracks_years} of="Cracks when handled" />
              </td>
              <td>
                <Life years={candidate.cracked_years} of="Cracks as it lies" />
              </td>
              <td>
                {segmentName(candidate.weakest_segment)}
              </td>
              <td>
                <NotServed candidate={candidate} />
              </td>
              <td>
                <Margin candidate={candidate} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
