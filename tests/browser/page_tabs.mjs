// Two tabs of one job: one writes, the other follows, and nothing is overwritten.
import { opened, until } from "./page_browser.mjs";

const titleIn = (page) => page.getByLabel("Title", { exact: true });

async function retitled(page, title) {
  await titleIn(page).fill(title);
  await titleIn(page).press("Tab");
}

const showsTitle = (page, title) =>
  until(page, (words) => document.querySelector(".status-title")?.textContent === words, title);

export async function twoTabs(context, job) {
  const first = await opened(context, job.page);
  await first.getByRole("button", { name: "Open the invented example" }).click();
  await titleIn(first).waitFor();
  const second = await opened(context, job.page, "vehicle");
  const takeOver = (page) => page.getByRole("button", { name: "Work here instead" });
  const answer = {};
  await takeOver(second).waitFor();
  answer.secondCannotType = await titleIn(second).isDisabled();
  await retitled(first, "Written in the first tab");
  await showsTitle(second, "Written in the first tab");
  await takeOver(second).click();
  await takeOver(first).waitFor();
  answer.firstCannotType = await titleIn(first).isDisabled();
  await retitled(second, "Written in the second tab");
  await showsTitle(first, "Written in the second tab");
  await second.close();
  await takeOver(first).waitFor({ state: "detached" });
  await retitled(first, "Written last");
  await first.reload();
  await showsTitle(first, "Written last");
  answer.after = await titleIn(first).inputValue();
  return answer;
}
