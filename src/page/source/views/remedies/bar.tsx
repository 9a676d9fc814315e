import type { JSX } from "preact";

interface BarProps {
  low: number;
  mark: number;
  high: number;
  from?: number;
  to: number;
}

/** A range on a common scale. The numbers stand beside it in words, so it is hidden from screen readers. */
export function Bar({ low, mark, high, from = 0, to }: BarProps): JSX.Element {
  const place = (value: number): number => Math.min(100, Math.max(0, (100 * (value - from)) / (to - from || 1)));
  const start = place(low);
  const end = place(high);
  const beyond = high > to;
  const out = low >= to; // nothing of it is on the scale
  return (
    <span class="remedies-bar" aria-hidden="true">
      {!out && (
        <span
          class={`remedies-bar-range${beyond ? " is-beyond" : ""}`}
          style={{ left: `${start}%`, width: `${Math.max(1, end - start)}%` }}
        />
      )}
      {mark <= to && <span class="remedies-bar-mark" style={{ left: `${place(mark)}%` }} />}
      {beyond && <span class="remedies-bar-beyond">→</span>}
    </span>
  );
}
