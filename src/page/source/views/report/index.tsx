import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import { Big } from "../../parts/big";
import { Gate } from "../../parts/gate";
import { Problems } from "../../parts/problems";
import { useAnswer } from "../../store/answers";
import { document as caseDocument, job } from "../../store/job";
import { fileName, printFrame, saveDocument } from "./paper";
import "./style.css";

interface ReportAnswer {
  html: string;
}

function Signed(): JSX.Element {
  const by = caseDocument.value?.signed_by;
  return by ? (
    <p>Signed by: {by}</p>
  ) : (
    <p class="report-note">Nobody has signed this case yet. The name of the one who answers for it is entered at Vehicle.</p>
  );
}

/** The owner's report as the engine writes it: to read, to print and to save. */
export function ReportView(): JSX.Element {
  return (
    <div class="report">
      <h1>Report for the owner</h1>
      <Gate>
        <Report />
      </Gate>
    </div>
  );
}

function Report(): JSX.Element {
  const answer = useAnswer<ReportAnswer>("report").value;
  const frame = useRef<HTMLIFrameElement>(null);
  const html = answer.value?.html;
  const whole = answer.state === "ready"; // what goes out of the house rests on all draws
  const name = fileName(job.value?.name ?? "", "report");
  return (
    <>
      <p>First a page in plain words for the owner, then every number, drawing, assumption and source that it rests on.</p>
      <Signed />
      {answer.state === "refused" && <Problems problems={answer.problems} />}
      <div class="row">
        <Big primary disabled={!html || !whole} onPress={() => frame.current && printFrame(frame.current)}>
          Print
        </Big>
        <Big disabled={!html || !whole} onPress={() => html && saveDocument(name, html)}>
          Save the page
        </Big>
      </div>
      <p class="report-note">
        Some phones print only whole pages: save the page there, open the saved file and print it. It needs nothing outside
        itself.
      </p>
      {answer.state === "working" && (
        <p role="status">{html ? `So far from ${answer.draws} draws; the full report is on its way…` : "Writing the report…"}</p>
      )}
      {html && (
        <iframe
          ref={frame}
          class="report-frame"
          title="Report for the owner"
          sandbox="allow-modals allow-same-origin"
          srcdoc={html}
        />
      )}
    </>
  );
}
