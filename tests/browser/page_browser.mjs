// A browser that keeps its profile and can be killed, with the page in it and the network refused.
import { spawn } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { setTimeout as rest } from "node:timers/promises";
import { pathToFileURL } from "node:url";

// No name resolves and every connection goes to a port that nobody listens on.
const refused = ["--host-resolver-rules=MAP * ~NOTFOUND", "--proxy-server=127.0.0.1:9", "--disable-background-networking",
                 "--disable-component-update", "--disable-sync", "--disable-quic"];
const quiet = ["--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--hide-scrollbars"];

export function toolsOf(modules) {
  const require = createRequire(path.join(modules, "package.json"));
  return { chromium: require("playwright-core").chromium, axe: readFileSync(require.resolve("axe-core/axe.min.js"), "utf8") };
}

async function portOf(profile) {
  const file = path.join(profile, "DevToolsActivePort");
  for (let i = 0; i < 600; ++i) {
    const [port] = existsSync(file) ? readFileSync(file, "utf8").split("\n") : [];
    if (port) return port;
    await rest(50);
  }
  throw new Error("the browser did not start");
}

/** Starts the browser on a profile; what it says and asks for is collected. */
export async function started(chromium, profile) {
  rmSync(path.join(profile, "DevToolsActivePort"), { force: true });
  const process = spawn("/usr/bin/chromium", [...quiet, ...refused, "--remote-debugging-port=0",
                        `--user-data-dir=${profile}`, "about:blank"], { stdio: "ignore" });
  const ended = new Promise((resolve) => process.once("exit", resolve));
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${await portOf(profile)}`);
  const context = browser.contexts()[0];
  const said = [];
  const asked = [];
  context.on("page", (page) => {
    page.on("console", (message) => said.push(message.text()));
    page.on("pageerror", (error) => said.push(String(error)));
    page.on("request", (request) => asked.push(request.url()));
  });
  return {
    context, said, asked, id: process.pid,
    /** As a battery that is empty: no page is told. */
    async kill() {
      process.kill("SIGKILL");
      await ended;
      await browser.close().catch(() => undefined);
    },
    async close() {
      await browser.close();
      process.kill("SIGTERM");
      await ended;
    },
  };
}

/** A tab with the page; `place` is one of its steps. */
export async function opened(context, file, place = "") {
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  await page.goto(pathToFileURL(file).href + (place ? `#${place}` : ""));
  await page.locator("main").waitFor();
  return page;
}

/** Until `holds` is true in the page. The policy of the page forbids what the driver's own way of waiting needs. */
export async function until(page, holds, words, milliseconds = 60_000) {
  const end = Date.now() + milliseconds;
  while (!(await page.evaluate(holds, words))) {
    if (Date.now() > end) throw new Error(`in vain: ${holds} with ${JSON.stringify(words)}`);
    await rest(20);
  }
}

/** Until the engine has nothing to do for a while. */
export async function settled(page, milliseconds = 600_000) {
  const end = Date.now() + milliseconds;
  for (let calm = 0; calm < 6;) {
    if (Date.now() > end) throw new Error("the engine did not come to rest");
    calm = (await page.locator(".status-working").count()) === 0 ? calm + 1 : 0;
    await rest(100);
  }
}

/** To a step by the strip at the bottom, as a thumb does it. */
export async function goTo(page, name) {
  if ((await page.locator("main h1").count()) > 0 && (await page.title()).startsWith(`${name} –`)) return;
  await page.getByRole("button", { name: /^Steps/ }).click();
  await page.getByRole("navigation", { name: "Steps", exact: true }).getByRole("button", { name: new RegExp(`^${name}`) }).click();
  await until(page, (words) => document.title.startsWith(words), `${name} –`);
  await page.locator("dialog[open]").waitFor({ state: "detached" });
}

/** The same tap as a user's, where the cautions are not read yet. */
export async function readCautions(page) {
  const button = page.getByRole("button", { name: "I have read this" });
  if ((await button.count()) > 0) await button.click();
}
