/** Names for ids, from the case and from the library. */

import { nameOf } from "../../case/document";
import { document, library } from "../../store/job";

export function segmentName(id: string): string {
  return nameOf(document.value?.segments.find((one) => one.id === id), id);
}

export function loomName(id: string): string {
  return nameOf(document.value?.looms.find((one) => one.id === id), id);
}

export function lotName(id: string): string {
  return nameOf(document.value?.lots.find((one) => one.id === id), id);
}

export function zoneName(id: string): string {
  return library.value?.zones.find((one) => one.id === id)?.name ?? id;
}

export function insulationName(id: string): string {
  return library.value?.insulations.find((one) => one.id === id)?.name ?? id;
}
