import type { JSX } from "preact";
import { Big } from "./parts/big";
import { exportFile, job, readonly, takeOver, trouble } from "./store/job";
import { libraryTrouble, loadLibrary } from "./store/library";
import { nearlyFull, room } from "./store/room";

const megabytes = (bytes: number): string => `${Math.round(bytes / 1e6)} MB`;

/** What the user must know before the next tap. */
export function Notices(): JSX.Element {
  const full = nearlyFull(room.value);
  return (
    <div class="notices">
      {job.value && readonly.value && (
        <section class="notice" aria-label="Open in another tab">
          <p>This job is open in another tab or window: here it can only be read.</p>
          <Big onPress={takeOver}>Work here instead</Big>
        </section>
      )}
      {trouble.value && (
        <section class="notice notice-bad" role="alert">
          <p>The last change could not be kept on this device: {trouble.value}. Save the case as a file now.</p>
          <Big onPress={exportFile}>Save the case as a file</Big>
        </section>
      )}
      {libraryTrouble.value && (
        <section class="notice notice-bad" role="alert">
          <p>The engine did not start: {libraryTrouble.value}</p>
          <Big onPress={loadLibrary}>Start it again</Big>
        </section>
      )}
      {full && room.value && (
        <section class="notice" role="alert">
          <p>
            The storage of this browser is nearly full ({megabytes(room.value.used)} of {megabytes(room.value.of)}). Save
            jobs as files and take old ones off the list.
          </p>
        </section>
      )}
    </div>
  );
}
