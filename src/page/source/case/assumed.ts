/** What stands in a case without being known: listed until somebody knows it. */

import { type CaseDocument, withMember } from "./document";

/** Takes the assumptions at a place, and below it, off the list: it is known now. */
export function knownNow(document: CaseDocument, ...places: string[]): CaseDocument {
  const about = (at: string): boolean => places.some((place) => at === place || at.startsWith(`${place}/`));
  const left = document.assumed?.filter((one) => !about(one.at));
  if (!left || left.length === document.assumed?.length) return document;
  return withMember(document, "assumed", left.length > 0 ? left : undefined);
}
