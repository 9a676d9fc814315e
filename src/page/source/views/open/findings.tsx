import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Finding } from "../../case/document";
import { Big, ConditionMark, Problems, Sheet, say } from "../../parts";
import { addPhoto, document, job, library, readonly, removePhoto, usePhotos } from "../../store/job";
import { lotName, segmentName } from "../estimate/names";
import { lastEntry, photoKey } from "./deeds";
import { TakeBack } from "./moved";
import { PhotoInput } from "./photo_input";
import { seenWord } from "./words";

const nameIn = (list: { id: string; name: string }[] | undefined, id: string): string => list?.find((one) => one.id === id)?.name ?? id;

const placeOf = (finding: Finding): string => [
  finding.segment ? segmentName(finding.segment) : "",
  finding.stretch ? `stretch ${finding.stretch}` : "",
  finding.lot ? lotName(finding.lot) : "",
].filter(Boolean).join(", ");

function measuredWords({ bend, elongation, resistance }: Finding): string {
  if (bend) return `a tail bent round ${String(bend["diameter_mm"])} mm ${bend["cracked"] ? "cracked" : "stayed whole"}`;
  if (elongation) return `elongation at break ${String(elongation["percent"])} %`;
  return resistance ? `insulation resistance ${String(resistance["MOhm"])} MΩ` : "";
}

function detailWords(finding: Finding): string {
  const all = library.value;
  return [
    measuredWords(finding),
    finding.method ? nameIn(all?.methods, finding.method) : "",
    finding.cause ? `cause: ${nameIn(all?.causes, finding.cause)}` : "",
    finding.altered_on ? `repaired ${finding.altered_on}` : "",
    finding.signs?.length ? `signs: ${finding.signs.map((id) => nameIn(all?.signs, id)).join(", ")}` : "",
    finding.clues?.length ? `clues: ${finding.clues.map((id) => nameIn(all?.clues, id)).join(", ")}` : "",
    finding.by ? `by ${finding.by}` : "",
  ].filter(Boolean).join("; ");
}

interface Shown {
  photo: { id: string; at: string };
  address: string;
}

function PhotoSheet({ shown, of, onClose }: { shown: Shown; of: string; onClose: () => void }): JSX.Element {
  return (
    <Sheet title={`Photo: ${of}`} onClose={onClose}>
      <img class="open-photo-large" src={shown.address} alt={`What was found at ${of}`} />
      <div class="row">
        <Big disabled={readonly.value} onPress={() => removePhoto(shown.photo.id).then(onClose)}>
          Remove this photo
        </Big>
      </div>
    </Sheet>
  );
}

function Photos({ finding, index }: { finding: Finding; index: number }): JSX.Element | null {
  const of = document.value;
  const key = of ? photoKey(of, index) : "";
  const photos = usePhotos(job.value?.id, key);
  const [large, setLarge] = useState<Shown | null>(null);
  const [wrong, setWrong] = useState<unknown>(null);
  const place = placeOf(finding);
  async function add(files: File[]): Promise<void> {
    setWrong(null);
    try {
      for (const file of files) await addPhoto(key, file);
      say(files.length === 1 ? "The photo is kept." : "The photos are kept.");
    } catch (error) {
      setWrong(error);
    }
  }
  return (
    <>
      {photos.length > 0 && (
        <div class="row">
          {photos.map((shown, i) => (
            <button key={shown.photo.id} type="button" class="open-thumb" onClick={() => setLarge(shown)}>
              <img src={shown.address} alt={`Photo ${i + 1} of ${place}: show it large`} />
            </button>
          ))}
        </div>
      )}
      <details>
        <summary>Add a photo</summary>
        <PhotoInput of={place} disabled={readonly.value} onFiles={add} />
      </details>
      <Problems problems={wrong} />
      {large && <PhotoSheet shown={large} of={place} onClose={() => setLarge(null)} />}
    </>
  );
}

function FindingCard({ finding, index, last }: { finding: Finding; index: number; last: boolean }): JSX.Element {
  const place = placeOf(finding);
  return (
    <li class="card">
      <h3>{place}</h3>
      <p>
        {finding.seen && <ConditionMark condition={finding.seen} />} <span class="open-small">{finding.on}</span>
      </p>
      <p>{detailWords(finding)}</p>
      {finding.note && <p>“{finding.note}”</p>}
      <Photos finding={finding} index={index} />
      {last && <TakeBack words={`${place}: ${finding.seen ? seenWord(finding.seen) : "finding"}`} />}
    </li>
  );
}

/** What was found so far, newest first. */
export function Findings(): JSX.Element {
  const of = document.value;
  const findings = of?.findings ?? [];
  const last = of && lastEntry(of);
  return (
    <section aria-labelledby="open-findings">
      <h2 id="open-findings">Found so far ({findings.length})</h2>
      {findings.length === 0 && <p>Nothing has been looked at yet.</p>}
      {last?.did === "consent" && <TakeBack words="the owner's consent" />}
      <ol class="open-list">
        {findings
          .map((finding, index) => <FindingCard key={index} finding={finding} index={index} last={last?.finding === index} />)
          .reverse()}
      </ol>
    </section>
  );
}
