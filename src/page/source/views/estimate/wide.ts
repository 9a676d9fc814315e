import { useEffect, useState } from "preact/hooks";

const query = "(min-width: 52em)";

/** True where a drawing and a table have room side by side; it follows turning, zooming and resizing. */
export function useWide(): boolean {
  const [wide, setWide] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const list = matchMedia(query);
    const follow = (): void => setWide(list.matches);
    list.addEventListener("change", follow);
    return () => list.removeEventListener("change", follow);
  }, []);
  return wide;
}
