import type { JSX } from "preact";
import { type CaseDocument, type Loom, type Lot, nameOf } from "../../case/document";
import { weighed, withInsulation, withLot, withWeight } from "../../case/loom_lots";
import type { Library } from "../../engine/answers";
import { Amount, Big, Choice, Pick, TextField } from "../../parts";
import { edit } from "./edit";
import { fittedThen } from "./era";
import { compoundWords, nameIn, wallWords } from "./words";

interface LotProps {
  document: CaseDocument;
  loom: Loom;
  lot: Lot;
  library: Library | null;
  disabled: boolean;
}

type Knowledge = "unknown" | "one" | "some";
const knowledge: { id: Knowledge; name: string; hint?: string }[] = [
  { id: "unknown", name: "Not known", hint: "what was fitted then" },
  { id: "some", name: "One of several" },
  { id: "one", name: "Known", hint: "print, class letter, test" },
];

const knowledgeOf = (lot: Lot): Knowledge => (lot.insulation === "unknown" ? "unknown" : typeof lot.insulation === "string" ? "one" : "some");

function insulationOptions(library: Library | null): { id: string; name: string; hint: string }[] {
  return (library?.insulations ?? []).map((one) => ({
    id: one.id,
    name: one.name,
    hint: `${one.class ? `Class ${one.class}, ` : ""}rated ${one.rating_Cel} °C, in use from ${one.in_use_from}${one.in_use_to ? ` to ${one.in_use_to}` : ""}.`,
  }));
}

function CandidateFields({ lot, library, disabled }: LotProps): JSX.Element | null {
  if (typeof lot.insulation === "string") return null;
  const { candidates } = lot.insulation;
  const put = (words: string, next: Record<string, number>): Promise<boolean> =>
    edit(`${words} for ${nameOf(lot)}`, (of) => withInsulation(of, lot.id, { candidates: next }));
  const list = Object.entries(candidates);
  const more = insulationOptions(library).filter((one) => !(one.id in candidates));
  return (
    <>
      {list.map(([id, weight]) => (
        <div key={id} class="loom-candidate">
          <Amount
            label={nameIn(library?.insulations, id)}
            unit="%"
            step={5}
            min={1}
            max={list.length === 1 ? 100 : 99}
            disabled={disabled || list.length === 1}
            value={Math.round(weight * 10_000) / 100}
            onChange={(percent) => percent !== null && put(`${nameIn(library?.insulations, id)} ${percent} %`, withWeight(candidates, id, percent / 100))}
          />
          <Big disabled={disabled || list.length === 1} label={`Rule out ${nameIn(library?.insulations, id)}`} onPress={() => put(`${nameIn(library?.insulations, id)} ruled out`, withWeight(candidates, id, 0))}>
            Rule out
          </Big>
        </div>
      ))}
      <Pick label="Could also be" disabled={disabled} value="" options={more} onChange={(id) => put(`${nameIn(library?.insulations, id)} added`, withWeight(candidates, id, 0.2))} />
    </>
  );
}

/** What the wires of a lot are made of. */
function Compound(props: LotProps): JSX.Element {
  const { document, loom, lot, library, disabled } = props;
  const era = fittedThen(document, loom, library);
  const put = (words: string, insulation: Lot["insulation"]): Promise<boolean> => edit(`${nameOf(lot)}: ${words}`, (of) => withInsulation(of, lot.id, insulation));
  function choose(id: Knowledge): void {
    if (id === knowledgeOf(lot)) return;
    const heaviest = Object.keys(era.candidates)[0] ?? library?.insulations[0]?.id ?? "";
    if (id === "unknown") void put("compound not known", "unknown");
    else if (id === "one") void put("compound known", typeof lot.insulation === "string" ? heaviest : (Object.entries(lot.insulation.candidates).sort((a, b) => b[1] - a[1])[0]?.[0] ?? heaviest));
    else void put("one of several compounds", { candidates: typeof lot.insulation === "string" && lot.insulation !== "unknown" ? { [lot.insulation]: 1 } : weighed(era.candidates) });
  }
  return (
    <>
      <Choice label="Compound" disabled={disabled} options={knowledge} value={knowledgeOf(lot)} onChange={(id) => choose(id as Knowledge)} />
      {lot.insulation === "unknown" && <p>{era.words}</p>}
      {typeof lot.insulation === "string" && lot.insulation !== "unknown" && (
        <Pick label="It is" disabled={disabled} value={lot.insulation} options={insulationOptions(library)} onChange={(id) => put(nameIn(library?.insulations, id), id)} />
      )}
      <CandidateFields {...props} />
    </>
  );
}

/** Wires that were made together: what of, how thick. */
export function LotFields(props: LotProps): JSX.Element {
  const { lot, library, disabled } = props;
  const put = (words: string, members: Parameters<typeof withLot>[2]): Promise<boolean> => edit(`${nameOf(lot)}: ${words}`, (of) => withLot(of, lot.id, members));
  return (
    <details class="card loom-lot">
      <summary>
        {nameOf(lot)}
        <small>
          {lot.size}, {compoundWords(lot.insulation, library)}
        </small>
      </summary>
      <Compound {...props} />
      <TextField label="Name of these wires" disabled={disabled} value={lot.name ?? ""} onChange={(name) => put(`renamed to ${name || lot.id}`, { name: name.trim() || undefined })} />
      <Pick label="Conductor size" disabled={disabled} value={lot.size} options={(library?.conductors ?? []).map((id) => ({ id, name: id }))} onChange={(size) => put(`conductor ${size}`, { size })} />
      {typeof lot.wall === "string" ? (
        <Choice label="Insulation wall" disabled={disabled} options={library?.walls ?? []} value={lot.wall} onChange={(wall) => put(`${wall} wall`, { wall: wall as Lot["wall"] })} />
      ) : (
        <WallMeasures {...props} />
      )}
      {typeof lot.wall !== "string" && (
        <Big disabled={disabled} onPress={() => put("wall from the tables", { wall: "thin" })}>
          Take the wall from the tables
        </Big>
      )}
      <p>
        <small>{wallWords(lot.wall)}</small>
      </p>
    </details>
  );
}

function WallMeasures({ lot, disabled }: LotProps): JSX.Element | null {
  const { wall } = lot;
  if (typeof wall === "string") return null;
  const put = (words: string, next: typeof wall): Promise<boolean> => edit(`${nameOf(lot)}: ${words}`, (of) => withLot(of, lot.id, { wall: next }));
  return (
    <>
      <Amount label="Wall" unit="mm" step={0.05} min={0.05} max={5} disabled={disabled} value={wall.wall_mm} onChange={(mm) => mm !== null && put(`wall ${mm} mm`, { ...wall, wall_mm: mm })} />
      <Amount label="Outer diameter" unit="mm" step={0.1} min={0.3} max={40} disabled={disabled} value={wall.outer_diameter_mm} onChange={(mm) => mm !== null && put(`${mm} mm across`, { ...wall, outer_diameter_mm: mm })} />
    </>
  );
}
