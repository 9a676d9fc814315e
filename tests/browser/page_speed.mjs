// How long an estimate takes on a slow device. Printed, not judged: machines differ.
import { readFileSync, readdirSync } from "node:fs";
import { goTo, opened, readCautions, settled, until } from "./page_browser.mjs";

const runs = 5; // ms of every 20: a processor four times slower, for the page and its workers alike
const stops = 15;

const waited = async (work) => {
  const from = Date.now();
  await work();
  return Date.now() - from;
};

function parentOf(id) {
  try {
    return Number(readFileSync(`/proc/${id}/stat`, "utf8").split(") ")[1].split(" ")[1]);
  } catch {
    return 0;
  }
}

function renderersBelow(root) {
  const all = readdirSync("/proc").filter((name) => /^\d+$/.test(name)).map(Number);
  const parents = new Map(all.map((id) => [id, parentOf(id)]));
  const below = (id) => {
    for (let at = id; at > 1; at = parents.get(at) ?? 0) if (at === root) return true;
    return false;
  };
  return all.filter((id) => below(id) && readFileSync(`/proc/${id}/cmdline`, "utf8").includes("--type=renderer"));
}

// The browser's own slowing holds for the thread of the page only; the engine works in another.
function slowed(root) {
  const ids = renderersBelow(root);
  const send = (signal) => ids.forEach((id) => {
    try {
      process.kill(id, signal);
    } catch {
      // It has ended.
    }
  });
  let going = true;
  const turn = () => {
    send("SIGSTOP");
    setTimeout(() => {
      send("SIGCONT");
      if (going) setTimeout(turn, runs);
    }, stops);
  };
  turn();
  return () => (going = false);
}

async function estimateShown(page) {
  await goTo(page, "Estimate");
  await readCautions(page);
  await page.locator("main [data-segment]").first().waitFor();
}

const notWorking = (page) => until(page, () => !document.querySelector(".status-working"));

async function longLoom(page, text) {
  await goTo(page, "Start");
  await page.getByLabel("Open a file").setInputFiles({ name: "long.case.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await page.getByRole("heading", { name: "Vehicle and case" }).waitFor();
  const loom = await waited(() => goTo(page, "Loom"));
  const estimate = await waited(() => estimateShown(page));
  return { longLoom: loom, longEstimate: estimate };
}

export async function speeds(browser, job) {
  const page = await opened(browser.context, job.page, "start");
  await page.getByRole("button", { name: "Open the invented example" }).isEnabled();
  await page.getByText(/^heatside \d/).waitFor(); // the engine has started
  const fast = slowed(browser.id);
  const answer = {};
  try {
    answer.first = await waited(async () => {
      await page.getByRole("button", { name: "Open the invented example" }).click();
      await page.getByRole("heading", { name: "Vehicle and case" }).waitFor();
      await estimateShown(page);
    });
    await settled(page);
    await goTo(page, "Vehicle");
    await page.getByRole("button", { name: "Odometer: more" }).click();
    answer.later = await waited(() => page.waitForSelector(".status-working").then(() => notWorking(page)));
    await settled(page);
  } finally {
    fast();
  }
  return { ...answer, ...(await longLoom(page, job.long)) };
}
