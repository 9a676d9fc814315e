/** Answers of the engine that several views use; what only one view needs stands beside that view. */

export interface Named {
  id: string;
  name: string;
  note?: string;
}

export interface ConditionWords extends Named {
  means: string;
  handling: string;
}

export interface InsulationWords extends Named {
  abbreviation: string;
  family: string;
  class: string | null;
  class_Cel: number | null;
  rating_Cel: number;
  in_use_from: number;
  in_use_to: number | null;
}

export interface MethodWords extends Named {
  opens: boolean;
  gives: "seen" | "bend" | "elongation" | "resistance";
  how: string;
  before: string[];
}

export interface EraDecade {
  region: string;
  from: number;
  to: number;
  candidates: { insulation: string; weight: number }[];
}

export interface RemedyKindWords extends Named {
  act: string;
  about: string;
  stays_in: string;
}

export interface Ink {
  hex: string;
  dash: string;
  dash_hex: string | null;
  dash_width: number;
}

export interface Library {
  engine: string;
  conditions: ConditionWords[];
  seen: Named[];
  causes: Named[];
  signs: Named[];
  parkings: Named[];
  running_states: Named[];
  walls: Named[];
  coppers: Named[];
  fluids: Named[];
  shapes: Named[];
  shields: Named[];
  templates: (Named & { segments: number })[];
  regions: Named[];
  eras: EraDecade[];
  climates: (Named & { generic: boolean; place: string })[];
  duties: (Named & { minutes_a_week: number })[];
  zones: (Named & { radiant: boolean; bound: string })[];
  coverings: (Named & { rating_Cel: number; effect: string })[];
  insulations: InsulationWords[];
  methods: MethodWords[];
  clues: (Named & { found_by: string; how: string })[];
  conductors: string[];
  functions: Named[];
  remedy_kinds: RemedyKindWords[];
  covers: string[];
  cautions: string[];
  colours: Record<string, Ink>;
}

export interface Assumption {
  at: string;
  text: string;
  grade: string;
}

export interface CheckAnswer {
  engine: string;
  files: {
    file: string;
    kind: string;
    problems: { at: string; text: string }[];
    assumptions: Assumption[];
    not_computed_with: string[];
  }[];
}

/** 10 %, 50 % and 90 % of what is believed. */
export interface Quantiles {
  p10: number;
  p50: number;
  p90: number;
  capped?: boolean;
}

export type Chances = Record<string, number>;
