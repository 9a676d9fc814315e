import type { JSX } from "preact";
import type { CaseDocument, Segment } from "../../case/document";
import { nameOf } from "../../case/document";
import type { Library } from "../../engine/answers";
import { Sheet } from "../../parts";
import { locked } from "./edit";
import { EndFields } from "./end_fields";
import { FluidFields } from "./fluid_fields";
import { GroupFields } from "./group_fields";
import { Assumed, CaseProblems, LastChange, type Noted, notedAt } from "./notes";
import { PlaceFields } from "./place_fields";
import { RouteFields } from "./route_fields";
import { StretchFields } from "./stretch_fields";

/** What the parts of the sheet work on. */
export interface SegmentProps {
  document: CaseDocument;
  segment: Segment;
  library: Library | null;
  disabled: boolean;
  noted: Noted;
  /** Shows another segment, or none. */
  go: (id: string | null) => void;
}

interface SheetProps {
  document: CaseDocument;
  id: string;
  library: Library | null;
  noted: Noted;
  go: (id: string | null) => void;
}

/** One segment and everything that can be said of it. */
export function SegmentSheet({ document, id, library, noted, go }: SheetProps): JSX.Element | null {
  const at = document.segments.findIndex((one) => one.id === id);
  const segment = document.segments[at];
  if (!segment) return null;
  const here = notedAt(noted, `/segments/${at}`);
  const node = (of: string): string => nameOf(document.nodes.find((one) => one.id === of), of);
  const props: SegmentProps = { document, segment, library, disabled: locked(), noted: here, go };
  return (
    <Sheet title={nameOf(segment)} onClose={() => go(null)}>
      <div class="loom-sheet">
        <div class="loom-sheet-top">
          <LastChange noted={here} />
        </div>
        <CaseProblems noted={here} />
        <p>
          From {node(segment.from)} to {node(segment.to)}.
        </p>
        <PlaceFields {...props} />
        <StretchFields {...props} />
        <GroupFields {...props} />
        <EndFields {...props} />
        <FluidFields {...props} />
        <RouteFields {...props} />
        <Assumed list={here.assumptions} title="Assumed of this segment" />
      </div>
    </Sheet>
  );
}
