// Opens each page given as JSON on standard input in headless Chromium and prints what it found, as JSON.
// Input: {"modules": folder with node_modules, "pages": [path], "pictures": folder or null}
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";

const job = JSON.parse(readFileSync(0, "utf8"));
const require = createRequire(path.join(job.modules, "package.json"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"],
});
const answers = [];
for (const file of job.pages) {
  const answer = { file, console: [], requests: [], views: [] };
  // 640 CSS pixels are what 1280 become at 200 %.
  for (const width of [320, 640, 1280]) {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    page.on("console", (message) => answer.console.push(message.text()));
    page.on("pageerror", (error) => answer.console.push(String(error)));
    page.on("request", (request) => answer.requests.push(request.url()));
    await page.goto(pathToFileURL(file).href);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    const scripts = await page.evaluate(() => document.querySelectorAll("script, iframe, object, embed").length);
    const handlers = await page.evaluate(() =>
      [...document.querySelectorAll("*")].filter((e) => [...e.attributes].some((a) => /^on/i.test(a.name))).length);
    await page.evaluate(axe);
    const result = await page.evaluate(() => globalThis.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"],
    }));
    const violations = result.violations.map((v) => `${v.id}: ${v.help} (${v.nodes.length}) ${v.nodes[0].html.slice(0, 200)}`);
    if (job.pictures) {
      const name = path.basename(file, ".html") + "-" + width + ".png";
      await page.screenshot({ path: path.join(job.pictures, name), fullPage: true });
    }
    answer.views.push({ width, overflow, scripts, handlers, violations });
    await page.close();
  }
  const page = await browser.newPage();
  await page.goto(pathToFileURL(file).href);
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, printBackground: true, path: job.pictures
      ? path.join(job.pictures, path.basename(file, ".html") + "-" + format + ".pdf") : undefined });
    answer[format] = (pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? []).length;
  }
  await page.close();
  answers.push(answer);
}
await browser.close();
console.log(JSON.stringify(answers));
