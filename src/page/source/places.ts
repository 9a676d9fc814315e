/** The steps of the job and where one is: in the address, so that a reload returns there. */

import { signal } from "@preact/signals";

export interface Place {
  id: string;
  name: string;
  about: string;
  /** Works without an open case. */
  free?: boolean;
}

export const places: Place[] = [
  { id: "start", name: "Start", about: "Jobs on this device, new case, open a file", free: true },
  { id: "vehicle", name: "Vehicle", about: "Build date, region, odometer, assumptions" },
  { id: "loom", name: "Loom", about: "Segments, zones, coverings, wires" },
  { id: "service", name: "Service", about: "Where and how it was driven and parked" },
  { id: "estimate", name: "Estimate", about: "How far heat has aged each segment" },
  { id: "open", name: "Open next", about: "Where to look, and what was seen" },
  { id: "remedies", name: "Remedies", about: "What can be done, and what it costs" },
  { id: "report", name: "Report", about: "For the owner: to print or to save" },
  { id: "classroom", name: "Classroom", about: "Why heat ages insulation", free: true },
];

const inAddress = (): Place => places.find((one) => `#${one.id}` === window.location.hash) ?? (places[0] as Place);

export const place = signal<Place>(inAddress());

export function goTo(id: string): void {
  if (window.location.hash !== `#${id}`) window.location.hash = id;
}

window.addEventListener("hashchange", () => (place.value = inAddress()));
