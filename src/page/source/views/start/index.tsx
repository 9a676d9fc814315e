import demo from "heatside:demo";
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Big, Cautions, say } from "../../parts";
import { goTo } from "../../places";
import { library, newJob } from "../../store/job";
import { JobList } from "./job_list";
import { NewCase } from "./new_case";
import { OpenFile } from "./open_file";
import "./style.css";

async function openDemo(): Promise<void> {
  await newJob("hillside-estate.case.json", demo);
  say("The invented example is open.");
  goTo("vehicle");
}

/** New case, open a file, jobs kept on this device. */
export function StartView(): JSX.Element {
  const [fresh, setFresh] = useState(false);
  return (
    <div class="start">
      <h1>Where has heat aged the wires?</h1>
      <p>
        From the age, the use and the place of each piece of an engine-bay loom to an estimate of its insulation, the place
        to look first, and what can be done. It shows where damage is more likely; it never shows that a wire is sound.
      </p>
      <div class="start-first">
        <Big primary disabled={!library.value} onPress={() => setFresh(true)}>
          New case
        </Big>
        <OpenFile />
      </div>
      <JobList />
      <section aria-labelledby="start-example">
        <h2 id="start-example">An invented example</h2>
        <p>An estate car of 1994 whose insulation flakes off a plug. Vehicle, place and history are made up.</p>
        <Big onPress={openDemo}>Open the invented example</Big>
      </section>
      <Cautions />
      {library.value && <p class="field-hint">{library.value.engine}</p>}
      {fresh && <NewCase onClose={() => setFresh(false)} />}
    </div>
  );
}
