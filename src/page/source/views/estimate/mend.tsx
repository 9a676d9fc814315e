import type { JSX } from "preact";
import type { Problem } from "../../engine/ask";
import { Big, Problems } from "../../parts";
import { goTo, places } from "../../places";

// The step where a part of the case is edited, by the first name of its place in the file.
const steps: Record<string, string> = {
  vehicle: "vehicle", inspected: "vehicle", title: "vehicle", currency: "remedies",
  looms: "loom", lots: "loom", nodes: "loom", segments: "loom", circuits: "loom", measured: "service",
  service: "service", future: "service",
  findings: "open", openings: "open", recorded: "open", predictions: "open",
  remedies: "remedies", costs: "remedies",
};

function stepsFor(problems: Problem[], here: string): string[] {
  const ids = problems.map(({ place }) => steps[place.split("/")[1] ?? ""]);
  return [...new Set(ids.filter((id): id is string => id !== undefined && id !== here))];
}

/** What is wrong with the case, and the way to where it can be mended. */
export function Mend({ problems, here, title }: { problems: Problem[]; here: string; title?: string }): JSX.Element {
  return (
    <>
      <Problems problems={problems} title={title} />
      <div class="row">
        {stepsFor(problems, here).map((id) => (
          <Big key={id} primary onPress={() => goTo(id)}>
            Mend it at {places.find((place) => place.id === id)?.name ?? id}
          </Big>
        ))}
      </div>
    </>
  );
}
