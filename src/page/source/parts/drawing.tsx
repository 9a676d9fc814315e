import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";

interface DrawingProps {
  /** From the engine, which escapes every text that a user wrote. */
  svg: string;
  label: string;
  /** Called with the id of a segment that is pressed. */
  onSegment?: (id: string) => unknown;
  /** Spoken names of the segments; otherwise their ids. */
  names?: Record<string, string>;
  /** The segment that is marked. */
  chosen?: string;
  class?: string;
}

type SegmentGroup = SVGGElement & { dataset: { segment: string } };
const groupsOf = (box: HTMLElement): SegmentGroup[] => [...box.querySelectorAll<SegmentGroup>("g[data-segment]")];

// One stop for the Tab key; the arrow keys walk along the segments.
function walk(box: HTMLElement, event: KeyboardEvent): void {
  const groups = groupsOf(box);
  const here = groups.findIndex((group) => group === event.target);
  const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  if (here < 0 || by === undefined) return;
  event.preventDefault();
  const next = groups[(here + by + groups.length) % groups.length];
  groups[here]?.setAttribute("tabindex", "-1");
  next?.setAttribute("tabindex", "0");
  next?.focus();
}

function pressable(box: HTMLElement, names: Record<string, string>): void {
  groupsOf(box).forEach((group, index) => {
    group.setAttribute("role", "button");
    group.setAttribute("tabindex", index === 0 ? "0" : "-1");
    group.setAttribute("aria-label", names[group.dataset.segment] ?? group.dataset.segment);
  });
}

/** A drawing of the engine. */
export function Drawing({ svg, label, onSegment, names = {}, chosen, class: more }: DrawingProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const press = useRef(onSegment);
  press.current = onSegment;
  const pressed = onSegment !== undefined;
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    element.innerHTML = svg;
    const root = element.querySelector("svg");
    if (pressed) {
      root?.setAttribute("role", "group");
      pressable(element, names);
    } else {
      root?.setAttribute("role", "img");
    }
    root?.setAttribute("aria-label", label);
    root?.removeAttribute("aria-labelledby");
  }, [svg, label, pressed, JSON.stringify(names)]);
  useEffect(() => {
    for (const group of box.current ? groupsOf(box.current) : [])
      group.classList.toggle("drawing-chosen", group.dataset.segment === chosen);
  }, [svg, chosen, pressed]);

  const segmentAt = (event: Event): string | undefined =>
    (event.target as Element | null)?.closest<SegmentGroup>("g[data-segment]")?.dataset.segment;
  return (
    <div
      ref={box}
      class={`drawing${pressed ? " drawing-pressable" : ""}${more ? ` ${more}` : ""}`}
      onClick={(event) => {
        const id = segmentAt(event);
        if (id !== undefined) void press.current?.(id);
      }}
      onKeyDown={(event) => {
        if (box.current) walk(box.current, event);
        const id = segmentAt(event);
        if (id === undefined || !press.current || (event.key !== "Enter" && event.key !== " ")) return;
        event.preventDefault();
        void press.current(id);
      }}
    />
  );
}
