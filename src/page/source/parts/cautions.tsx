import type { JSX } from "preact";
import { library } from "../store/library";

// The signal word stands out; the words are the engine's.
function Caution({ text }: { text: string }): JSX.Element {
  const word = /^(DANGER|WARNING|CAUTION|NOTICE|LIMITS?)\b[:.]?/.exec(text)?.[0];
  if (!word) return <li>{text}</li>;
  return (
    <li>
      <strong>{word}</strong>
      {text.slice(word.length)}
    </li>
  );
}

export function CautionList({ cautions }: { cautions: string[] }): JSX.Element {
  return (
    <ul class="cautions-list">
      {cautions.map((text) => (
        <Caution key={text} text={text} />
      ))}
    </ul>
  );
}

interface CautionsProps {
  /** Those of an answer; without it those of the library. */
  cautions?: string[];
  /** All of them in sight, not folded. */
  full?: boolean;
}

/** What can hurt somebody, always at hand. */
export function Cautions({ cautions = library.value?.cautions ?? [], full }: CautionsProps): JSX.Element | null {
  if (cautions.length === 0) return null;
  if (full) {
    return (
      <section class="cautions cautions-full" aria-label="Cautions">
        <CautionList cautions={cautions} />
      </section>
    );
  }
  return (
    <details class="cautions">
      <summary>Cautions ({cautions.length}): read before anything is touched</summary>
      <CautionList cautions={cautions} />
    </details>
  );
}
