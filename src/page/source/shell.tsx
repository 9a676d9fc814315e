import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Boundary } from "./boundary";
import { Changes } from "./changes";
import { Notices } from "./notices";
import { Big } from "./parts/big";
import { Live } from "./parts/live";
import { Sheet, afterClosing } from "./parts/sheet";
import { type Place, goTo, place, places } from "./places";
import { StatusLine } from "./status_line";
import { job } from "./store/job";
import { ThemeChoice } from "./theme_choice";
import { ClassroomView } from "./views/classroom";
import { EstimateView } from "./views/estimate";
import { LoomView } from "./views/loom";
import { OpenView } from "./views/open";
import { RemediesView } from "./views/remedies";
import { ReportView } from "./views/report";
import { ServiceView } from "./views/service";
import { StartView } from "./views/start";
import { VehicleView } from "./views/start/vehicle";

const views: Record<string, () => JSX.Element> = {
  start: StartView, vehicle: VehicleView, loom: LoomView, service: ServiceView, estimate: EstimateView,
  open: OpenView, remedies: RemediesView, report: ReportView, classroom: ClassroomView,
};

function NoCase(): JSX.Element {
  return (
    <section>
      <h1>{place.value.name}</h1>
      <p>There is no case open. Start one, or open a file.</p>
      <Big primary onPress={() => goTo("start")}>
        To the start
      </Big>
    </section>
  );
}

function StepList({ onClose }: { onClose: () => void }): JSX.Element {
  return (
    <Sheet title="Steps of the job" onClose={onClose}>
      <nav aria-label="Steps">
        <ol class="steps-list">
          {places.map((one) => (
            <li key={one.id}>
              <button
                type="button"
                class="big steps-item"
                disabled={!job.value && !one.free}
                aria-current={one === place.value ? "step" : undefined}
                onClick={() => {
                  afterClosing(() => goTo(one.id));
                  onClose();
                }}
              >
                <strong>{one.name}</strong>
                <small>{one.about}</small>
              </button>
            </li>
          ))}
        </ol>
      </nav>
      <Changes />
      <ThemeChoice />
    </Sheet>
  );
}

function StepsStrip({ onSteps }: { onSteps: () => void }): JSX.Element {
  const at = places.indexOf(place.value);
  const usable = (one: Place | undefined): one is Place => one !== undefined && (job.value !== null || one.free === true);
  const before = places[at - 1];
  const after = places[at + 1];
  return (
    <nav class="strip" aria-label="Steps of the job">
      {before ? (
        <Big primary disabled={!usable(before)} label={`Back to ${before.name}`} onPress={() => goTo(before.id)}>
          <span aria-hidden="true">‹</span> <span class="strip-name">{before.name}</span>
        </Big>
      ) : (
        <span />
      )}
      <Big class="strip-steps" onPress={onSteps}>
        Steps
        <small>
          {at + 1} of {places.length}
        </small>
      </Big>
      {after ? (
        <Big primary disabled={!usable(after)} label={`On to ${after.name}`} onPress={() => goTo(after.id)}>
          <span class="strip-name">{after.name}</span> <span aria-hidden="true">›</span>
        </Big>
      ) : (
        <span />
      )}
    </nav>
  );
}

/** What is around every view. */
export function Shell(): JSX.Element {
  const [listed, setListed] = useState(false);
  const main = useRef<HTMLElement>(null);
  const first = useRef(true);
  const now = place.value;
  useEffect(() => {
    window.document.title = `${now.name} – heatside`;
    if (first.current) {
      first.current = false;
      return;
    }
    window.scrollTo(0, 0);
    main.current?.focus({ preventScroll: true });
  }, [now.id]);
  const View = job.value || now.free ? (views[now.id] ?? StartView) : NoCase;
  return (
    <>
      <a class="skip" href="#content" onClick={(event) => (event.preventDefault(), main.current?.focus())}>
        Skip to the content
      </a>
      <StatusLine />
      <Notices />
      <main ref={main} id="content" tabIndex={-1}>
        <Boundary key={now.id}>
          <View />
        </Boundary>
      </main>
      <StepsStrip onSteps={() => setListed(true)} />
      {listed && <StepList onClose={() => setListed(false)} />}
      <Live />
    </>
  );
}
