import type { JSX } from "preact";
import { problemsOf, type Problem } from "../engine/ask";

const most = 20;

function Place({ problem }: { problem: Problem }): JSX.Element | null {
  const file = problem.file === "request" ? "" : problem.file;
  const words = [file, problem.place].filter(Boolean).join(", at ");
  return words ? <code class="problems-place">{words}</code> : null;
}

interface ProblemsProps {
  /** Problems, or whatever was thrown. */
  problems: Problem[] | unknown;
  title?: string;
}

/** What is wrong with the data, and where. */
export function Problems({ problems, title }: ProblemsProps): JSX.Element | null {
  const list = Array.isArray(problems) ? (problems as Problem[]) : problems ? problemsOf(problems) : [];
  if (list.length === 0) return null;
  return (
    <section class="problems" role="alert">
      <h2>{title ?? (list.length === 1 ? "One thing is wrong" : `${list.length} things are wrong`)}</h2>
      <ul>
        {list.slice(0, most).map((problem, index) => (
          <li key={index}>
            <Place problem={problem} />
            <span>{problem.what}</span>
          </li>
        ))}
      </ul>
      {list.length > most && <p>… and {list.length - most} more.</p>}
      <p>Nothing was changed.</p>
    </section>
  );
}
