import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Problems, say } from "../../parts";
import { useElementId } from "../../parts/ids";
import { goTo } from "../../places";
import { importFile, job } from "../../store/job";

/** Opens a case file, alone, with its logger files, or in a zip with photos. A file that is refused changes nothing. */
export function OpenFile(): JSX.Element {
  const [wrong, setWrong] = useState<unknown>(null);
  const [working, setWorking] = useState(false);
  const id = useElementId("open-file");

  async function open(input: HTMLInputElement): Promise<void> {
    const files = [...(input.files ?? [])];
    input.value = ""; // the same file can be chosen again
    if (files.length === 0) return;
    setWorking(true);
    setWrong(null);
    try {
      await importFile(files);
      say(`${job.value?.name ?? "The file"} is open.`);
      goTo("vehicle");
    } catch (error) {
      setWrong(error);
    } finally {
      setWorking(false);
    }
  }

  return (
    <div class="start-open">
      <label class="start-file" for={id}>
        <span class="big big-primary start-file-button" aria-hidden="true">
          Open a file
        </span>
        <span class="spoken">Open a file</span>
        <input
          id={id}
          class="start-file-input"
          type="file"
          multiple
          accept=".json,.zip,.csv,application/json,application/zip,text/csv"
          aria-describedby={`${id}-hint`}
          onChange={(event) => void open(event.currentTarget)}
        />
      </label>
      <small id={`${id}-hint`} class="field-hint">
        A .case.json file, with its logger files if it names any, or a zip that this page saved.
      </small>
      {working && <p role="status">Reading the file…</p>}
      <Problems problems={wrong} title="The file was not opened" />
    </div>
  );
}
