import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Choice, type Column, DataTable } from "../../parts";
import { useAnswer } from "../../store/answers";
import { document } from "../../store/job";
import type { EstimateAnswer } from "../../store/estimate_answer";
import { type Estimated, segmentsOf } from "./answers";
import { DrawsLine } from "./draws_line";
import { Mend } from "./mend";
import { chanceWords, crackedOf } from "./words";

const steps = [2, 5, 10];

const yearsFrom = (inspected: string): string[] => steps.map((step) => String(Number(inspected.slice(0, 4)) + step));

function AheadTable({ years }: { years: string[] }): JSX.Element {
  const answer = useAnswer<EstimateAnswer>("estimate", { at: years }).value;
  if (answer.state === "refused") return <Mend problems={answer.problems} here="estimate" />;
  if (!answer.value) return <p role="status">Looking ahead…</p>;
  const columns: Column<Estimated>[] = [
    { id: "name", name: "Segment", by: (one) => one.weakest_rank, cell: (one) => one.name || one.id },
    { id: "now", name: "Now", by: (one) => one.chance_cracked_now, cell: (one) => chanceWords(one.chance_cracked_now) },
    ...years.map((year, i): Column<Estimated> => {
      const chance = (one: Estimated): number => crackedOf(one.chance_at[i]?.chance ?? {});
      return { id: year, name: year, by: chance, cell: (one) => chanceWords(chance(one)) };
    }),
  ];
  return (
    <>
      <DataTable caption="Chance of cracked or worse, if it is used on as before" columns={columns} rows={segmentsOf(answer.value)} sort="name" rowKey={(one) => one.id} />
      <DrawsLine answer={answer} />
    </>
  );
}

/** The chances at later dates. */
export function Ahead(): JSX.Element | null {
  const [chosen, setChosen] = useState<string[]>([]);
  const inspected = document.value?.inspected;
  if (!inspected) return null;
  const years = yearsFrom(inspected);
  const shown = years.filter((year) => chosen.includes(year));
  const options = years.map((year, i) => ({ id: year, name: year, hint: `${steps[i]} years after the inspection` }));
  return (
    <section aria-labelledby="estimate-ahead">
      <h2 id="estimate-ahead">Later years</h2>
      <Choice label="Show the chances in" many options={options} value={chosen} onChange={(ids: string[]) => setChosen(ids)} />
      {shown.length > 0 && <AheadTable key={shown.join()} years={shown} />}
    </section>
  );
}
