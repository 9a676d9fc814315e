import { render } from "preact";
import "./style.css";
import { Boundary } from "./boundary";
import { Shell } from "./shell";
import { Dropped } from "./engine/ask";
import { startTheme } from "./theme";
import { loadLibrary } from "./store/library";
import { openJob, rememberedJob, trouble } from "./store/job";
import { measureRoom } from "./store/room";

const root = window.document.getElementById("page");

// A change that could not be kept is told of by the notice, wherever it was made.
window.addEventListener("unhandledrejection", (event) => {
  event.preventDefault();
  if (event.reason instanceof Dropped) return;
  trouble.value ||= event.reason instanceof Error ? event.reason.message : String(event.reason);
});

async function start(): Promise<void> {
  startTheme();
  void loadLibrary();
  void measureRoom();
  const last = await rememberedJob();
  // A job that is gone is no reason not to start: the list of jobs comes instead.
  if (last) await openJob(last).catch(() => undefined);
  if (!root) return;
  root.replaceChildren();
  render(
    <Boundary>
      <Shell />
    </Boundary>,
    root,
  );
}

void start();
