// A whole job by taps alone, with the browser killed in the middle of it: nothing may be lost.
import path from "node:path";
import { goTo, opened, readCautions, settled, started, until } from "./page_browser.mjs";

/** The job as this browser keeps it: text and number of steps, and how many photos there are. */
const keptIn = (page) => page.evaluate(() => new Promise((resolve, reject) => {
  const request = indexedDB.open("heatside");
  request.onerror = () => reject(request.error);
  request.onsuccess = () => {
    const stores = request.result.transaction(["jobs", "photos"]);
    const jobs = stores.objectStore("jobs").getAll();
    const photos = stores.objectStore("photos").getAll();
    stores.oncomplete = () => {
      request.result.close();
      resolve({ jobs: jobs.result.map(({ name, text, step }) => ({ name, text, step })),
                photos: photos.result.map(({ key, sha256, bytes }) => ({ key, sha256, size: bytes.byteLength })) });
    };
  };
}));

async function begin(page) {
  await page.getByRole("button", { name: "New case" }).click();
  const sheet = page.getByRole("dialog");
  await sheet.getByText("In-line engine, top loom").click();
  await sheet.getByLabel("Vehicle built").fill("1995");
  await sheet.getByLabel("Day of the inspection").fill("2015-06-01");
  await sheet.getByText("Europe", { exact: true }).click();
  await sheet.getByText("In the open", { exact: true }).click();
  await sheet.getByText("miles", { exact: true }).click();
  await sheet.getByRole("textbox", { name: /^Odometer/ }).fill("100000");
  await sheet.getByRole("button", { name: "Odometer: more" }).click();
  await sheet.getByLabel("Title of the case").fill("Invented for a test");
  await sheet.getByRole("button", { name: "Start the case" }).click();
  await page.getByRole("heading", { name: "Vehicle and case" }).waitFor();
}

/** From a template to the estimate, then the browser dies. */
async function firstHalf(context, job) {
  const page = await opened(context, job.page);
  await begin(page);
  await page.getByRole("heading", { name: /What this case assumes \(\d+\)/ }).waitFor();
  const assumptions = await page.locator(".start-assumed li").count();
  await page.getByLabel("Signed by").fill("Nobody in particular");
  await page.getByLabel("Signed by").press("Tab");
  await page.getByRole("button", { name: "On to Loom" }).click();
  await page.getByRole("heading", { name: "The loom", exact: true }).waitFor();
  await page.getByRole("button", { name: "On to Service" }).click();
  await page.getByRole("heading", { name: "Service history" }).waitFor();
  await page.getByRole("button", { name: "On to Estimate" }).click();
  await readCautions(page);
  await page.locator("main [data-segment]").first().waitFor();
  const drawn = await page.locator("main [data-segment]").count();
  return { assumptions, drawn, kept: await keptIn(page) };
}

// Pixels without meaning, as a camera would give many more of.
const picture = (page) => page.evaluate(() => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 2400, height: 1200 });
  const pen = canvas.getContext("2d");
  for (let i = 0; i < 60; ++i) {
    pen.fillStyle = `hsl(${6 * i} 60% 50%)`;
    pen.fillRect(40 * i, 0, 40, 1200);
  }
  return canvas.toDataURL("image/png").split(",")[1];
});

async function look(page) {
  await goTo(page, "Open next");
  await readCautions(page);
  await page.getByRole("button", { name: "The owner knows, and agrees" }).click();
  await page.getByText("The owner has agreed").waitFor();
  const form = page.locator(".open-record");
  await form.getByRole("radio", { name: /^Cracked(?! when)/ }).check();
  await form.getByLabel("Choose pictures").setInputFiles({ name: "p.png", mimeType: "image/png", buffer: Buffer.from(await picture(page), "base64") });
  await form.getByRole("button", { name: "Record it", exact: true }).click();
  await page.getByRole("heading", { name: "Found so far (1)" }).waitFor();
  await until(page, () => document.querySelectorAll(".open-thumb").length === 1);
}

/** The look at the loom, then the browser dies again before anybody has saved anything. */
async function secondHalf(context, job) {
  const page = await opened(context, job.page);
  await page.getByText("Invented for a test").first().waitFor();
  const found = { atStart: await keptIn(page), signed: "" };
  await goTo(page, "Vehicle");
  found.signed = await page.getByLabel("Signed by").inputValue();
  await look(page);
  return { ...found, kept: await keptIn(page) };
}

async function saved(page, folder) {
  const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save file" }).click()]);
  const where = path.join(folder, file.suggestedFilename());
  await file.saveAs(where);
  await page.getByText("nothing changed since").waitFor();
  return where;
}

async function takenBackAndAgain(page) {
  const press = async (words) => {
    await page.getByRole("button", { name: /^Steps/ }).click();
    await page.getByRole("dialog").getByRole("button", { name: words }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Close" }).click();
  };
  const findings = async () => (JSON.parse((await keptIn(page)).jobs[0].text).findings ?? []).length;
  const before = await findings();
  await press(/^Take back/);
  await page.locator("dialog[open]").waitFor({ state: "detached" });
  const without = await findings();
  await press(/^Do again/);
  await page.locator("dialog[open]").waitFor({ state: "detached" });
  return [before, without, await findings()];
}

async function end(context, job) {
  const page = await opened(context, job.page);
  const found = { atStart: await keptIn(page) };
  found.takenBackAndAgain = await takenBackAndAgain(page);
  await goTo(page, "Remedies");
  await readCautions(page);
  await settled(page);
  found.remedies = await page.locator("main").innerText();
  await goTo(page, "Report");
  found.report = await page.frameLocator("iframe.report-frame").locator("body").innerText();
  found.saved = await saved(page, job.folder);
  found.kept = await keptIn(page);
  await goTo(page, "Start");
  await page.getByLabel("Open a file").setInputFiles(found.saved);
  await until(page, () => location.hash === "#vehicle");
  found.openedAgain = await keptIn(page);
  return found;
}

/** Each part in a browser of its own on the same profile; all but the last are killed. */
export async function wholeJob(chromium, job) {
  const said = [];
  const asked = [];
  const answer = [];
  for (const part of [firstHalf, secondHalf, end]) {
    const browser = await started(chromium, job.profile);
    try {
      answer.push(await part(browser.context, job));
    } finally {
      await (part === end ? browser.close() : browser.kill());
    }
    said.push(...browser.said);
    asked.push(...browser.asked);
  }
  return { answer, said, asked };
}
