import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Drawing } from "../../parts";
import { useAnswer } from "../../store/answers";
import type { MapAnswer } from "./answers";
import { segmentName } from "./names";

const narrowest = 320;
const widest = 1200;
const enlarged = 1.3; // times the size of the engine's letters, which are small for paper

/** Width to ask a drawing for, so that its letters can be read in the room there is. */
export function drawingWidth(room: number): number {
  return Math.round(Math.min(widest, Math.max(narrowest, room / enlarged)) / 20) * 20;
}

interface LoomDrawingProps {
  label: string;
  /** With the numbers of the opening order. */
  order?: boolean;
  chosen?: string;
  wordsOf?: (id: string) => string;
  onSegment: (id: string) => unknown;
}

// What is spoken of a segment begins with what stands at it in the drawing, so that voice control finds it by those words.
function spokenNames(svg: string, wordsOf: ((id: string) => string) | undefined): Record<string, string> {
  const names: Record<string, string> = {};
  const drawing = new DOMParser().parseFromString(svg, "image/svg+xml");
  for (const group of drawing.querySelectorAll<SVGGElement>("g[data-segment]")) {
    const id = group.getAttribute("data-segment") ?? "";
    for (const title of [...group.querySelectorAll("title")]) title.remove(); // it is not seen
    const words = [...group.querySelectorAll("text")].map((text) => text.textContent?.trim() ?? "").join(" ");
    names[id] = [words, segmentName(id), wordsOf?.(id)].filter(Boolean).join(", ");
  }
  return names;
}

function DrawnMap({ width, label, order = false, chosen, wordsOf, onSegment }: LoomDrawingProps & { width: number }): JSX.Element {
  const map = useAnswer<MapAnswer>("map", { order, width }).value;
  if (!map.value) return <p role="status">{map.state === "refused" ? "There is no drawing of this case." : "The drawing is made…"}</p>;
  return <Drawing svg={map.value.svg} label={label} names={spokenNames(map.value.svg, wordsOf)} chosen={chosen} onSegment={onSegment} />;
}

/** The looms by what has to come off; each segment can be pressed. */
export function LoomDrawing(props: LoomDrawingProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const measure = (): void => setWidth(drawingWidth(box.current?.clientWidth ?? narrowest));
    measure();
    const watch = new ResizeObserver(measure);
    if (box.current) watch.observe(box.current);
    return () => watch.disconnect();
  }, []);
  return (
    <div ref={box} class="estimate-map">
      {width > 0 && <DrawnMap key={width} width={width} {...props} />}
    </div>
  );
}
