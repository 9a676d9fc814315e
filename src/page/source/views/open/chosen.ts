import { signal } from "@preact/signals";

/** The segment that the user wants to look at; null: the one that the order puts first. */
export const chosenPlace = signal<string | null>(null);
