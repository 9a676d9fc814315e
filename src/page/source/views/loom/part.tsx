import type { ComponentChildren, JSX } from "preact";

interface PartProps {
  title: string;
  /** What is said here so far, to be read without opening it. */
  now: string;
  open?: boolean;
  children: ComponentChildren;
}

/** A part of the sheet: what it says in a line, and the fields when it is pressed. */
export function Part({ title, now, open, children }: PartProps): JSX.Element {
  return (
    <details class="card loom-part" open={open}>
      <summary>
        <h3>{title}</h3>
        <small>{now}</small>
      </summary>
      {children}
    </details>
  );
}
