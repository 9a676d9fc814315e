import type { ComponentChildren, JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import type { Offer, Plan, PlanCircuit, PlanSegment, RemediesAnswer } from "./answers";
import { counted, money } from "./words";

interface PlanPaperProps {
  plan: Plan;
  offer: Offer;
  answer: RemediesAnswer;
  document: CaseDocument;
  cautions: string[];
}

const orDash = (text: string): string => (text === "" ? "–" : text);

function Boxes({ children }: { children: ComponentChildren }): JSX.Element {
  return <ul class="remedies-boxes">{children}</ul>;
}

function Box({ children }: { children: ComponentChildren }): JSX.Element {
  return (
    <li>
      <span class="remedies-box" aria-hidden="true" />
      {children}
    </li>
  );
}

function fuseOf(circuit: PlanCircuit): string {
  if (circuit.fuse_A !== null) return `${circuit.fuse_A} A`;
  return circuit.unfused ? "none" : "–";
}

function screenOf(circuit: PlanCircuit): string {
  return orDash([circuit.screened ? "screened" : "", circuit.twisted ? "twisted" : ""].filter(Boolean).join(", "));
}

function WiringTable({ circuits }: { circuits: PlanCircuit[] }): JSX.Element {
  const heads = ["Circuit", "Plug", "Cavity", "Function", "Colour", "Size", "Fuse", "Splice", "Screen", "mΩ"];
  return (
    <>
      <div class="table-box" role="region" aria-label="Wiring plan" tabIndex={0}>
        <table class="remedies-table">
          <thead>
            <tr>
              <th scope="col">Done</th>
              {heads.map((head) => (
                <th scope="col" key={head}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {circuits.map((circuit) => (
              <tr key={circuit.id}>
                <td>
                  <span class="remedies-box" aria-hidden="true" />
                </td>
                <th scope="row">
                  {circuit.id}
                  {circuit.never_traded ? " !" : ""}
                </th>
                <td>{orDash(circuit.plug)}</td>
                <td>{orDash(circuit.cavity)}</td>
                <td>{orDash(circuit.function)}</td>
                <td>{orDash(circuit.colour)}</td>
                <td>{orDash(circuit.size)}</td>
                <td>{fuseOf(circuit)}</td>
                <td>{orDash(circuit.splice)}</td>
                <td>{screenOf(circuit)}</td>
                <td>{circuit.milliohms === null ? "–" : Math.round(circuit.milliohms)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p>
        !: no price speaks for it: done first, checked by a second person. mΩ: copper of the wire at 20 °C, end to end
        without its contacts; what is measured lies above it by the contacts alone. –: not stated.
      </p>
      <ul>
        {circuits
          .filter((circuit) => circuit.missing.length > 0)
          .map((circuit) => (
            <li key={circuit.id}>
              {circuit.id} lacks {circuit.missing.join(", ")}: read it off before the old wire goes.
            </li>
          ))}
      </ul>
    </>
  );
}

function RouteLine({ segment }: { segment: PlanSegment }): JSX.Element {
  const bend = segment.route_radius_mm === null ? "" : `, bends no tighter than ${Math.round(segment.route_radius_mm)} mm inside`;
  return (
    <Box>
      <b>{segment.id}</b>: from {segment.from} to {segment.to}, {segment.length_m.toFixed(2)} m,{" "}
      {counted(segment.wires, "wire", "wires")} ({segment.sizes.join(", ")}){bend}
      <br />
      {segment.places.join("; ")}
      {segment.cover_group && (
        <>
          <br />
          under the cover: {segment.cover_group}
        </>
      )}
      {segment.heat.map((heat) => (
        <p key={heat}>! {heat}: shield back in place</p>
      ))}
      {segment.leak && <p>! oil or coolant reached it: mend the leak first</p>}
    </Box>
  );
}

/** What stands on the printed plan. */
export function PlanPaper({ plan, offer, answer, document, cautions }: PlanPaperProps): JSX.Element {
  const title = (document as { title?: string }).title ?? "";
  const invented = (document as { invented?: boolean }).invented === true;
  return (
    <>
      <h1>
        {plan.is_wiring_plan ? "Wiring plan" : "Route checklist"}: {offer.name} ({plan.id})
      </h1>
      <p>{title}</p>
      {invented && <p>Invented scenario: an example, not a vehicle.</p>}
      <p>
        About {Math.round(offer.minutes)} min of work; parts {money(offer.cost.parts, answer.unit)}, work{" "}
        {money(offer.cost.work, answer.unit)}.
      </p>
      <ul class="remedies-warn">
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      {offer.conditions.map((condition) => (
        <p key={condition} class="remedies-warn">
          First: {condition}
        </p>
      ))}
      <h2>Before</h2>
      <Boxes>
        {plan.before.map((step) => (
          <Box key={step}>{step}</Box>
        ))}
      </Boxes>
      <h2>Photograph and label</h2>
      <Boxes>
        {plan.photograph_and_label.map((node) => (
          <Box key={node.id}>
            <b>{node.id}</b>: {node.name} (ends of {node.segments.join(", ")})
          </Box>
        ))}
      </Boxes>
      {plan.is_wiring_plan ? (
        <>
          <h2>Wiring plan</h2>
          <WiringTable circuits={plan.circuits} />
          <h2>Route</h2>
        </>
      ) : (
        <>
          <h2>Route checklist (not a wiring plan: the case lists no circuits here)</h2>
          <p class="remedies-warn">
            Without a list of plug, cavity, function, colour, size and fuse nobody can tell a wrong pin from a right one: draw
            it up from the plugs before anything is cut, or take the maker's wiring diagram.
          </p>
        </>
      )}
      <Boxes>
        {plan.route.map((segment) => (
          <RouteLine key={segment.id} segment={segment} />
        ))}
      </Boxes>
      <h2>At the end</h2>
      <Boxes>
        {plan.after.map((step) => (
          <Box key={step}>{step}</Box>
        ))}
        <Box>
          Next look:{" "}
          {plan.look_again?.slice(0, 7) ?? "at every service, because what stays in cracks when handled already"}. Write it on
          a tag at the loom.
        </Box>
        <Box>
          Watch for misfires and stored faults that come and go when warm, blown fuses, a smell of burning, flakes below the
          loom.
        </Box>
      </Boxes>
      <p class="remedies-sign">
        <span>Done by</span>
        <span>on</span>
        <span>Looked over by</span>
      </p>
    </>
  );
}
