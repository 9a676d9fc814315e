import type { ComponentChildren, JSX } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";
import type { Scale } from "./scale";

/** The room a chart has; it follows its box, so that its letters stay as large as those around it. */
export interface Room {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export interface ChartProps {
  title: string;
  description: string;
  height?: number;
  children: (room: Room, id: string) => ComponentChildren;
}

const narrowest = 240;

/** A chart as wide as its box, with a title and a description for those who do not see it. */
export function Chart({ title, description, height = 350, children }: ChartProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(600);
  const id = useId();
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    const follow = (): void => setWidth(Math.max(narrowest, element.clientWidth));
    follow();
    const observer = new ResizeObserver(follow);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  const room: Room = { width, height, left: 62, right: width - 14, top: 34, bottom: height - 56 };
  return (
    <div ref={box} class="classroom-chart">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-labelledby={`${id}-title ${id}-description`}
      >
        <title id={`${id}-title`}>{title}</title>
        <desc id={`${id}-description`}>{description}</desc>
        <Patterns id={id} />
        {children(room, id)}
      </svg>
    </div>
  );
}

/** Hatchings, so that two bands differ without their colours. */
function Patterns({ id }: { id: string }): JSX.Element {
  return (
    <defs>
      <pattern id={`${id}-first`} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect class="classroom-first-tint" width="8" height="8" />
        <line class="classroom-first-hatch" x1="0" y1="0" x2="0" y2="8" />
      </pattern>
      <pattern id={`${id}-second`} width="9" height="9" patternUnits="userSpaceOnUse">
        <rect class="classroom-second-tint" width="9" height="9" />
        <circle class="classroom-second-dot" cx="4.5" cy="4.5" r="1.6" />
      </pattern>
    </defs>
  );
}

export interface Tick {
  value: number;
  words: string;
}

interface AxesProps {
  room: Room;
  x: Scale;
  y: Scale;
  across: Tick[];
  up: Tick[];
  acrossWords: string;
  upWords: string;
}

export function Axes({ room, x, y, across, up, acrossWords, upWords }: AxesProps): JSX.Element {
  return (
    <g class="classroom-axes">
      {up.map((tick) => (
        <g key={tick.value}>
          <line class="classroom-grid" x1={room.left} x2={room.right} y1={y.at(tick.value)} y2={y.at(tick.value)} />
          <text x={room.left - 8} y={y.at(tick.value) + 5} text-anchor="end">
            {tick.words}
          </text>
        </g>
      ))}
      {across.map((tick) => (
        <g key={tick.value}>
          <line class="classroom-grid" x1={x.at(tick.value)} x2={x.at(tick.value)} y1={room.top} y2={room.bottom} />
          <text x={x.at(tick.value)} y={room.bottom + 20} text-anchor="middle">
            {tick.words}
          </text>
        </g>
      ))}
      <path class="classroom-frame" d={`M${room.left} ${room.top}V${room.bottom}H${room.right}`} />
      <text x={4} y={room.top - 14}>
        {upWords}
      </text>
      <text x={room.right} y={room.bottom + 44} text-anchor="end">
        {acrossWords}
      </text>
    </g>
  );
}

/** What leaves the frame of the chart is cut off at it. */
export function Inside({ room, id, children }: { room: Room; id: string; children: ComponentChildren }): JSX.Element {
  return (
    <>
      <clipPath id={`${id}-inside`}>
        <rect x={room.left} y={room.top} width={room.right - room.left} height={room.bottom - room.top} />
      </clipPath>
      <g clip-path={`url(#${id}-inside)`}>{children}</g>
    </>
  );
}

export type Point = [number, number];

const joined = (points: Point[]): string => points.map(([px, py]) => `${px.toFixed(1)} ${py.toFixed(1)}`).join("L");

interface CurveProps {
  which: "first" | "second";
  id: string;
  low: Point[];
  middle: Point[];
  high: Point[];
}

/** A middle and the band about it. */
export function Curve({ which, id, low, middle, high }: CurveProps): JSX.Element | null {
  if (middle.length < 2) return null;
  const band = low.length > 1 && high.length > 1 ? `M${joined(high)}L${joined([...low].reverse())}Z` : "";
  return (
    <g>
      {band && <path class={`classroom-${which}-edge`} d={band} fill={`url(#${id}-${which})`} />}
      <path class="classroom-line-back" d={`M${joined(middle)}`} />
      <path class={`classroom-${which}-line`} d={`M${joined(middle)}`} />
    </g>
  );
}

interface LabelProps {
  x: number;
  y: number;
  words: string;
  anchor?: "start" | "middle" | "end";
  which?: "first" | "second";
}

/** Words on the chart, with a rim of the paper so that lines below do not cut them. */
export function Label({ x, y, words, anchor = "start", which }: LabelProps): JSX.Element {
  return (
    <text class={`classroom-label${which ? ` classroom-${which}-label` : ""}`} x={x} y={y} text-anchor={anchor}>
      {words}
    </text>
  );
}

/** Heights of labels that keep `apart` from each other, as near to where they belong as that allows. */
export function spread(wanted: number[], apart: number, top: number, bottom: number): number[] {
  const order = wanted.map((y, i) => ({ y: Math.min(bottom, Math.max(top, y)), i })).sort((a, b) => a.y - b.y);
  for (let i = 1; i < order.length; i += 1) {
    const above = order[i - 1];
    const here = order[i];
    if (above && here && here.y < above.y + apart) here.y = above.y + apart;
  }
  const overflow = Math.max(0, (order[order.length - 1]?.y ?? 0) - bottom);
  const placed = [...wanted];
  for (const one of order) placed[one.i] = one.y - overflow;
  return placed;
}
