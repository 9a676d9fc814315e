import { useEffect, useState } from "preact/hooks";

/** True where the window is at least so many letters wide; it follows turning, zooming and resizing. */
export function useWide(em: number): boolean {
  const query = `(min-width: ${em}em)`;
  const [wide, setWide] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const list = matchMedia(query);
    const follow = (): void => setWide(list.matches);
    list.addEventListener("change", follow);
    return () => list.removeEventListener("change", follow);
  }, [query]);
  return wide;
}
