/** The opening order in words, as the command line has them; names stand for ids. */

import { library } from "../../store/job";
import { loomName, segmentName } from "../estimate/names";
import { counted } from "../estimate/words";
import type { OrderAnswer, TreeNode } from "./answers";

const mostYears = 40; // beyond them other causes come first
const daysPerYear = 365.25;

export function money(amount: number, unit: string): string {
  return `${Math.round(amount)} ${unit === "min" ? "minutes of work" : unit}`;
}

/** What of the choice is another one than without looking; empty: nothing. */
export function changedChoice(order: OrderAnswer, chosen: Record<string, string>): string {
  const changed = Object.entries(chosen).filter(([loom, id]) => order.choice_now[loom] !== id);
  return choiceWords(order, Object.fromEntries(changed));
}

/** "“supple” or “stiff”" */
export function seenWords(seen: string[]): string {
  return seen.map((id) => `“${seenWord(id)}”`).join(" or ");
}

/** The word of what was seen, inside a sentence. */
export function seenWord(id: string): string {
  return (library.value?.seen.find((one) => one.id === id)?.name ?? id).toLowerCase();
}

/** "top engine loom: another loom in its place; main engine loom: leave it and watch" */
export function choiceWords(order: OrderAnswer, chosen: Record<string, string>): string {
  return Object.entries(chosen)
    .map(([loom, id]) => `${loomName(loom)}: ${order.choices[loom]?.find((one) => one.id === id)?.name || id}`)
    .join("; ");
}

function mostLooks(node: TreeNode): number {
  return node.open === null ? 0 : 1 + Math.max(0, ...node.branches.map((branch) => mostLooks(branch.next)));
}

function times(count: number): string {
  if (count < 3) return count === 2 ? "up to twice" : "once";
  return `up to ${count === 3 ? "three" : count} times`;
}

/** What looking is worth: the reason to open. */
export function reasonWords(order: OrderAnswer): string {
  const { tree } = order;
  const looks = `looking ${times(mostLooks(tree.root))}`;
  const worth =
    tree.net_saving < 0.5
      ? `${looks} saves no money, but what it may find bare cannot be left as it is`
      : `${looks} is expected to save ${money(tree.net_saving, order.unit)} after its costs`;
  return `Chosen now, without looking, the best would be ${choiceWords(order, order.choice_now)}; ${worth}.`;
}

/** Why the first of the tree need not be the first of the list. */
export function aheadWords(order: OrderAnswer): string {
  const first = order.openings[0];
  const { root } = order.tree;
  if (order.looking !== "pays" || root.open === null || !first) return "";
  if (first.net <= 0) {
    const pair = order.pairs[0];
    if (!pair || pair.net <= 0) return "No single opening and no pair pays by itself; the way through the tree does.";
    const [one, other] = [segmentName(pair.first), segmentName(pair.second)];
    return `No single opening pays by itself; ${one} and then, where the first leaves it open, ${other} together save ${money(pair.net, order.unit)} after their costs.`;
  }
  const looks = mostLooks(root);
  if (first.id === root.open || looks < 2) return "";
  return `The list looks one step ahead, the tree ${looks}: they need not begin with the same.`;
}

function stopReason(order: OrderAnswer, segments: number): string {
  switch (order.looking) {
    case "changes-nothing":
      return "More looking would not change this choice";
    case "not-allowed":
      if (order.owner.allowed_left !== 0) return "No opening costs as little as the owner allows";
      return order.owner.made > 0 ? "The owner allows no further opening" : "The owner allows no opening";
    case "nothing-left":
      if (order.kept_out.length === segments) return "All segments carry airbag circuits and are not opened";
      return order.kept_out.length === 0 ? "Everything is open" : "All that is left carries airbag circuits";
    default:
      return order.openings.some((one) => one.changes_a_choice)
        ? "More looking costs more than it is expected to save"
        : "No single opening would change this choice, and several together are expected to cost more than they save";
  }
}

/** When to stop, and what is chosen then. */
export function stopWords(order: OrderAnswer, segments: number): string {
  return `${stopReason(order, segments)}: ${choiceWords(order, order.choice_now)}.`;
}

/** "2031-04" */
function monthAfter(day: string, years: number): string {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Date(Date.UTC(year, month - 1, date + Math.round(years * daysPerYear))).toISOString().slice(0, 7);
}

/** When to look again at what stays closed. */
export function lookAgainWords(order: OrderAnswer, inspected: string): string[] {
  const names = (wanted: (years: number) => boolean): string[] =>
    order.look_again.filter((one) => wanted(one.years_after)).map((one) => segmentName(one.id));
  const over = names((years) => years <= 0);
  const later = names((years) => years > mostYears);
  const dated = order.look_again
    .filter((one) => one.years_after > 0 && one.years_after <= mostYears)
    .map((one) => `${segmentName(one.id)} by ${monthAfter(inspected, one.years_after)}`);
  return [
    ...(over.length > 0 ? [`That time is over for: ${over.join("; ")}.`] : []),
    ...dated.map((one) => `${one}.`),
    ...(later.length > 0 ? [`Over ${mostYears} years by heat alone, so that other causes come first: ${later.join("; ")}.`] : []),
  ];
}

/** What the owner allows, and what of it is used. */
export function allowedWords(order: OrderAnswer, allowed: number | undefined, limit: number | undefined): string[] {
  const { made, spent, allowed_left, cost_left } = order.owner;
  const words: string[] = [];
  if (allowed !== undefined && allowed_left !== null)
    words.push(`The owner allows ${counted(allowed, "opening")}; ${made} made, ${allowed_left} left.`);
  if (limit !== undefined && cost_left !== null)
    words.push(`The owner allows ${money(limit, order.unit)} for the minutes of all openings; ${money(spent, order.unit)} spent, ${money(cost_left, order.unit)} left.`);
  return words;
}
