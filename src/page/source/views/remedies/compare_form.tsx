import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { Amount } from "../../parts/amount";
import { Big } from "../../parts/big";
import { Choice } from "../../parts/choice";
import { Pick } from "../../parts/pick";
import { library } from "../../store/job";
import { WhatIfPlaces } from "./what_if_places";

/** What somebody wants to compare. */
export interface Wishes {
  all: boolean;
  insulations: string[];
  years: number;
  chance: number; // in 100
  sleeves: string[]; // SEGMENT or SEGMENT/STRETCH, =, COVERING
  reroutes: string[]; // SEGMENT or SEGMENT/STRETCH, =, ZONE
  ambient: number; // kelvin
  duty: string;
}

export const startingWishes: Wishes = {
  all: true,
  insulations: [],
  years: 15,
  chance: 50,
  sleeves: [],
  reroutes: [],
  ambient: 0,
  duty: "",
};

/** The request to the engine; what changes nothing stays out of it. */
export function requestOf(wishes: Wishes): Record<string, unknown> {
  return {
    ...(wishes.all ? { all: true } : { insulations: wishes.insulations }),
    years: wishes.years,
    chance: wishes.chance,
    ...(wishes.sleeves.length > 0 && { sleeve: wishes.sleeves }),
    ...(wishes.reroutes.length > 0 && { reroute: wishes.reroutes }),
    ...(wishes.ambient !== 0 && { ambient: wishes.ambient }),
    ...(wishes.duty !== "" && { duty: wishes.duty }),
  };
}

const asks = (wishes: Wishes): boolean =>
  wishes.all ||
  wishes.insulations.length > 0 ||
  wishes.sleeves.length + wishes.reroutes.length > 0 ||
  wishes.ambient !== 0 ||
  wishes.duty !== "";

interface CompareFormProps {
  wishes: Wishes;
  document: CaseDocument;
  onChange: (wishes: Wishes) => void;
  onCompare: () => void;
}

const which = [
  { id: "all", name: "All of the library" },
  { id: "some", name: "Only some" },
];

export function CompareForm({ wishes, document, onChange, onCompare }: CompareFormProps): JSX.Element {
  const put = (changes: Partial<Wishes>): void => onChange({ ...wishes, ...changes });
  const insulations = (library.value?.insulations ?? []).map((one) => ({ id: one.id, name: one.name }));
  const duties = [{ id: "", name: "as now" }, ...(library.value?.duties ?? [])];
  return (
    <section aria-labelledby="remedies-compare">
      <h2 id="remedies-compare">What to compare</h2>
      <p>New wires of one compound on the route of this case, each as if the whole loom were made of it.</p>
      <Choice
        label="Compounds"
        options={which}
        value={wishes.all ? "all" : "some"}
        onChange={(id: string) => put({ all: id === "all" })}
      />
      {!wishes.all && (
        <>
          <Choice
            label="Choose one or more"
            many
            options={insulations}
            value={wishes.insulations}
            onChange={(ids: string[]) => put({ insulations: ids })}
          />
          {wishes.insulations.length === 0 && (
            <p class="remedies-note">None chosen: the wires that are in now, with the changes below.</p>
          )}
        </>
      )}
      <div class="remedies-fields">
        <Amount
          label="Wanted life"
          unit="years"
          value={wishes.years}
          step={1}
          min={1}
          max={40}
          onChange={(years: number | null) => years !== null && put({ years })}
        />
        <Amount
          label="Chance of lasting so long that a zone asks for"
          unit="in 100"
          value={wishes.chance}
          step={5}
          min={1}
          max={99}
          onChange={(chance: number | null) => chance !== null && put({ chance })}
        />
      </div>
      <details class="remedies-what-if">
        <summary>What if something else were changed</summary>
        <div class="remedies-fields">
          <Amount
            label="Climate to come, warmer by"
            unit="K"
            value={wishes.ambient}
            step={1}
            min={-20}
            max={20}
            onChange={(ambient: number | null) => ambient !== null && put({ ambient })}
          />
          <Pick label="Use to come" options={duties} value={wishes.duty} onChange={(duty: string) => put({ duty })} />
        </div>
        <WhatIfPlaces
          title="Another covering"
          verb="gets"
          choices={library.value?.coverings ?? []}
          document={document}
          value={wishes.sleeves}
          onChange={(sleeves) => put({ sleeves })}
        />
        <WhatIfPlaces
          title="Another route"
          verb="goes through"
          choices={library.value?.zones ?? []}
          document={document}
          value={wishes.reroutes}
          onChange={(reroutes) => put({ reroutes })}
        />
      </details>
      <div class="row">
        <Big primary disabled={!asks(wishes)} onPress={onCompare}>
          Compare
        </Big>
      </div>
    </section>
  );
}
