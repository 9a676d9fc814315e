import { useEffect, useState } from "preact/hooks";

const query = "(min-width: 64em)";

/** True where a table has room; it follows turning the phone, zooming and resizing. */
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
