import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../../engine/ask";
import { Choice } from "../../parts/choice";
import { Drawing } from "../../parts/drawing";
import { Pick } from "../../parts/pick";
import { library } from "../../store/job";
import type { TopicAnswer } from "./answers";
import { columnWords, twoDigits } from "./words";

const topics = [
  { id: "life-line", name: "Oven and service" },
  { id: "soak", name: "The hot soak" },
  { id: "paths", name: "Two ways to age" },
  { id: "draws", name: "What draws are" },
  { id: "findings", name: "What one look says" },
];

function useTopic(name: string, insulation: string): { topic: TopicAnswer | null; failure: string } {
  const [topic, setTopic] = useState<TopicAnswer | null>(null);
  const [failure, setFailure] = useState("");
  useEffect(() => {
    let current = true;
    setFailure("");
    ask<TopicAnswer>({ ask: "topic", name, ...(insulation !== "" && { insulation }) }).then(
      (answer) => current && setTopic(answer),
      (error: unknown) => current && setFailure(error instanceof Error ? error.message : String(error)),
    );
    return () => {
      current = false;
    };
  }, [name, insulation]);
  return { topic, failure };
}

const mostRows = 60;

function cell(value: unknown): string {
  if (typeof value === "number") return Number.isInteger(value) ? `${value}` : twoDigits(value);
  if (typeof value === "boolean") return value ? "yes" : "no";
  return value === null || value === undefined ? "–" : String(value);
}

function Rows({ topic }: { topic: TopicAnswer }): JSX.Element {
  const every = Math.ceil(topic.rows.length / mostRows);
  const rows = topic.rows.filter((_, i) => i % every === 0);
  return (
    <details class="classroom-values">
      <summary>The numbers of this experiment</summary>
      {every > 1 && <p>Every {every}th row of {topic.rows.length}.</p>}
      <div class="table-box" role="region" aria-label={topic.title} tabIndex={0}>
        <table>
          <caption>{topic.title}</caption>
          <thead>
            <tr>
              {topic.fields.map((field) => (
                <th key={field.name} scope="col">
                  {columnWords(field.name, field.unit)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, i) => (
              <tr key={i}>
                {topic.fields.map((field) => (
                  <td key={field.name}>{cell(row[field.name])}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

/** The engine's small experiments: a few paragraphs and a drawing each. */
export function Topics(): JSX.Element {
  const [name, setName] = useState("life-line");
  const [insulation, setInsulation] = useState("");
  const { topic, failure } = useTopic(name, insulation);
  const shown = topic?.topic === name ? topic : null;
  const compounds = [
    { id: "", name: "as the experiment has it" },
    ...(library.value?.insulations ?? []).map((one) => ({ id: one.id, name: `${one.name} (${one.id})` })),
  ];
  return (
    <section aria-labelledby="classroom-topics">
      <h2 id="classroom-topics">Short lessons</h2>
      <Choice label="Lesson" options={topics} value={name} onChange={(id: string) => setName(id)} />
      <Pick label="Compound of the experiment" options={compounds} value={insulation} onChange={(id: string) => setInsulation(id)} />
      {failure && <p role="alert">{failure}</p>}
      {!shown && !failure && <p role="status">Running the experiment…</p>}
      {shown && !failure && (
        <article>
          <h3>{shown.title}</h3>
          {shown.paragraphs.map((paragraph) => (
            <p key={paragraph}>{paragraph}</p>
          ))}
          <div class="classroom-drawing" role="region" aria-label={`Drawing: ${shown.title}`} tabIndex={0}>
            <Drawing svg={shown.svg} label={shown.title} />
          </div>
          <p class="classroom-note">{shown.note}</p>
          <Rows topic={shown} />
        </article>
      )}
    </section>
  );
}
