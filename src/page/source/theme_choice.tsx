import type { JSX } from "preact";
import { Choice } from "./parts/choice";
import { type Theme, chooseTheme, theme } from "./theme";

const options = [
  { id: "device", name: "As the device" },
  { id: "light", name: "Light" },
  { id: "dark", name: "Dark" },
];

export function ThemeChoice(): JSX.Element {
  return <Choice label="Light or dark" options={options} value={theme.value} onChange={(id) => chooseTheme(id as Theme)} />;
}
