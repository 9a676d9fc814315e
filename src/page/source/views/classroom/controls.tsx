import type { JSX } from "preact";
import { Amount } from "../../parts/amount";
import { Pick } from "../../parts/pick";
import { library } from "../../store/job";
import type { Wish } from "./lesson";

interface SliderProps {
  label: string;
  unit: string;
  value: number;
  min: number;
  max: number;
  step: number;
  onChange: (value: number) => void;
}

/** A number with buttons for those who do not drag, and the same as a slider for those who do. */
function Slider({ label, unit, value, min, max, step, onChange }: SliderProps): JSX.Element {
  return (
    <div class="classroom-slider">
      <Amount
        label={label}
        unit={unit}
        value={value}
        step={step}
        min={min}
        max={max}
        onChange={(next) => next !== null && onChange(next)}
      />
      <input
        type="range"
        aria-label={`${label}, slider`}
        min={min}
        max={max}
        step={step}
        value={value}
        aria-valuetext={`${value} ${unit}`}
        onInput={(event) => onChange(Number(event.currentTarget.value))}
      />
    </div>
  );
}

export const ranges = { celsius: { min: 20, max: 200 }, years: { min: 1, max: 40 } };

interface WishProps {
  wish: Wish;
  onChange: (wish: Wish) => void;
}

/** The compound, and a second one to compare with. */
export function Compounds({ wish, onChange }: WishProps): JSX.Element {
  const compounds = (library.value?.insulations ?? []).map((one) => ({ id: one.id, name: `${one.name} (${one.id})` }));
  const others = compounds.filter((one) => one.id !== wish.insulation);
  const choose = (insulation: string): void =>
    onChange({ ...wish, insulation, second: wish.second === insulation ? "" : wish.second });
  return (
    <div class="classroom-compounds">
      <Pick label="Compound" options={compounds} value={wish.insulation} onChange={choose} />
      <Pick
        label="Compare with"
        options={[{ id: "", name: "no other" }, ...others]}
        value={wish.second}
        onChange={(second: string) => onChange({ ...wish, second })}
      />
    </div>
  );
}

/** Temperature and years. */
export function Sliders({ wish, onChange }: WishProps): JSX.Element {
  return (
    <div class="classroom-sliders">
      <Slider
        label="Temperature"
        unit="°C"
        value={wish.celsius}
        step={1}
        {...ranges.celsius}
        onChange={(celsius) => onChange({ ...wish, celsius })}
      />
      <Slider
        label="Years"
        unit="years"
        value={wish.years}
        step={1}
        {...ranges.years}
        onChange={(years) => onChange({ ...wish, years })}
      />
    </div>
  );
}
