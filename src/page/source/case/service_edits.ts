/** Changes of the service history. Periods that touched before touch afterwards, so no edit opens a gap or makes an overlap. */

import { knownNow } from "./assumed";
import { type CaseDocument, type Future, type Period, withMember, withMembers } from "./document";
import { Refusal, withMovedAssumptions } from "./loom_references";

/** First day that a date can mean, in days since 1970; a year alone begins on its first of January. */
export function firstDay(date: string): number {
  const [year = "1970", month = "01", day = "01"] = date.split("-");
  return Date.UTC(Number(year), Number(month) - 1, Number(day)) / 86_400_000;
}

/** Where the period ends: its own end, or the inspection. */
export const endOf = (document: CaseDocument, period: Period): string => period.to ?? document.inspected;

/** Days between the ends; 0 at least. */
export const daysOf = (document: CaseDocument, period: Period): number =>
  Math.max(0, firstDay(endOf(document, period)) - firstDay(period.from));

/** The periods by time, with their places in the case. */
export const inOrder = (document: CaseDocument): { period: Period; index: number }[] =>
  document.service.map((period, index) => ({ period, index })).sort((a, b) => firstDay(a.period.from) - firstDay(b.period.from));

/** Years off the road that no period covers. */
export interface Gap {
  /** Place of the period after it; null after the last one. */
  before: number | null;
  from: string;
  to: string;
}

export function gaps(document: CaseDocument): Gap[] {
  const order = inOrder(document);
  const found: Gap[] = [];
  const start = document.vehicle.entered_service;
  const first = order[0];
  if (start && first && firstDay(start) < firstDay(first.period.from)) found.push({ before: first.index, from: start, to: first.period.from });
  order.forEach(({ period }, i) => {
    const next = order[i + 1];
    const end = endOf(document, period);
    const until = next?.period.from ?? document.inspected;
    if (firstDay(end) < firstDay(until) && !sameTime(end, until)) found.push({ before: next?.index ?? null, from: end, to: until });
  });
  return found;
}

// 2009 and 2009-08: the one may mean the other.
const sameTime = (a: string, b: string): boolean => a.startsWith(b) || b.startsWith(a);

const put = (document: CaseDocument, index: number, members: Partial<Period>): CaseDocument => ({
  ...document,
  service: document.service.map((one, i) => (i === index ? withMembers(one, members) : one)),
});

/** How a period was driven, where, and how it was parked. Kilometres and hours exclude each other. */
export function withPeriod(document: CaseDocument, index: number, members: Partial<Omit<Period, "from" | "to">>): CaseDocument {
  const more: Partial<Period> = { ...members };
  if (members.km !== undefined) more.running_hours = undefined;
  if (members.running_hours !== undefined) more.km = undefined;
  const known = Object.keys(more).map((key) => `/service/${index}/${key}`);
  if (members.km !== undefined) known.push(`/service/${index}/running_hours`);
  return knownNow(put(document, index, more), ...known);
}

function neighbour(document: CaseDocument, index: number, step: 1 | -1): { period: Period; index: number } | undefined {
  const order = inOrder(document);
  return order[order.findIndex((one) => one.index === index) + step];
}

function between(date: string, from: string, to: string): void {
  if (!(firstDay(date) > firstDay(from) && firstDay(date) < firstDay(to)))
    throw new Refusal(`The date has to lie between ${from} and ${to}; nothing was changed.`);
}

/** The day on which a period began; one that ended there ends there still. */
export function withStart(document: CaseDocument, index: number, from: string): CaseDocument {
  const own = document.service[index];
  if (!own) return document;
  const earlier = neighbour(document, index, -1);
  if (earlier) {
    between(from, earlier.period.from, endOf(document, own));
    const touched = sameTime(endOf(document, earlier.period), own.from) || firstDay(from) < firstDay(endOf(document, earlier.period));
    return put(touched ? put(document, earlier.index, { to: from }) : document, index, { from });
  }
  if (firstDay(from) >= firstDay(endOf(document, own))) throw new Refusal(`The first period has to begin before ${endOf(document, own)}.`);
  const { vehicle } = document;
  const entered = vehicle.entered_service;
  // The first use goes with the first period where they were one day, and where the period would begin before it.
  const moves = entered !== undefined && (entered === own.from || firstDay(from) < firstDay(entered));
  const next = put(moves ? { ...document, vehicle: { ...vehicle, entered_service: from } } : document, index, { from });
  return moves ? knownNow(next, "/vehicle/entered_service") : next;
}

/** The day on which a period ended; one that began there begins there still. Empty: the last one goes on to the inspection. */
export function withEnd(document: CaseDocument, index: number, to: string | undefined): CaseDocument {
  const own = document.service[index];
  if (!own) return document;
  const later = neighbour(document, index, 1);
  if (!later) {
    if (to !== undefined && firstDay(to) <= firstDay(own.from)) throw new Refusal(`The period has to end after ${own.from}.`);
    if (to !== undefined && firstDay(to) > firstDay(document.inspected)) throw new Refusal(`The period has to end by the inspection, ${document.inspected}.`);
    return put(document, index, { to });
  }
  if (to === undefined) throw new Refusal("Only the last period may leave its end open.");
  between(to, own.from, endOf(document, later.period));
  const touched = sameTime(endOf(document, own), later.period.from) || firstDay(to) > firstDay(later.period.from);
  return put(touched ? put(document, later.index, { from: to }) : document, index, { to });
}

