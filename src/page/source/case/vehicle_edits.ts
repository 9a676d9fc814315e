/** Changes of the vehicle, and of the dates that were taken from it. */

import { knownNow } from "./assumed";
import { type CaseDocument, type Period, type Vehicle, withMember, withMembers } from "./document";

function withPeriod(document: CaseDocument, index: number, members: Partial<Period>): CaseDocument {
  return { ...document, service: document.service.map((one, i) => (i === index ? withMembers(one, members) : one)) };
}

/** Where the first use, the first period and a loom's make were taken from the build date, they go with it. */
export function withBuilt(document: CaseDocument, built: string): CaseDocument {
  const old = document.vehicle.built;
  const vehicle: Vehicle = { ...document.vehicle, built };
  if (vehicle.entered_service === old) vehicle.entered_service = built;
  const looms = document.looms.map((loom) => (loom.made === old ? { ...loom, made: built } : loom));
  const next = { ...document, vehicle, looms };
  return document.service[0]?.from === old ? withPeriod(next, 0, { from: built }) : next;
}

/** The day it was first driven; the first period of service begins with it where it did before. */
export function withEntered(document: CaseDocument, entered: string | undefined): CaseDocument {
  const old = document.vehicle.entered_service ?? document.vehicle.built;
  const vehicle = withMembers(document.vehicle, { entered_service: entered });
  const next = knownNow({ ...document, vehicle }, "/vehicle/entered_service");
  return entered && document.service[0]?.from === old ? withPeriod(next, 0, { from: entered }) : next;
}

/** Remaining life counts from this day; a last period that ended with the old one ends with the new one. */
export function withInspected(document: CaseDocument, inspected: string): CaseDocument {
  const last = document.service.length - 1;
  const next = { ...document, inspected };
  return document.service[last]?.to === document.inspected ? withPeriod(next, last, { to: inspected }) : next;
}

export function withRegion(document: CaseDocument, region: string): CaseDocument {
  return knownNow({ ...document, vehicle: { ...document.vehicle, region } }, "/vehicle/region");
}

export function withOdometer(document: CaseDocument, km: number | undefined): CaseDocument {
  const next = { ...document, vehicle: withMembers(document.vehicle, { odometer_km: km }) };
  return km === undefined ? next : knownNow(next, "/service/0/running_hours", "/vehicle/odometer_km");
}

const words = (text: string): string | undefined => (text.trim() === "" ? undefined : text);

export const withNote = (document: CaseDocument, note: string): CaseDocument => withMember(document, "note", words(note));
export const withSigned = (document: CaseDocument, by: string): CaseDocument =>
  withMember(document, "signed_by", words(by));
