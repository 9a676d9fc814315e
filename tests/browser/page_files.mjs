// Files that are no cases: each is refused with words, and nothing is kept of it.
import { readFileSync } from "node:fs";
import path from "node:path";
import { opened, until } from "./page_browser.mjs";

export async function hostileFiles(context, job) {
  const page = await opened(context, job.page, "start");
  const input = page.getByLabel("Open a file");
  await page.getByRole("button", { name: "New case" }).isEnabled();
  const answers = [];
  for (const { file, beside } of job.files) {
    await input.setInputFiles([file, ...beside].map((one) => ({
      name: path.basename(one), mimeType: "application/octet-stream", buffer: readFileSync(one),
    })));
    const alert = page.locator(".start-open [role=alert]");
    await until(page, (name) => {
      const now = document.querySelector(".start-open [role=alert]");
      return now !== null && (now.textContent ?? "").includes(name) || location.hash !== "#start";
    }, path.basename(file));
    const refused = (await alert.count()) > 0;
    answers.push({ file: path.basename(file), words: refused ? await alert.innerText() : "", jobs: await page.locator(".start-job").count() });
    if (!refused) await page.goto(page.url().replace(/#.*/, "#start"));
  }
  return answers;
}
