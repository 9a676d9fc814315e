import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Big, Sheet, say } from "../../parts";
import { momentWords } from "../../parts/dates";
import { goTo } from "../../places";
import { type Job, closeJob, deleteJob, job, listJobs, openJob } from "../../store/job";

function titleOf(one: Job): string {
  try {
    return (JSON.parse(one.text) as { title?: string }).title || one.name;
  } catch {
    return one.name;
  }
}

function exported(one: Job): string {
  if (!one.exportedAt) return "Never saved as a file.";
  const same = one.exportedStep === one.step;
  return `File saved ${momentWords(one.exportedAt)}${same ? "." : "; changed since."}`;
}

interface CardProps {
  one: Job;
  onOpen: () => void;
  onRemove: () => void;
}

function JobCard({ one, onOpen, onRemove }: CardProps): JSX.Element {
  const open = job.value?.id === one.id;
  const title = titleOf(one);
  return (
    <li class={`card start-job${open ? " start-job-open" : ""}`}>
      <h3>{title}</h3>
      <p>
        {one.name}. Changed {momentWords(one.changedAt)}. {exported(one)}
      </p>
      <div class="row">
        <Big onPress={onOpen} label={open ? `Go on with ${title}` : `Open ${title}`}>
          {open ? "Go on" : "Open"}
        </Big>
        {open && <Big onPress={closeJob}>Close</Big>}
        <Big onPress={onRemove} label={`Take ${title} off this device`}>
          Take off this device
        </Big>
      </div>
    </li>
  );
}

function Removal({ one, onDone }: { one: Job; onDone: () => void }): JSX.Element {
  const same = one.exportedAt !== null && one.exportedStep === one.step;
  return (
    <Sheet title="Take off this device" onClose={onDone}>
      <p>
        <strong>{titleOf(one)}</strong>
      </p>
      <p>
        The case, its steps and its photos go from this device for good. {exported(one)}
        {!same && " What was not saved as a file is lost."}
      </p>
      <div class="row">
        <Big
          primary
          onPress={async () => {
            await deleteJob(one.id);
            say("The job is off this device.");
            onDone();
          }}
        >
          Take it off
        </Big>
        <Big onPress={onDone}>Keep it</Big>
      </div>
    </Sheet>
  );
}

/** What is kept in this browser. */
export function JobList(): JSX.Element {
  const [list, setList] = useState<Job[] | null>(null);
  const [removed, setRemoved] = useState<Job | null>(null);
  const [trouble, setTrouble] = useState("");
  const now = job.value;
  useEffect(() => {
    listJobs().then(setList, (error: unknown) => setTrouble(error instanceof Error ? error.message : String(error)));
  }, [now?.id, now?.step, now?.exportedAt, removed]);
  return (
    <section aria-labelledby="start-jobs">
      <h2 id="start-jobs">Jobs kept on this device</h2>
      {trouble && <p role="alert">The storage of this browser does not open: {trouble}. Cases can be opened and saved as files only.</p>}
      {list?.length === 0 && <p>None yet. Every change is kept here at once; the saved file is the record.</p>}
      <ul class="start-jobs">
        {(list ?? []).map((one) => (
          <JobCard
            key={one.id}
            one={one}
            onOpen={async () => {
              if (job.value?.id !== one.id) await openJob(one.id);
              goTo("vehicle");
            }}
            onRemove={() => setRemoved(one)}
          />
        ))}
      </ul>
      {removed && <Removal one={removed} onDone={() => setRemoved(null)} />}
    </section>
  );
}
