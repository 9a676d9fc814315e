/** Where a value lies on a chart, and which values an axis names. */

export interface Scale {
  at(value: number): number;
  inside(value: number): boolean;
}

type By = (value: number) => number;

function scaleBy(by: By, from: number, to: number, start: number, end: number): Scale {
  const low = by(from);
  const span = by(to) - low;
  return {
    at: (value) => start + ((by(value) - low) / span) * (end - start),
    inside: (value) => value >= Math.min(from, to) && value <= Math.max(from, to),
  };
}

const zeroCelsius = 273.15;

export const linear = (from: number, to: number, start: number, end: number): Scale =>
  scaleBy((value) => value, from, to, start, end);

export const logarithmic = (from: number, to: number, start: number, end: number): Scale =>
  scaleBy(Math.log, from, to, start, end);

/** Degrees Celsius by the inverse of the absolute temperature: on it an Arrhenius law is a straight line. */
export const inverseKelvin = (from: number, to: number, start: number, end: number): Scale =>
  scaleBy((celsius) => -1 / (celsius + zeroCelsius), from, to, start, end);

/** Round numbers from 0 up to `most`, about `count` of them. */
export function roundTicks(most: number, count: number): number[] {
  const rough = most / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * power).find((one) => one >= rough) ?? rough;
  const ticks: number[] = [];
  for (let i = 0; i * step <= most * 1.000001; i += 1) ticks.push(i * step);
  return ticks;
}
