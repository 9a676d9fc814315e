// How every view looks and reads: axe-core, sideways scrolling, sizes of what is pressed, pictures.
import path from "node:path";
import { goTo, opened, readCautions, settled } from "./page_browser.mjs";

export const views = ["Start", "Vehicle", "Loom", "Service", "Estimate", "Open next", "Remedies", "Report", "Classroom"];
const rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const screens = { phone: { width: 390, height: 844 }, laptop: { width: 1366, height: 768 } };

// Frames of the report are documents of their own; they have tests of their own.
async function judged(page, axe) {
  await page.evaluate(axe);
  const found = await page.evaluate((runOnly) => globalThis.axe.run(document, {
    runOnly, resultTypes: ["violations"], iframes: false, rules: { "color-contrast-enhanced": { enabled: true } },
  }), rules);
  const objections = found.violations.flatMap((v) => v.nodes.slice(0, 3).map((node) => `${v.id}: ${v.help}: ${node.html.slice(0, 160)}`));
  return { objections, kept: found.passes.length };
}

const overflow = (page) => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** Buttons and fields that are lower than 48 pixels, or primary ones lower than 64. */
const small = (page) => page.evaluate(() => {
  const list = [];
  for (const element of document.querySelectorAll("main button, main select, main input, main summary, nav button, header button")) {
    const box = (element.closest("label.choice-option") ?? element).getBoundingClientRect();
    if (box.height === 0 || element.closest(".spoken")) continue;
    const least = element.classList.contains("big-primary") ? 64 : 48;
    if (box.height < least - 0.5) list.push(`${Math.round(box.height)} px: ${element.outerHTML.slice(0, 120)}`);
  }
  return list;
});

async function picture(page, folder, name) {
  for (const [screen, size] of Object.entries(screens)) {
    await page.setViewportSize(size);
    await page.waitForTimeout(150);
    await page.screenshot({ path: path.join(folder, `${name}-${screen}.png`) });
    await page.screenshot({ path: path.join(folder, `${name}-${screen}-whole.png`), fullPage: true });
  }
}

async function lookedAt(page, axe, pictures, name) {
  const found = { name, objections: [], kept: 0, overflow: {}, small: [] };
  for (const width of [320, 1280]) {
    await page.setViewportSize({ width, height: 800 });
    await page.waitForTimeout(150);
    found.overflow[width] = await overflow(page);
    found.small.push(...(await small(page)));
    const { objections, kept } = await judged(page, axe);
    found.objections.push(...objections);
    found.kept = kept;
  }
  if (pictures) await picture(page, pictures, name);
  return found;
}

/** Every view of the demo case, light and dark. */
export async function looks(context, job, axe) {
  const page = await opened(context, job.page);
  await page.getByRole("button", { name: "Open the invented example" }).click();
  await page.getByRole("heading", { name: "Vehicle and case" }).waitFor();
  const found = [];
  for (const scheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const view of views) {
      await goTo(page, view);
      if (await page.getByRole("button", { name: "I have read this" }).count()) found.push(await lookedAt(page, axe, job.pictures, `cautions-${scheme}`));
      await readCautions(page);
      await settled(page);
      found.push(await lookedAt(page, axe, job.pictures, `${view.toLowerCase().replace(" ", "-")}-${scheme}`));
    }
    await page.getByRole("button", { name: /^Steps/ }).click();
    found.push(await lookedAt(page, axe, job.pictures, `steps-${scheme}`));
    await page.getByRole("dialog").getByRole("button", { name: "Close" }).click();
  }
  await page.close();
  return found;
}
