// Works with the built page as a user does, in headless Chromium from file://, and prints what it found, as JSON.
// Input: {"modules", "page", "profile", "what": name of a scenario below, "pictures": folder or null, ...}
import { readFileSync } from "node:fs";
import { started, toolsOf } from "./page_browser.mjs";
import { hostileFiles } from "./page_files.mjs";
import { looks } from "./page_looks.mjs";
import { speeds } from "./page_speed.mjs";
import { twoTabs } from "./page_tabs.mjs";
import { wholeJob } from "./page_whole_job.mjs";

const job = JSON.parse(readFileSync(0, "utf8"));
const { chromium, axe } = toolsOf(job.modules);

async function withBrowser(work) {
  const browser = await started(chromium, job.profile);
  try {
    const answer = await work(browser);
    return { answer, said: browser.said, asked: browser.asked };
  } finally {
    await browser.close();
  }
}

const scenarios = {
  looks: () => withBrowser(({ context }) => looks(context, job, axe)),
  tabs: () => withBrowser(({ context }) => twoTabs(context, job)),
  hostile: () => withBrowser(({ context }) => hostileFiles(context, job)),
  speed: () => withBrowser((browser) => speeds(browser, job)),
  whole: () => wholeJob(chromium, job),
};

// The connection to a browser that was killed would keep this process; it goes when all is written.
process.stdout.write(JSON.stringify(await scenarios[job.what]()), () => process.exit(0));
