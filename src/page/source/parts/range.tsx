import type { JSX } from "preact";
import { short } from "./numbers";

interface RangeProps {
  label: string;
  p10: number;
  p50: number;
  p90: number;
  unit: string;
  /** Ends of the bar; without them there are only words. */
  from?: number;
  to?: number;
}

/** What is believed of a number: the middle, and where eight of ten draws lie; in words and as a bar. */
export function Range({ label, p10, p50, p90, unit, from, to }: RangeProps): JSX.Element {
  const drawn = from !== undefined && to !== undefined && to > from;
  const at = (value: number): number =>
    drawn ? 100 * Math.min(1, Math.max(0, (value - (from as number)) / ((to as number) - (from as number)))) : 0;
  return (
    <div class="range">
      <span class="range-label">{label}</span>
      <span class="range-words">
        <strong>
          {short(p50)} {unit}
        </strong>{" "}
        (8 of 10: {short(p10)} to {short(p90)} {unit})
      </span>
      {drawn && (
        <svg class="range-bar" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
          <rect x="0" y="5" width="100" height="2" class="range-track" />
          <rect x={at(p10)} y="2" width={Math.max(0.8, at(p90) - at(p10))} height="8" class="range-span" />
          <rect x={at(p50) - 0.6} y="0" width="1.2" height="12" class="range-middle" />
        </svg>
      )}
    </div>
  );
}
