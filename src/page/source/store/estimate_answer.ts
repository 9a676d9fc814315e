/** What `estimate` answers: the document of `estimate --json`. */

import type { Assumption, Chances, Quantiles } from "../engine/answers";

export interface EstimatedSegment {
  id: string;
  name: string;
  loom: string;
  lot: string;
  insulation: string;
  compound_known: boolean;
  compound_chance: number;
  weakest_rank: number;
  worst_stretch: string;
  zone: string;
  worst_at_m: number;
  elongation_percent: Quantiles;
  condition: { most_likely: string; chance: Chances };
  remaining_years: { flex_cracks: Quantiles; cracked: Quantiles };
  chance_cracked_now: number;
  equivalent_temperature_Cel: number;
  damage_share: { running: number; soak: number; parked: number };
  chance_at: unknown[];
  before: unknown;
  spread: { cause: string; share: number }[];
}

export interface EstimateAnswer {
  format: "heatside-estimate";
  engine: string;
  case: string;
  case_sha256: string;
  title: string;
  invented: boolean;
  inspected: string;
  draws: number;
  seed: number;
  segments: EstimatedSegment[];
  measured: { zones: unknown[]; readings: unknown[]; warnings: unknown[] };
  learned: unknown;
  unknowns: { name: string; words: string; law: string; source: string; grade: string }[];
  assumptions: Assumption[];
  not_computed_with: string[];
  rests_on: { kind: string; id: string; name: string; weakest_grade: string; soft: boolean }[];
  cautions: string[];
}
