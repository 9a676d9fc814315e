import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { daysOf, firstDay, gaps, inOrder, endOf } from "../../case/service_edits";

/** The whole life as one band: which period is how long, and where nothing is stated. */
export function LifeLine({ document }: { document: CaseDocument }): JSX.Element | null {
  const order = inOrder(document);
  const start = Math.min(...order.map(({ period }) => firstDay(period.from)), firstDay(document.vehicle.entered_service ?? order[0]?.period.from ?? "1970"));
  const end = Math.max(...order.map(({ period }) => firstDay(endOf(document, period))), firstDay(document.inspected));
  if (!(end > start)) return null;
  const at = (day: number): number => (100 * (day - start)) / (end - start);
  return (
    <svg class="service-line" width="100%" height="44" aria-hidden="true">
      <rect class="service-line-none" x="0" y="8" width="100%" height="28" />
      {order.map(({ period, index }, i) => {
        const x = at(firstDay(period.from));
        const width = at(firstDay(period.from) + daysOf(document, period)) - x;
        return (
          <g key={index} class={period.duty === "laid-up" ? "service-line-rest" : i % 2 ? "service-line-odd" : "service-line-even"}>
            <rect x={`${x}%`} y="8" width={`${width}%`} height="28" />
            {width > 8 && (
              <text x={`${x + width / 2}%`} y="28" text-anchor="middle">
                {i + 1}
              </text>
            )}
          </g>
        );
      })}
      {gaps(document).map((gap) => (
        <line key={gap.from} class="service-line-gap" x1={`${at(firstDay(gap.from))}%`} x2={`${at(firstDay(gap.to))}%`} y1="22" y2="22" />
      ))}
    </svg>
  );
}
