import { Component, type ComponentChildren, type JSX } from "preact";
import { Big } from "./parts/big";
import { exportFile, job } from "./store/job";

interface BoundaryProps {
  children: ComponentChildren;
}

/** Where a view breaks, the case does not: it is kept already, and can still be saved as a file. */
export class Boundary extends Component<BoundaryProps, { words: string }> {
  override state = { words: "" };

  override componentDidCatch(error: unknown): void {
    this.setState({ words: error instanceof Error ? `${error.name}: ${error.message}` : String(error) });
  }

  override render(): JSX.Element {
    const { words } = this.state;
    if (!words) return <>{this.props.children}</>;
    return (
      <section class="problems" role="alert">
        <h2>This part of the page has stopped</h2>
        <p>Every change up to now is kept on this device. What happened:</p>
        <p>
          <code>{words}</code>
        </p>
        <div class="row">
          <Big primary onPress={() => this.setState({ words: "" })}>
            Try again
          </Big>
          {job.value && <Big onPress={exportFile}>Save the case as a file</Big>}
          <Big onPress={() => window.location.reload()}>Load the page again</Big>
        </div>
      </section>
    );
  }
}
