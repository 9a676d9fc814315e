import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { CaseDocument } from "../../case/document";
import { Big } from "../../parts/big";
import { Pick } from "../../parts/pick";
import { plainName } from "./names";

interface WhatIfPlacesProps {
  title: string;
  verb: string;
  choices: { id: string; name: string }[];
  document: CaseDocument;
  value: string[];
  onChange: (value: string[]) => void;
}

/** Every segment, and every stretch of those that have several. */
function placesOf(document: CaseDocument): { id: string; name: string }[] {
  return document.segments.flatMap((segment) => {
    const name = segment.name && segment.name !== segment.id ? `${segment.id}, ${segment.name}` : segment.id;
    const stretches = segment.stretches ?? [];
    if (stretches.length < 2) return [{ id: segment.id, name }];
    const parts = stretches
      .filter((stretch) => stretch.id)
      .map((stretch) => ({ id: `${segment.id}/${stretch.id}`, name: `${segment.id}, stretch ${stretch.id} (${stretch.zone})` }));
    return [{ id: segment.id, name: `${name}, all of it` }, ...parts];
  });
}

/** A list of changes "this place gets that", added and taken away one by one. */
export function WhatIfPlaces({ title, verb, choices, document, value, onChange }: WhatIfPlacesProps): JSX.Element {
  const places = placesOf(document);
  const [place, setPlace] = useState(places[0]?.id ?? "");
  const [to, setTo] = useState(choices[0]?.id ?? "");
  const words = (change: string): string => {
    const [where = "", what = ""] = change.split("=");
    return `${where} ${verb} ${plainName(choices, what)}`;
  };
  return (
    <fieldset class="remedies-places">
      <legend>{title}</legend>
      <div class="remedies-fields">
        <Pick label="Segment" options={places} value={place} onChange={(id: string) => setPlace(id)} />
        <Pick label={verb} options={choices} value={to} onChange={(id: string) => setTo(id)} />
      </div>
      <Big
        disabled={!place || !to}
        onPress={() => onChange([...value.filter((one) => !one.startsWith(`${place}=`)), `${place}=${to}`])}
      >
        Add this change
      </Big>
      {value.length > 0 && (
        <ul class="remedies-changes">
          {value.map((change) => (
            <li key={change}>
              <span>{words(change)}</span>
              <Big onPress={() => onChange(value.filter((one) => one !== change))}>
                Take away <span class="spoken">of {words(change)}</span>
              </Big>
            </li>
          ))}
        </ul>
      )}
    </fieldset>
  );
}
