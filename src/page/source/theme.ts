/** Light or dark: as the device has it, or as the user chose. */

import { signal } from "@preact/signals";

export type Theme = "device" | "light" | "dark";

const kept = "heatside-theme";
export const theme = signal<Theme>("device");

function show(now: Theme): void {
  const root = window.document.documentElement;
  if (now === "device") root.removeAttribute("data-theme");
  else root.dataset["theme"] = now;
}

export function startTheme(): void {
  try {
    const last = localStorage.getItem(kept);
    if (last === "light" || last === "dark") theme.value = last;
  } catch {
    // Then as the device has it.
  }
  show(theme.value);
}

export function chooseTheme(now: Theme): void {
  theme.value = now;
  show(now);
  try {
    localStorage.setItem(kept, now);
  } catch {
    // Then until the page is closed.
  }
}
