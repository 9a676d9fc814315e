import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Big } from "./big";
import { useElementId } from "./ids";

interface SheetProps {
  title: string;
  onClose: () => unknown;
  children: ComponentChildren;
}

const longestBack = 1000; // ms; where the sheet was closed by the back button nothing comes any more

/** Goes elsewhere once the sheet that closes now has taken its entry off the history; called before `onClose`. */
export function afterClosing(go: () => void): void {
  const done = (): void => {
    clearTimeout(timer);
    window.removeEventListener("popstate", done);
    go();
  };
  const timer = setTimeout(done, longestBack);
  window.addEventListener("popstate", done);
}

/** A panel over the view. The browser keeps the focus in it; Esc, the back button and "Close" close it. */
export function Sheet({ title, onClose, children }: SheetProps): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const close = useRef(onClose);
  close.current = onClose;
  const id = useElementId("sheet");
  useEffect(() => {
    const element = dialog.current;
    if (!element) return;
    const focused = window.document.activeElement;
    element.showModal();
    window.document.documentElement.classList.add("under-sheet");
    const depth = ((history.state as { sheets?: number } | null)?.sheets ?? 0) + 1;
    history.pushState({ ...(history.state as object | null), sheets: depth }, "");
    let byBack = false;
    const back = (event: PopStateEvent): void => {
      if (((event.state as { sheets?: number } | null)?.sheets ?? 0) >= depth) return;
      byBack = true;
      void close.current();
    };
    window.addEventListener("popstate", back);
    return () => {
      window.removeEventListener("popstate", back);
      element.close();
      if (!window.document.querySelector("dialog[open]")) window.document.documentElement.classList.remove("under-sheet");
      // Only while the entry of this sheet is still the newest: a link out of it has made another.
      if (!byBack && (history.state as { sheets?: number } | null)?.sheets === depth) history.back();
      if (focused instanceof HTMLElement && focused.isConnected) focused.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class="sheet"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        void onClose();
      }}
    >
      <header class="sheet-head">
        <h2 id={id}>{title}</h2>
        <Big onPress={onClose}>Close</Big>
      </header>
      <div class="sheet-body">{children}</div>
    </dialog>
  );
}
