import { useMemo } from "preact/hooks";

let count = 0;

/** An id of an element that no other element of the page has. */
export const useElementId = (what: string): string => useMemo(() => `${what}-${++count}`, [what]);
