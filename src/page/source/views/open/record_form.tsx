import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { Big, DateField, Facts, Pick, Problems, say } from "../../parts";
import { today } from "../../parts/dates";
import { document, readonly } from "../../store/job";
import { segmentName } from "../estimate/names";
import type { OrderAnswer } from "./answers";
import { attach, record } from "./deeds";
import { type Draft, draftWords, findingOf, hasCause, methodsFor, newDraft, rememberFrom } from "./finding_draft";
import { CausePick, MoreFields } from "./more_fields";
import { HandlingAdvice, wayTo } from "./next";
import { PhotoInput } from "./photo_input";
import { SeenChoice } from "./seen_choice";
import { TailTest } from "./tail_test";

interface FieldsProps {
  draft: Draft;
  onChange: (members: Partial<Draft>) => void;
}

function MethodPick({ draft, onChange }: FieldsProps): JSX.Element {
  const segment = document.value?.segments.find((one) => one.id === draft.segment);
  const methods = methodsFor(segment);
  const chosen = methods.find((one) => one.id === draft.method);
  return (
    <div>
      <Pick
        label="How it was seen" value={draft.method} onChange={(method) => onChange({ method })}
        options={methods.map((one) => ({ id: one.id, name: one.name, hint: one.how }))}
      />
      {chosen?.opens && document.value?.openings?.consent !== true && (
        <p class="open-warn">This opens the loom, and the owner's consent is not recorded yet.</p>
      )}
    </div>
  );
}

function DayField({ draft, onChange }: FieldsProps): JSX.Element {
  const inspected = document.value?.inspected ?? "";
  const days = [
    { id: today(), words: "Today" },
    ...(inspected.length === 10 ? [{ id: inspected, words: "Day of the inspection" }] : []),
  ].filter((day) => day.id !== draft.on);
  return (
    <>
      <DateField label="Day it was seen" precision="day" required value={draft.on} onChange={(on) => onChange({ on })} />
      <div class="row">
        {days.map((day) => (
          <Big key={day.id} onPress={() => onChange({ on: day.id })}>
            {day.words}: {day.id}
          </Big>
        ))}
      </div>
    </>
  );
}

const daysBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 86_400_000;
const aYear = 366;

/** The day that will be recorded; where the case is of another year, that is said and can be changed at once. */
function FoundOn({ draft, onChange }: FieldsProps): JSX.Element {
  const inspected = document.value?.inspected ?? "";
  const by = draft.by ? ` by ${draft.by}` : "";
  const far = inspected.length === 10 && Math.abs(daysBetween(inspected, draft.on)) > aYear;
  return (
    <>
      <p class={far ? undefined : "open-small"}>
        Found on {draft.on}
        {by}.{far && ` The case is of ${inspected}: what is seen on another day says what it had become by then.`}
      </p>
      {far && <Big onPress={() => onChange({ on: inspected })}>It was seen on {inspected}</Big>}
    </>
  );
}

function PhotosTaken({ files, onChange }: { files: File[]; onChange: (files: File[]) => void }): JSX.Element {
  return (
    <>
      <PhotoInput disabled={readonly.value} onFiles={(more) => onChange([...files, ...more])} />
      {files.length > 0 && (
        <p>
          {files.length === 1 ? "One photo goes" : `${files.length} photos go`} with it.{" "}
          <Big onPress={() => onChange([])}>Leave {files.length === 1 ? "it" : "them"} out</Big>
        </p>
      )}
    </>
  );
}

interface RecordFormProps {
  order: OrderAnswer | null;
  place: string;
  /** The segment that the order puts first. */
  first: string | null;
  onPlace: (id: string) => void;
  onRecorded: () => void;
}

/** What was seen at a place: two taps where the rest is as it stands there. */
export function RecordForm({ order, place, first, onPlace, onRecorded }: RecordFormProps): JSX.Element | null {
  const of = document.value;
  const [draft, setDraft] = useState<Draft | null>(null);
  const [files, setFiles] = useState<File[]>([]);
  const [wrong, setWrong] = useState<unknown>(null);
  const [keeping, setKeeping] = useState(false);
  const [tail, setTail] = useState(false);
  const form = useRef<HTMLElement>(null);
  if (!of) return null;
  const now = draft?.segment === place ? draft : newDraft(of, place, order?.method ?? "");
  const put = (members: Partial<Draft>): void => setDraft({ ...now, ...members });
  const segment = of.segments.find((one) => one.id === place);
  const handling = order?.handling[place];

  async function keep(): Promise<void> {
    setWrong(null);
    setKeeping(true);
    const words = draftWords(now);
    try {
      await record(findingOf(now), words);
      rememberFrom(now);
      await attach(files);
      setDraft(null);
      setFiles([]);
      say(`Recorded: ${words}.`);
      onRecorded();
    } catch (error) {
      setWrong(error);
    } finally {
      setKeeping(false);
    }
  }

  return (
    <section ref={form} class="card open-record" aria-labelledby="open-record">
      <h2 id="open-record" tabIndex={-1}>
        Record what was seen
      </h2>
      <Pick
        label="Place" value={place} onChange={onPlace}
        options={of.segments.map(({ id, airbag }) => ({
          id,
          name: segmentName(id) + (id === first ? " – open next" : "") + (airbag ? " – airbag: nothing is opened" : ""),
        }))}
      />
      {place !== first && segment && (
        <>
          {handling && <HandlingAdvice handling={handling} />}
          <Facts rows={wayTo(segment)} />
        </>
      )}
      <SeenChoice value={now.seen} disabled={readonly.value} onChange={(seen) => put({ seen })} />
      <div class="open-presets">
        <MethodPick draft={now} onChange={put} />
        {hasCause(now.seen) && now.seen !== "altered" && <CausePick draft={now} onChange={put} />}
        {now.seen === "altered" && (
          <DateField
            label="When it was repaired" value={now.alteredOn} onChange={(alteredOn) => put({ alteredOn })}
            hint="YYYY, YYYY-MM or YYYY-MM-DD; empty: not known, any day since the loom was fitted"
          />
        )}
      </div>
      <Problems problems={wrong} />
      <FoundOn draft={now} onChange={put} />
      <Big primary class="open-wide" disabled={readonly.value || keeping || !now.seen} onPress={keep}>
        {keeping ? "It is kept…" : now.seen ? "Record it" : "Record it: first say what was seen"}
      </Big>
      <PhotosTaken files={files} onChange={setFiles} />
      <details>
        <summary>More: day, signs, part, clues, who, note, tests</summary>
        <DayField draft={now} onChange={put} />
        <MoreFields draft={now} segment={segment} onChange={put} />
        {!segment?.airbag && <Big onPress={() => setTail(true)}>Test of a scrap tail, or a resistance reading</Big>}
      </details>
      {tail && <TailTest draft={now} onClose={() => setTail(false)} onRecorded={onRecorded} />}
    </section>
  );
}
