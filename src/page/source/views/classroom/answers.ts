/** What the engine answers to a class. */

export interface Quantiles {
  p10: number;
  p50: number;
  p90: number;
  capped?: boolean;
}

/** Hours that lie beyond every calendar are null. */
export interface Hours {
  p10: number | null;
  p50: number | null;
  p90: number | null;
}

export interface Lesson {
  insulation: string;
  name: string;
  class: string | null;
  rating_Cel: number;
  life_point: { temperature_Cel: number; hours: number };
  temperature_Cel: number;
  years: number;
  points: { years: number; elongation_percent: Quantiles }[];
  limits: { stiff: number; flex_cracks: number; cracked: number; crumbling: number };
  life_line: { temperature_Cel: number; hours: Hours; straight_hours: number | null }[];
  now: { elongation_percent: Quantiles; chance: Record<string, number>; most_likely: string };
  reached_years: { stiff: Quantiles; flex_cracks: Quantiles; cracked: Quantiles; crumbling: Quantiles };
  life_hours: Hours | null;
}

export interface LessonAnswer {
  lessons: Lesson[];
}

export interface TopicAnswer {
  topic: string;
  title: string;
  paragraphs: string[];
  note: string;
  fields: { name: string; type: string; description: string; unit?: string }[];
  rows: Record<string, unknown>[];
  svg: string;
}
