/** The case file as data. Members that are not named here stay where they are when the case is changed. */

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** YYYY-MM-DD, YYYY-MM or YYYY. */
export type DateText = string;

export interface RunningMix {
  cruise: number;
  city: number;
  idle: number;
  hill: number;
}

export interface OwnTrips {
  trips_per_week: number;
  trip_minutes: number;
  running_mix: RunningMix;
}

export type Parking = "open" | "shade" | "garage";
export type Duty = string | OwnTrips;

export interface Vehicle {
  built: DateText;
  entered_service?: DateText;
  region: string;
  odometer_km?: number;
}

export interface Period {
  from: DateText;
  to?: DateText;
  climate: string;
  duty: Duty;
  km?: number;
  running_hours?: number;
  parking?: Parking;
  note?: string;
}

export interface Future {
  climate?: string;
  duty?: Duty;
  km_per_year?: number;
  running_hours_per_year?: number;
  parking?: Parking;
  note?: string;
}

export interface Donor {
  from?: DateText;
  to?: DateText;
  years?: number;
  climate?: string;
  duty?: Duty;
  usage?: number;
  km?: number;
  parking?: Parking;
  note?: string;
}

export interface Loom {
  id: string;
  name?: string;
  made?: DateText;
  fitted?: DateText;
  date_code?: string;
  copper?: "bare" | "tinned";
  region?: string;
  donor?: Donor;
  note?: string;
}

export interface Candidates {
  candidates: Record<string, number>;
}

export type InsulationChoice = string | Candidates;
export type Wall = "thin" | "thick" | { wall_mm: number; outer_diameter_mm: number };

export interface Lot {
  id: string;
  name?: string;
  loom: string;
  insulation: InsulationChoice;
  size: string;
  wall: Wall;
  note?: string;
}

export interface Terminal {
  zone: string;
  surface_Cel?: RunningMix;
  cools_with?: "engine" | "exhaust";
}

export interface CaseNode {
  id: string;
  name?: string;
  note?: string;
  terminal?: Terminal;
}

export interface HotBody {
  shape: "cylinder" | "plate";
  size_mm: number;
  distance_mm: number;
  surface_Cel?: RunningMix;
  shield: "none" | "sleeve" | "panel";
  clean_shield?: boolean;
}

export interface Stretch {
  id?: string;
  zone: string;
  share?: number;
  covering?: string;
  damp?: boolean;
  air_speed_m_per_s?: Json;
  hot_bodies?: HotBody[];
  note?: string;
}

export interface WireGroup {
  lot: string;
  count: number;
  size?: string;
  wall?: Wall;
  current_A?: number;
  loaded?: number;
  current_share?: number;
  place?: "outer" | "inner";
  function?: string;
  note?: string;
}

export interface Leak {
  fluid: "oil" | "coolant";
  since: DateText;
}

export interface Segment {
  id: string;
  name?: string;
  loom: string;
  from: string;
  to: string;
  length_m: number;
  route_radius_mm?: number;
  cover_group?: string;
  minutes_to_open?: number;
  airbag?: boolean;
  stretches: Stretch[];
  groups: WireGroup[];
  leaks?: Leak[];
  note?: string;
}

export interface Symptoms {
  misfire?: boolean;
  stored_faults?: string[];
  blown_fuses?: string[];
  none?: boolean;
  note?: string;
}

export interface Circuit {
  id: string;
  function?: string;
  segments?: Json[];
  plug?: string;
  cavity?: string;
  colour?: string;
  size?: string;
  fuse_A?: number;
  unfused?: boolean;
  splice?: string;
  screened?: boolean;
  twisted?: boolean;
  note?: string;
}

export type Seen = "supple" | "stiff" | "flex-cracks" | "cracked" | "crumbling" | "not-seen" | "altered";
export type Cause = "heat" | "chafe" | "gnawed" | "overload" | "fluid" | "workmanship" | "unsure";

export interface Finding {
  segment?: string;
  stretch?: string;
  lot?: string;
  seen?: Seen;
  altered_on?: DateText;
  method?: string;
  bend?: { [key: string]: Json };
  elongation?: { [key: string]: Json };
  resistance?: { [key: string]: Json };
  cause?: Cause;
  signs?: string[];
  clues?: string[];
  on?: DateText;
  by?: string;
  note?: string;
}

export interface Openings {
  allowed?: number;
  cost_limit?: number;
  consent?: boolean;
  note?: string;
}

export interface Costs {
  per_minute?: number;
  stop?: number;
  horizon_years?: number;
  discount_percent?: number;
  note?: string;
}

export interface StatedRemedy {
  id: string;
  name?: string;
  kind: string;
  loom?: string;
  segments?: string[];
  insulation?: InsulationChoice;
  made?: DateText;
  date_code?: string;
  donor?: Donor;
  covering?: string;
  parts_cost?: number;
  minutes?: number;
  lead_days?: number;
  note?: string;
}

export interface StatedAssumption {
  at: string;
  text: string;
  grade: string;
}

export interface CaseDocument {
  format: "heatside-case";
  version: 1;
  title: string;
  note?: string;
  invented?: boolean;
  currency?: string;
  vehicle: Vehicle;
  inspected: DateText;
  service: Period[];
  future?: Future;
  looms: Loom[];
  lots: Lot[];
  nodes: CaseNode[];
  segments: Segment[];
  symptoms?: Symptoms;
  circuits?: Circuit[];
  remedies?: StatedRemedy[];
  costs?: Costs;
  measured?: { [key: string]: Json }[];
  findings?: Finding[];
  openings?: Openings;
  predictions?: { [key: string]: Json }[];
  recorded?: { [key: string]: Json }[];
  signed_by?: string;
  assumed?: StatedAssumption[];
}

/** The text has been through the engine's reader, which is far stricter than this. */
export const parsed = (text: string): CaseDocument => JSON.parse(text) as CaseDocument;

export const written = (document: CaseDocument): string => JSON.stringify(document, null, 2) + "\n";

/** The document with one member put in or, where it is undefined, left out. */
export function withMember<Key extends keyof CaseDocument>(
  document: CaseDocument,
  key: Key,
  value: CaseDocument[Key] | undefined,
): CaseDocument {
  const next: CaseDocument = { ...document };
  if (value === undefined) delete next[key];
  else next[key] = value;
  return next;
}

/** Members of any object put in or, where they are undefined, left out. */
export function withMembers<T extends object>(of: T, members: Partial<T>): T {
  const next: T = { ...of, ...members };
  for (const key of Object.keys(members) as (keyof T)[]) if (members[key] === undefined) delete next[key];
  return next;
}

/** An id of allowed letters that no member of the list has: words become "words", "words-2", … */
export function freshId(words: string, taken: Iterable<string>): string {
  const used = new Set(taken);
  const plain = words.normalize("NFKD").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
  const stem = plain.slice(0, 58) || "part";
  if (!used.has(stem)) return stem;
  for (let count = 2; ; count++) if (!used.has(`${stem}-${count}`)) return `${stem}-${count}`;
}

/** "branch to coil 2", or its id where it has no name. */
export const nameOf = (one: { id: string; name?: string } | undefined, id = ""): string => one?.name || one?.id || id;
