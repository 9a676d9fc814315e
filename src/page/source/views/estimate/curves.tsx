import type { JSX } from "preact";
import { Drawing } from "../../parts";
import { useAnswer } from "../../store/answers";
import type { CurvesAnswer } from "./answers";
import { drawingWidth } from "./loom_drawing";
import { Mend } from "./mend";

const margins = 40; // px of the panel at both sides
const panel = 860;

/** Elongation over the years, life over temperature, and where the heat came from, of one segment. */
export function Curves({ segment, name }: { segment: string; name: string }): JSX.Element {
  const width = drawingWidth(Math.min(window.innerWidth, panel) - margins);
  const { value, state, problems } = useAnswer<CurvesAnswer>("curves", { segment, width }).value;
  if (state === "refused") return <Mend problems={problems} here="estimate" />;
  if (!value) return <p role="status">The curves are drawn…</p>;
  return (
    <>
      <Drawing svg={value.ageing_svg} label={`Elongation left in ${name} over the years`} />
      <Drawing svg={value.heat_svg} label={`When and how hot ${name} aged`} />
      <Drawing svg={value.life_svg} label={`Life of the insulation of ${name} over temperature`} />
    </>
  );
}
