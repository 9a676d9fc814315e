/** A change of a text as the part that differs, so that a long job stays small. */

export interface Splice {
  start: number;
  gone: string;
  put: string;
}

export function spliceOf(before: string, after: string): Splice {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let same = 0;
  while (same < most - start && before.charCodeAt(before.length - 1 - same) === after.charCodeAt(after.length - 1 - same))
    same++;
  return { start, gone: before.slice(start, before.length - same), put: after.slice(start, after.length - same) };
}

export function spliced(text: string, by: Splice): string {
  return text.slice(0, by.start) + by.put + text.slice(by.start + by.gone.length);
}

export const reversed = (splice: Splice): Splice => ({ start: splice.start, gone: splice.put, put: splice.gone });
