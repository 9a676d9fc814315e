import type { JSX } from "preact";
import { document as caseDocument, library } from "../../store/job";
import type { CompareAnswer } from "./answers";
import { fullName, plainName } from "./names";
import { cracksWhen, percent } from "./words";

/** One loom of several insulations: on each segment the lowest class that serves it. */
export function MixedBuildSection({ answer }: { answer: CompareAnswer }): JSX.Element | null {
  const mixed = answer.mixed_build;
  if (!mixed) return null;
  const document = caseDocument.value;
  const segmentName = (id: string): string => (document ? fullName(document.segments, id) : id);
  const insulations = library.value?.insulations ?? [];
  return (
    <section aria-labelledby="remedies-mixed">
      <h2 id="remedies-mixed">A mixed build</h2>
      <p>The lowest class that serves each segment:</p>
      <ul>
        {mixed.parts.map((part) => (
          <li key={part.insulation}>
            <b>{plainName(insulations, part.insulation)}</b>: {part.segments.map(segmentName).join(", ")}
          </li>
        ))}
      </ul>
      <p>
        So built, the whole lasts {answer.wanted_years} years with a chance of {percent(mixed.chance_of_lasting)}: it{" "}
        {cracksWhen(mixed.flex_cracks_years)}. {mixed.insulation_kg.toFixed(2)} kg of insulation on{" "}
        {answer.copper_kg.toFixed(2)} kg of copper.
      </p>
      <p class="remedies-note">A wire that runs through several segments takes the highest class on its way, or is spliced.</p>
      {mixed.unserved.length > 0 && (
        <p class="remedies-mark is-struck">✕ None of those compared serves {mixed.unserved.map(segmentName).join(", ")}.</p>
      )}
      {mixed.mixed_circuits.length > 0 && (
        <p class="remedies-mark">These circuits would change insulation on their way: {mixed.mixed_circuits.join(", ")}.</p>
      )}
    </section>
  );
}
