/** What the answers about an estimate hold beside that which every view needs. */

import type { Chances, Quantiles } from "../../engine/answers";
import type { EstimateAnswer, EstimatedSegment } from "../../store/estimate_answer";

export interface BeforeFindings {
  chance: Chances;
  flex_cracks_years: number;
}

export interface Estimated extends Omit<EstimatedSegment, "before" | "chance_at" | "worst_at_m"> {
  worst_at_m: number | null;
  before: BeforeFindings | null;
  chance_at: { years_after: number; chance: Chances }[];
  /** Its feel gives little warning. */
  guarded?: boolean;
}

export interface Learned {
  findings: number;
  effective_sample: number;
  replaced_chance: number | null;
  warnings: string[];
}

export interface MapAnswer {
  svg: string;
}

export interface CurvesAnswer {
  ageing_svg: string;
  life_svg: string;
  heat_svg: string;
  curve: { points: { years: number; elongation_percent: Quantiles }[] };
}

export const segmentsOf = (answer: EstimateAnswer): Estimated[] => answer.segments as unknown as Estimated[];
export const learnedOf = (answer: EstimateAnswer): Learned | null => answer.learned as Learned | null;
