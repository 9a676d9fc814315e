/** Light or dark: as the device has it, or as the user chose. */

import { signal } from "@preact/signals";

export type Theme = "device" | "light" | "dark";

const kept = "heatside-theme";
export const theme = signal<Theme>("device");

const deviceIsDark = matchMedia("(prefers-color-scheme: dark)");

function show(): void {
  const dark = theme.value === "dark" || (theme.value === "device" && deviceIsDark.matches);
  window.document.documentElement.dataset["theme"] = dark ? "dark" : "light";
}

export function startTheme(): void {
  try {
    const last = localStorage.getItem(kept);
    if (last === "light" || last === "dark") theme.value = last;
  } catch {
    // Then as the device has it.
  }
  show();
  deviceIsDark.addEventListener("change", show);
}

export function chooseTheme(now: Theme): void {
  theme.value = now;
  show();
  try {
    localStorage.setItem(kept, now);
  } catch {
    // Then until the page is closed.
  }
}
