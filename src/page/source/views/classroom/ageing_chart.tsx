import type { JSX } from "preact";
import type { Lesson } from "./answers";
import { Axes, Chart, Curve, Label, type Point, type Room, spread } from "./chart";
import { linear, roundTicks, type Scale } from "./scale";

const shownYears = 40;
const which = ["first", "second"] as const;

function highest(lessons: Lesson[]): number {
  const all = lessons.flatMap((lesson) => lesson.points.map((point) => point.elongation_percent.p90));
  return Math.max(50, ...all) * 1.08;
}

function Limits({ lesson, room, y }: { lesson: Lesson; room: Room; y: Scale }): JSX.Element {
  const limits = [
    { at: lesson.limits.stiff, words: "stiff below" },
    { at: lesson.limits.flex_cracks, words: "cracks when handled" },
    { at: lesson.limits.cracked, words: "cracked as it lies" },
  ].filter((limit) => limit.at > 0 && y.inside(limit.at));
  const heights = spread(
    limits.map((limit) => y.at(limit.at) - 5),
    19,
    room.top + 14,
    room.bottom - 7,
  );
  return (
    <g>
      {limits.map((limit, i) => (
        <g key={limit.words}>
          <line class="classroom-limit" x1={room.left} x2={room.right} y1={y.at(limit.at)} y2={y.at(limit.at)} />
          <Label x={room.right - 4} y={heights[i] ?? 0} anchor="end" words={limit.words} />
        </g>
      ))}
    </g>
  );
}

function NowLine({ years, room, x }: { years: number; room: Room; x: Scale }): JSX.Element {
  const at = x.at(years);
  const atEnd = at > (room.left + room.right) / 2;
  return (
    <g>
      <line class="classroom-now" x1={at} x2={at} y1={room.top} y2={room.bottom} />
      <Label x={at + (atEnd ? -6 : 6)} y={room.top + 14} anchor={atEnd ? "end" : "start"} words={`after ${years} years`} />
    </g>
  );
}

function Curves({ lessons, id, x, y, room }: { lessons: Lesson[]; id: string; x: Scale; y: Scale; room: Room }): JSX.Element {
  const points = (lesson: Lesson, part: "p10" | "p50" | "p90"): Point[] =>
    lesson.points.map((point) => [x.at(point.years), y.at(point.elongation_percent[part])]);
  // Each name stands where the curves are far apart: at a fifth and at two fifths of the years.
  const heights = lessons.map((lesson, i) => {
    const point = lesson.points[Math.floor(lesson.points.length * (0.06 + 0.1 * i))];
    return { x: x.at(point?.years ?? 0) + 10, y: y.at(point?.elongation_percent.p50 ?? 0) - 10 };
  });
  const apart = spread(heights.map((one) => one.y), 22, room.top + 34, room.bottom - 8);
  return (
    <g>
      {lessons.map((lesson, i) => (
        <Curve
          key={lesson.insulation}
          which={which[i] ?? "first"}
          id={id}
          low={points(lesson, "p10")}
          middle={points(lesson, "p50")}
          high={points(lesson, "p90")}
        />
      ))}
      {lessons.map((lesson, i) => (
        <Label
          key={lesson.insulation}
          x={heights[i]?.x ?? 0}
          y={apart[i] ?? 0}
          which={which[i] ?? "first"}
          words={lesson.insulation}
        />
      ))}
    </g>
  );
}

/** Elongation at break that is left over the years, with the band of eight in ten draws. */
export function AgeingChart({ lessons, years }: { lessons: Lesson[]; years: number }): JSX.Element {
  const first = lessons[0];
  const most = highest(lessons);
  const description = lessons
    .map((lesson) => {
      const { p10, p50, p90 } = lesson.now.elongation_percent;
      const range = `between ${Math.round(p10)} and ${Math.round(p90)} in eight of ten draws`;
      return `${lesson.name} after ${years} years: ${Math.round(p50)} percent, ${range}.`;
    })
    .join(" ");
  return (
    <Chart title="Elongation at break that is left, over the years" description={description}>
      {(room, id) => {
        const x = linear(0, shownYears, room.left, room.right);
        const y = linear(0, most, room.bottom, room.top);
        const across = roundTicks(shownYears, room.width > 500 ? 8 : 4).map((value) => ({ value, words: `${value}` }));
        const up = roundTicks(most, 5).map((value) => ({ value, words: `${value} %` }));
        return (
          <>
            <Axes room={room} x={x} y={y} across={across} up={up} acrossWords="years" upWords="elongation at break" />
            {first && <Limits lesson={first} room={room} y={y} />}
            <Curves lessons={lessons} id={id} x={x} y={y} room={room} />
            <NowLine years={years} room={room} x={x} />
          </>
        );
      }}
    </Chart>
  );
}
