/** What the engine answers about remedies and insulations: the same JSON as on the command line. */

export interface Quantiles {
  p10: number;
  p50: number;
  p90: number;
  capped?: boolean;
}

export interface Weakest {
  id: string;
  renewed: boolean;
  flex_cracks: Quantiles;
}

export interface Cost {
  expected: number;
  standard_error: number;
  p5: number;
  p95: number;
  parts: number;
  work: number;
  breaks: number;
  faults: number;
}

export interface AfterFault {
  looms: string[];
  chance: number;
  renewal: string;
  price: number;
}

export interface Offer {
  id: string;
  name: string;
  kind: string;
  stated: boolean;
  segments: string[];
  compounds: { insulation: string; chance: number }[];
  made: string | null;
  allowed: boolean;
  struck_out: string[];
  conditions: string[];
  cost: Cost;
  chance_cheapest: number;
  chance_of_a_fault: number;
  expected_faults: number;
  after_the_first_fault: AfterFault[];
  chance_of_a_stop: { chance: number; segments_counted: number; segments: number } | null;
  minutes: number;
  lead_days: number;
  weakest_left_in: Weakest | null;
  weakest: Weakest;
}

export interface WorthKnowing {
  what: string;
  saving: number;
  standard_error: number;
  chance_of_change: number;
  instead: string;
}

export interface UsedPart {
  id: string;
  compound: string;
  price: number;
  oldest: string | null;
  any_age: boolean;
  best_of_the_others: number;
}

export interface Question {
  id: string;
  looms: string[];
  stated: boolean;
  advice: string;
  best: string | null;
  remedies: Offer[];
  cheapest_by_cost_of_a_stop: { from_stop: number; id: string }[];
  worth_knowing: WorthKnowing[];
  worth_looking: { id: string; saving: number; standard_error: number }[];
  used_parts: UsedPart[];
}

export interface Assumption {
  at: string;
  text: string;
  grade: string;
}

export interface RemediesAnswer {
  title: string;
  draws: number;
  unit: string;
  per_minute: number;
  stop: number;
  horizon_years: number;
  discount_per_year: number;
  choices: Question[];
  every_remedy_ends_with: string[];
  assumptions: Assumption[];
}

export interface PlanCircuit {
  id: string;
  plug: string;
  cavity: string;
  function: string;
  colour: string;
  size: string;
  fuse_A: number | null;
  splice: string;
  screened: boolean;
  twisted: boolean;
  unfused: boolean;
  never_traded: boolean;
  milliohms: number | null;
  missing: string[];
}

export interface PlanSegment {
  id: string;
  from: string;
  to: string;
  length_m: number;
  route_radius_mm: number | null;
  wires: number;
  sizes: string[];
  places: string[];
  heat: string[];
  cover_group: string;
  leak: boolean;
}

export interface Plan {
  id: string;
  is_wiring_plan: boolean;
  before: string[];
  photograph_and_label: { id: string; name: string; segments: string[] }[];
  circuits: PlanCircuit[];
  route: PlanSegment[];
  after: string[];
  look_again: string | null;
}

export interface PlanAnswer {
  text: string;
  plan?: Plan;
}

export interface Lasting {
  flex_cracks_years: Quantiles;
  cracked_years: Quantiles;
  chance_of_lasting: number;
}

export interface Heat {
  hottest_Cel: Quantiles;
  when: string;
  limit_Cel: number;
  margin_K: Quantiles;
  hours_a_year_above: number;
  serves: boolean;
}

export interface Change {
  before: Lasting;
  gain_years: Quantiles;
  hottest_before_Cel: number | null;
}

export interface Candidate extends Lasting {
  rank: number;
  insulation: string | null;
  name: string;
  class: string | null;
  limit_Cel: number;
  obsolete: boolean;
  weakest_grade: string | null;
  standard_error: number;
  weakest_segment: string;
  insulation_kg: number;
  zones: (Lasting & Heat & { zone: string; segments: string[] })[];
  segments: (Lasting & Heat & { id: string; loom: string; zone: string; change: Change | null })[];
  change: Change | null;
}

export interface ZoneNeed {
  zone: string;
  segments: string[];
  hottest_Cel: Quantiles;
  when: string;
  class: string | null;
  class_at_p90: string | null;
  lowest_that_serves: string | null;
}

export interface MixedBuild extends Lasting {
  parts: { insulation: string; segments: string[] }[];
  unserved: string[];
  mixed_circuits: string[];
  standard_error: number;
  insulation_kg: number;
}

export interface CompareAnswer {
  draws: number;
  years_from: string;
  wanted_years: number;
  wanted_chance: number;
  changes: string[];
  candidates: Candidate[];
  zones: ZoneNeed[];
  mixed_build: MixedBuild | null;
  copper_kg: number;
  warnings: string[];
  assumptions: Assumption[];
}