const shared = (whole: number | undefined, part: number): number | undefined => (whole === undefined ? undefined : Math.round(whole * part));

/** Something changed on a day: two periods instead of one, with the distance shared by their days. */
export function withSplit(document: CaseDocument, index: number, day: string): CaseDocument {
  const own = document.service[index];
  if (!own) return document;
  between(day, own.from, endOf(document, own));
  const part = (firstDay(day) - firstDay(own.from)) / Math.max(1, daysOf(document, own));
  const km = shared(own.km, part);
  const hours = shared(own.running_hours, part);
  const first = withMembers(own, { to: day, km, running_hours: hours });
  const { note: _, ...plain } = own;
  const second = withMembers(plain as Period, {
    from: day,
    km: own.km === undefined ? undefined : own.km - (km as number),
    running_hours: own.running_hours === undefined ? undefined : own.running_hours - (hours as number),
  });
  const service = document.service.flatMap((one, i) => (i === index ? [first, second] : [one]));
  const next = withMovedAssumptions({ ...document, service }, "service", (i) => (i > index ? i + 1 : i));
  // "One way of use for the whole life" holds no longer.
  return { ...next, ...(next.assumed ? { assumed: next.assumed.filter((one) => one.at !== "/service/0") } : {}) };
}

const sum = (a: number | undefined, b: number | undefined): number | undefined => (a === undefined || b === undefined ? undefined : a + b);

/** Without a period: the one before it, or after the first one, takes its time and its distance. */
export function withoutPeriod(document: CaseDocument, index: number): CaseDocument {
  const own = document.service[index];
  if (!own || document.service.length < 2) throw new Refusal("The only period stays; change what it says.");
  const earlier = neighbour(document, index, -1);
  const heir = earlier ?? neighbour(document, index, 1);
  if (!heir) return document;
  const span: Partial<Period> = earlier ? { to: own.to } : { from: own.from };
  const next = put(document, heir.index, { ...span, km: sum(heir.period.km, own.km), running_hours: sum(heir.period.running_hours, own.running_hours) });
  const service = next.service.filter((_, i) => i !== index);
  return withMovedAssumptions({ ...next, service }, "service", (i) => (i === index ? null : i > index ? i - 1 : i));
}

/** A gap as a period of its own, laid up until somebody says otherwise. */
export function withGapStated(document: CaseDocument, gap: Gap): CaseDocument {
  const order = inOrder(document);
  const beside = gap.before === null ? order[order.length - 1] : order.find((one) => one.index === gap.before);
  if (!beside) return document;
  const { km: _, running_hours: __, note: ___, ...plain } = beside.period;
  const period: Period = { ...plain, from: gap.from, to: gap.to, duty: "laid-up" };
  const at = gap.before ?? document.service.length;
  const service = [...document.service.slice(0, at), period, ...document.service.slice(at)];
  // A last period without an end would run into the new one.
  if (gap.before === null) service[beside.index] = { ...beside.period, to: gap.from };
  return withMovedAssumptions({ ...document, service }, "service", (i) => (i >= at ? i + 1 : i));
}

/** The use to come; what is left out is as in the last period. */
export function withFuture(document: CaseDocument, members: Partial<Future>): CaseDocument {
  const more: Partial<Future> = { ...members };
  if (members.km_per_year !== undefined) more.running_hours_per_year = undefined;
  if (members.running_hours_per_year !== undefined) more.km_per_year = undefined;
  const next = withMembers(document.future ?? {}, more);
  return withMember(document, "future", Object.keys(next).length > 0 ? next : undefined);
}

/** A temperature that somebody read at a segment. */
export interface Reading {
  segment: string;
  temperature_Cel: number;
  ambient_Cel: number;
  state: string;
  minutes_since_key_off?: number;
  instrument?: string;
  on?: string;
}

export function withReading(document: CaseDocument, reading: Reading): CaseDocument {
  const entry = withMembers({ ...reading } as { [key: string]: string | number }, {});
  if (reading.state !== "soak") delete entry["minutes_since_key_off"];
  if (reading.state === "peak") entry["instrument"] = "indicator";
  else if (entry["instrument"] === "indicator") delete entry["instrument"];
  for (const key of Object.keys(entry)) if (entry[key] === undefined || entry[key] === "") delete entry[key];
  return { ...document, measured: [...(document.measured ?? []), entry] };
}

export function withoutReading(document: CaseDocument, index: number): CaseDocument {
  const left = (document.measured ?? []).filter((_, i) => i !== index);
  return withMember(document, "measured", left.length > 0 ? left : undefined);
}
