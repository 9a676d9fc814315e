import type { JSX } from "preact";
import { type HotBody, nameOf, type Segment, type Stretch, withMembers } from "../../case/document";
import { isHotBodyAssumed, withHotBodies, withMeasuredHotBody, withNewHotBody, withoutHotBody } from "../../case/loom_edits";
import type { Library } from "../../engine/answers";
import { Amount, Big, Choice } from "../../parts";
import { document } from "../../store/job";
import { edit } from "./edit";

interface HotProps {
  segment: Segment;
  stretch: Stretch;
  index: number;
  library: Library | null;
  disabled: boolean;
}

const beginning: HotBody = { shape: "cylinder", size_mm: 50, distance_mm: 100, shield: "none" };
// Of the zones, only those beside a hot part know how hot its surface is; elsewhere it has to be measured.
const standInSurface = { cruise: 200, city: 180, idle: 150, hill: 250 };

/** Exhaust parts and the like beside a stretch: their heat comes by radiation, whatever the air does. */
export function HotBodyFields({ segment, stretch, index, library, disabled }: HotProps): JSX.Element {
  const bodies = stretch.hot_bodies ?? [];
  const radiant = library?.zones.find((one) => one.id === stretch.zone)?.radiant === true;
  const put = (words: string, next: HotBody[]): Promise<boolean> => edit(`${words}, ${nameOf(segment)}`, (of) => withHotBodies(of, segment.id, index, next));
  const change = (at: number, words: string, members: Partial<HotBody>): Promise<boolean> =>
    put(`Hot part: ${words}`, bodies.map((one, i) => (i === at ? withMembers(one, members) : one)));
  return (
    <div class="loom-hot">
      {bodies.map((body, i) => (
        <fieldset key={i} class="card loom-fieldset">
          <legend>Hot part beside it{bodies.length > 1 ? ` (${i + 1})` : ""}</legend>
          <Choice label="Shape" disabled={disabled} options={library?.shapes ?? []} value={body.shape} onChange={(id) => change(i, id, { shape: id as HotBody["shape"] })} />
          <Amount label="Its diameter or width" unit="mm" step={5} min={1} max={1000} disabled={disabled} value={body.size_mm} onChange={(mm) => mm !== null && change(i, `${mm} mm across`, { size_mm: mm })} />
          <Amount
            label="Distance from the wires"
            unit="mm"
            step={5}
            min={1}
            max={1000}
            disabled={disabled}
            value={body.distance_mm}
            hint={body.shape === "cylinder" ? "To the axis of a pipe: more than half its diameter." : undefined}
            onChange={(mm) => mm !== null && change(i, `${mm} mm away`, { distance_mm: mm })}
          />
          <Choice label="What stands between" disabled={disabled} options={library?.shields ?? []} value={body.shield} onChange={(id) => change(i, `shield ${id}`, { shield: id as HotBody["shield"] })} />
          {body.shield !== "none" && (
            <Choice
              label="The shield is"
              disabled={disabled}
              options={[{ id: "yes", name: "bright" }, { id: "no", name: "dirty, rusty or holed" }, { id: "", name: "not looked at" }]}
              value={body.clean_shield === undefined ? "" : body.clean_shield ? "yes" : "no"}
              onChange={(id) => change(i, `shield ${id === "yes" ? "bright" : id === "no" ? "not bright" : "not looked at"}`, { clean_shield: id === "" ? undefined : id === "yes" })}
            />
          )}
          {body.surface_Cel && (
            <>
              <p>Temperature of its surface:</p>
              {(library?.running_states ?? []).map((state) => (
                <Amount
                  key={state.id}
                  label={`While: ${state.name}`}
                  unit="°C"
                  step={10}
                  min={0}
                  max={900}
                  disabled={disabled}
                  value={body.surface_Cel?.[state.id as keyof typeof body.surface_Cel]}
                  onChange={(value) => value !== null && body.surface_Cel && change(i, `${value} °C, ${state.name}`, { surface_Cel: { ...body.surface_Cel, [state.id]: value } })}
                />
              ))}
            </>
          )}
          <div class="row">
            {document.value && isHotBodyAssumed(document.value, segment.id, index, i) && (
              <Big disabled={disabled} onPress={() => edit(`Hot part measured, ${nameOf(segment)}`, (of) => withMeasuredHotBody(of, segment.id, index, i))}>
                These numbers are measured
              </Big>
            )}
            <Big disabled={disabled} onPress={() => edit(`Hot part removed, ${nameOf(segment)}`, (of) => withoutHotBody(of, segment.id, index, i))}>
              Remove this hot part
            </Big>
          </div>
        </fieldset>
      ))}
      <Big
        disabled={disabled}
        onPress={() =>
          edit(`Hot part beside it added, ${nameOf(segment)}`, (of) =>
            withNewHotBody(of, segment.id, index, radiant ? beginning : { ...beginning, surface_Cel: standInSurface }),
          )
        }
      >
        {bodies.length === 0 ? "A hot part is close by" : "Another hot part"}
      </Big>
    </div>
  );
}
