import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Cautions } from "../../parts/cautions";
import { Choice } from "../../parts/choice";
import { Gate } from "../../parts/gate";
import { CompareInsulations } from "./compare";
import { Remedies } from "./remedies";
import "./style.css";

const parts = [
  { id: "remedies", name: "What to do about it" },
  { id: "compare", name: "Which insulation" },
];

/** What can be done about the looms, side by side, and which insulation would last. */
export function RemediesView(): JSX.Element {
  const [part, setPart] = useState("remedies");
  return (
    <div class="remedies">
      <h1>Remedies</h1>
      <Cautions />
      <Choice label="Compare" quiet options={parts} value={part} onChange={(id: string) => setPart(id)} />
      <Gate>{part === "remedies" ? <Remedies /> : <CompareInsulations />}</Gate>
    </div>
  );
}
