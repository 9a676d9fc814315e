/** What the case states about remedies and their costs, and pure edits of it. */

import {
  type CaseDocument,
  type Costs,
  type Donor,
  type StatedRemedy,
  freshId as freshIdOf,
  withMember,
} from "../../case/document";
import type { Assumption, Offer, Question } from "./answers";

export type { Costs, Donor };
export type StatedOffer = StatedRemedy;

export const statedOffers = (document: CaseDocument): StatedOffer[] => document.remedies ?? [];
export const costsOf = (document: CaseDocument): Costs => document.costs ?? {};
export const currencyOf = (document: CaseDocument): string => document.currency ?? "";

/** Money without a currency is an error of the case, so the currency stays while money stands in it. */
export function statesMoney(document: CaseDocument): boolean {
  const costs = costsOf(document);
  return (
    costs.per_minute !== undefined ||
    costs.stop !== undefined ||
    document.openings?.cost_limit !== undefined ||
    statedOffers(document).some((offer) => offer.parts_cost !== undefined)
  );
}

/** The object without members that nothing is known of. */
export function withoutEmpty<T extends object>(object: T): T {
  const kept = Object.entries(object).filter(([, value]) => value !== undefined && value !== "");
  return Object.fromEntries(kept) as T;
}

export function withCosts(document: CaseDocument, change: Partial<Costs>): CaseDocument {
  const costs = withoutEmpty({ ...costsOf(document), ...change });
  return withMember(document, "costs", Object.keys(costs).length > 0 ? costs : undefined);
}

export function withCurrency(document: CaseDocument, currency: string): CaseDocument {
  return withMember(document, "currency", currency === "" ? undefined : currency);
}

function withOffers(document: CaseDocument, remedies: StatedOffer[]): CaseDocument {
  return withMember(document, "remedies", remedies.length > 0 ? remedies : undefined);
}

/** The covering of a built-in sleeve stands only in the words that the engine assumes it with. */
function assumedCovering(offer: Offer, assumptions: Assumption[], coverings: { id: string }[]): string | undefined {
  const words = assumptions.find((one) => one.text.startsWith(`${offer.id}: `))?.text.slice(offer.id.length + 2) ?? "";
  const named = coverings.find((one) => words.startsWith(`${one.id} over `));
  return (named ?? coverings[0])?.id;
}

/** A built-in remedy as the case would state it; what nobody knows stays unstated. */
export function asStated(offer: Offer, question: Question, assumptions: Assumption[], coverings: { id: string }[]): StatedOffer {
  const known = offer.compounds.length === 1 ? offer.compounds[0]?.insulation : undefined;
  const whole = offer.kind === "used-part" || offer.kind === "new-part" || offer.kind === "rebuilt";
  return withoutEmpty({
    id: offer.id,
    kind: offer.kind,
    name: offer.name,
    ...(whole && question.looms.length === 1 ? { loom: question.looms[0] } : { segments: offer.segments }),
    insulation: known,
    made: offer.made ?? undefined,
    covering: offer.kind === "sleeve-and-tape" ? assumedCovering(offer, assumptions, coverings) : undefined,
  });
}

/**
 * The offers that a changed one stands among: a loom of which the case states anything is no more compared with the
 * built-in kinds, so these are written down along with it.
 */
export function offersOf(
  question: Question,
  document: CaseDocument,
  assumptions: Assumption[],
  coverings: { id: string }[],
): StatedOffer[] {
  const stated = statedOffers(document);
  return question.remedies
    .filter((offer) => offer.kind !== "leave")
    .map((offer) => stated.find((one) => one.id === offer.id) ?? asStated(offer, question, assumptions, coverings));
}

/** The case with this offer in it, and with the others of the same loom if none were stated yet. */
export function withOffer(document: CaseDocument, offer: StatedOffer, others: StatedOffer[]): CaseDocument {
  const list = [...statedOffers(document)];
  for (const one of [...others.filter((other) => other.id !== offer.id), withoutEmpty(offer)]) {
    const place = list.findIndex((listed) => listed.id === one.id);
    if (place < 0) list.push(one);
    else if (one.id === offer.id) list[place] = one;
  }
  return withOffers(document, list);
}

export function withoutOffer(document: CaseDocument, id: string, others: StatedOffer[]): CaseDocument {
  const list = [...statedOffers(document)];
  for (const one of others) {
    if (!list.some((listed) => listed.id === one.id)) list.push(one);
  }
  return withOffers(
    document,
    list.filter((one) => one.id !== id),
  );
}

/** An id that no offer has yet: "used-part-top-2". */
export const freshId = (kind: string, place: string, taken: string[]): string => freshIdOf(`${kind}-${place}`, taken);

export const worksOnWires = (kind: string): boolean =>
  kind === "sleeve-and-tape" || kind === "branches" || kind === "rewire";

export const putsWireIn = (kind: string): boolean => kind !== "leave" && kind !== "sleeve-and-tape";
