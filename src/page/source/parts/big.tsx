import type { ComponentChildren, JSX } from "preact";

interface BigProps {
  onPress: () => unknown;
  primary?: boolean;
  disabled?: boolean;
  /** Spoken instead of what stands on it. */
  label?: string;
  class?: string;
  /** For a button that stays pressed. */
  pressed?: boolean;
  /** For a button that opens something below it. */
  expanded?: boolean;
  children: ComponentChildren;
}

/** A button for dirty hands: 64 px high if it is the primary one, else 48. */
export function Big(props: BigProps): JSX.Element {
  const { onPress, primary, disabled, label, pressed, expanded, children } = props;
  return (
    <button
      type="button"
      class={`big${primary ? " big-primary" : ""}${props.class ? ` ${props.class}` : ""}`}
      disabled={disabled}
      aria-label={label}
      aria-pressed={pressed}
      aria-expanded={expanded}
      onClick={() => void onPress()}
    >
      {children}
    </button>
  );
}
