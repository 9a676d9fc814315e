/** What was fitted in a region and year, by the library: what "unknown" stands for. */

import type { CaseDocument, Loom } from "../../case/document";
import type { Library } from "../../engine/answers";
import { nameIn } from "./words";

export interface Fitted {
  /** Weights by insulation, heaviest first. */
  candidates: Record<string, number>;
  words: string;
}

export function fittedThen(document: CaseDocument, loom: Loom, library: Library | null): Fitted {
  const region = loom.region ?? document.vehicle.region;
  const year = Number((loom.made ?? loom.fitted ?? document.vehicle.built).slice(0, 4));
  const decade = library?.eras.find((one) => one.region === region && one.from <= year && year <= one.to);
  const place = `${nameIn(library?.regions, region)}, ${year}`;
  if (!decade) return { candidates: {}, words: `The library has nothing for ${place}.` };
  const sorted = [...decade.candidates].sort((a, b) => b.weight - a.weight);
  const list = sorted.map((one) => `${nameIn(library?.insulations, one.insulation)} ${Math.round(one.weight * 100)} %`);
  return {
    candidates: Object.fromEntries(sorted.map((one) => [one.insulation, one.weight])),
    words: `Until somebody knows, it counts as what was fitted then (${place}; judgement): ${list.join(", ")}.`,
  };
}
