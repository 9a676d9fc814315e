import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Big } from "./parts/big";
import { momentWords } from "./parts/dates";
import { say } from "./parts/live";
import { job, readonly, redo, steps, undo } from "./store/job";
import { stacks } from "./store/journal";

interface Course {
  list: { step: number; at: string; what: string }[];
  back: string | null;
  again: string | null;
}

async function courseOf(id: string): Promise<Course> {
  const [list, { done, undone }] = [await steps(), await stacks(id)];
  return { list, back: done[done.length - 1]?.what ?? null, again: undone[undone.length - 1]?.what ?? null };
}

const shown = 50;

/** The last change can be taken back, and done again; all changes are listed. */
export function Changes(): JSX.Element | null {
  const now = job.value;
  const [course, setCourse] = useState<Course | null>(null);
  useEffect(() => {
    let current = true;
    if (now) void courseOf(now.id).then((found) => current && setCourse(found));
    return () => {
      current = false;
    };
  }, [now?.id, now?.step]);
  if (!now || !course) return null;
  return (
    <section aria-labelledby="changes">
      <h3 id="changes">Changes of this case ({course.list.length})</h3>
      <div class="row">
        <Big disabled={!course.back || readonly.value} onPress={async () => say(`Taken back: ${(await undo()) ?? "nothing"}`)}>
          Take back{course.back ? `: ${course.back}` : ""}
        </Big>
        <Big disabled={!course.again || readonly.value} onPress={async () => say(`Done again: ${(await redo()) ?? "nothing"}`)}>
          Do again{course.again ? `: ${course.again}` : ""}
        </Big>
      </div>
      {course.list.length > 0 && (
        <details>
          <summary>All changes, newest first</summary>
          <ol class="changes-list" reversed>
            {course.list
              .slice(-shown)
              .reverse()
              .map((one) => (
                <li key={one.step} value={one.step}>
                  {one.what} <small>{momentWords(one.at)}</small>
                </li>
              ))}
          </ol>
        </details>
      )}
    </section>
  );
}
