/** What `order`, `record`, `consent` and `undo` answer: the documents of the command line. */

import type { Finding } from "../../case/document";
import type { Assumption } from "../../engine/answers";

export interface Opening {
  order: number;
  id: string;
  saving: number;
  standard_error: number;
  minutes: number;
  price: number;
  harm: number;
  net: number;
  chance_cracked_now: number;
  changes_a_choice: boolean;
}

export interface TreeNode {
  open: string | null;
  chance: number;
  choose: Record<string, string>;
  branches: { seen: string[]; chance: number; next: TreeNode }[];
}

export interface Handling {
  as: string;
  chance: number;
  advice: string;
}

export type Looking = "pays" | "costs-more" | "changes-nothing" | "not-allowed" | "nothing-left";

export interface OrderAnswer {
  draws: number;
  unit: string;
  method: string;
  consent: boolean;
  step_zero: { what: string; done: boolean }[];
  looking: Looking;
  owner: { made: number; spent: number; allowed_left: number | null; cost_left: number | null };
  choices: Record<string, { id: string; name: string; segments: string[] }[]>;
  choice_now: Record<string, string>;
  openings: Opening[];
  pairs: { first: string; second: string; net: number }[];
  tree: { net_saving: number; draws: number; thinned: boolean; all_looks_kept: boolean; root: TreeNode };
  by_chance: string[];
  kept_out: string[];
  look_again: { id: string; years_after: number }[];
  handling: Record<string, Handling>;
  found_bare: { id: string; seen: string }[];
  assumptions: Assumption[];
  cautions: string[];
}

export interface RecordReply {
  case: string;
  record: {
    did: "recorded" | "taken-back" | "nothing";
    what: "finding" | "consent";
    at: string;
    finding: Finding | null;
    prediction: boolean;
    opens: boolean;
    openings: { consent: boolean; opened: string[]; allowed: number | null };
    assumptions: Assumption[];
  };
}
