/** A complete HTML document put on paper or into a file. */

import { download } from "../../store/files";

const printWait = 120_000; // a print dialog may stay open for long

/**
 * Prints a document by itself. It stands in a frame that runs no scripts; only the call to print comes from outside.
 */
export function printDocument(html: string): Promise<void> {
  const frame = document.createElement("iframe");
  frame.setAttribute("sandbox", "allow-modals allow-same-origin");
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  frame.title = "Print";
  frame.className = "report-print-frame";
  return new Promise((resolve) => {
    frame.onload = (): void => {
      printFrame(frame);
      const remove = (): void => {
        frame.remove();
        resolve();
      };
      frame.contentWindow?.addEventListener("afterprint", () => setTimeout(remove, 0));
      setTimeout(remove, printWait);
      resolve();
    };
    frame.srcdoc = html;
    document.body.append(frame);
  });
}

export function printFrame(frame: HTMLIFrameElement): void {
  frame.contentWindow?.focus();
  frame.contentWindow?.print();
}

/** Offers the document for saving as a file of its own. */
export const saveDocument = (name: string, html: string): void => download(name, html, "text/html;charset=utf-8");

/** "field-tractor-report.html" for "field-tractor.case.json" */
export function fileName(caseName: string, what: string): string {
  const stem = caseName.replace(/\.case\.json$|\.json$|\.zip$/u, "") || "case";
  return `${stem}-${what}.html`;
}

const escapes: Record<string, string> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text: string): string => text.replace(/[&<>"]/gu, (sign) => escapes[sign] ?? sign);

/** A page around markup that is already safe, such as the inner HTML of what is on the screen. */
export function pageAround(title: string, style: string, body: string): string {
  return [
    "<!DOCTYPE html>",
    '<html lang="en"><head><meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escaped(title)}</title><style>${style}</style></head>`,
    `<body><main>${body}</main></body></html>`,
  ].join("\n");
}
