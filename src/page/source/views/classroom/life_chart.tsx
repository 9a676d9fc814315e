import type { JSX } from "preact";
import type { Hours, Lesson } from "./answers";
import { Axes, Chart, Curve, Inside, Label, type Point, type Room } from "./chart";
import { inverseKelvin, logarithmic, type Scale } from "./scale";
import { lifeWords } from "./words";

const hoursAYear = 8766;
const shortest = 24;
const longest = 1000 * hoursAYear;
const coolest = 20;
const hottest = 200;
const letter = 7.6; // of a chart, on average
const which = ["first", "second"] as const;

const up = [
  { value: 24, words: "1 day" },
  { value: 730.5, words: "1 mth" },
  { value: hoursAYear, words: "1 a" },
  { value: 10 * hoursAYear, words: "10 a" },
  { value: 100 * hoursAYear, words: "100 a" },
  { value: 1000 * hoursAYear, words: "1000 a" },
];

const beyond = 1e4 * longest; // where a life without a number is drawn: cut off above the chart
const clipped = (hours: number): number => Math.min(longest, Math.max(shortest, hours));

function pointsOf(lesson: Lesson, part: keyof Hours, x: Scale, y: Scale): Point[] {
  return lesson.life_line
    .filter((point) => x.inside(point.temperature_Cel))
    .map((point) => [x.at(point.temperature_Cel), y.at(Math.min(beyond, point.hours[part] ?? beyond))]);
}

/** The name stands where its curve is well inside the chart. */
function namePlace(points: Point[], room: Room, share: number): Point {
  const inside = points.filter(([, py]) => py > room.top + 20 && py < room.bottom - 20);
  return inside[Math.floor(inside.length * share)] ?? [room.left, room.top];
}

function OvenPoint({ lesson, x, y, i }: { lesson: Lesson; x: Scale; y: Scale; i: number }): JSX.Element | null {
  const { temperature_Cel, hours } = lesson.life_point;
  if (!x.inside(temperature_Cel) || !y.inside(hours)) return null;
  const at: Point = [x.at(temperature_Cel), y.at(hours)];
  return (
    <path
      class={`classroom-${which[i] ?? "first"}-oven`}
      d={`M${at[0]} ${at[1] - 9}L${at[0] + 9} ${at[1]}L${at[0]} ${at[1] + 9}L${at[0] - 9} ${at[1]}Z`}
    />
  );
}

function ServicePoint({ celsius, years, room, x, y }: { celsius: number; years: number; room: Room; x: Scale; y: Scale }): JSX.Element {
  const at: Point = [x.at(Math.min(hottest, Math.max(coolest, celsius))), y.at(clipped(years * hoursAYear))];
  // Below the curve, where life is short and the air cool, nothing else is drawn.
  const words = `${celsius} °C, ${years} years`;
  const start = Math.max(room.left + 6, at[0] - 10 - words.length * letter);
  return (
    <g>
      <line class="classroom-now" x1={at[0]} x2={at[0]} y1={at[1]} y2={room.bottom} />
      <circle class="classroom-here" cx={at[0]} cy={at[1]} r="8" />
      <Label x={start} y={room.bottom - 10} words={words} />
    </g>
  );
}

/** Life until insulation cracks when handled, over temperature, with the place that the class looks at. */
export function LifeChart({ lessons, celsius, years }: { lessons: Lesson[]; celsius: number; years: number }): JSX.Element {
  const description = lessons
    .map((lesson) => `${lesson.name} at ${celsius} °C: ${lifeWords(lesson.life_hours?.p50 ?? null)} until half of the draws crack when handled.`)
    .join(" ");
  return (
    <Chart title="Life against temperature" description={description}>
      {(room, id) => {
        const x = inverseKelvin(coolest, hottest, room.left, room.right);
        const y = logarithmic(shortest, longest, room.bottom, room.top);
        const every = room.width > 560 ? [20, 40, 60, 80, 100, 120, 140, 160, 180, 200] : [20, 50, 80, 120, 160, 200];
        return (
          <>
            <Axes
              room={room}
              x={x}
              y={y}
              across={every.map((value) => ({ value, words: `${value}` }))}
              up={up}
              acrossWords="°C, held day and night"
              upWords="until it cracks when handled"
            />
            <Inside room={room} id={id}>
              {lessons.map((lesson, i) => (
                <Curve
                  key={lesson.insulation}
                  which={which[i] ?? "first"}
                  id={id}
                  low={pointsOf(lesson, "p10", x, y)}
                  middle={pointsOf(lesson, "p50", x, y)}
                  high={pointsOf(lesson, "p90", x, y)}
                />
              ))}
            </Inside>
            {lessons.map((lesson, i) => (
              <OvenPoint key={lesson.insulation} lesson={lesson} x={x} y={y} i={i} />
            ))}
            {lessons.map((lesson, i) => {
              const at = namePlace(pointsOf(lesson, "p50", x, y), room, 0.25 + 0.6 * i);
              return (
                <Label key={lesson.insulation} x={at[0] + 10} y={at[1] - 8} which={which[i] ?? "first"} words={lesson.insulation} />
              );
            })}
            <ServicePoint celsius={celsius} years={years} room={room} x={x} y={y} />
          </>
        );
      }}
    </Chart>
  );
}
