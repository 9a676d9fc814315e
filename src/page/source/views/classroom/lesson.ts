import { useEffect, useRef, useState } from "preact/hooks";
import { ask } from "../../engine/ask";
import type { Lesson, LessonAnswer } from "./answers";

/** What a class looks at. */
export interface Wish {
  insulation: string;
  second: string; // empty: no other
  celsius: number;
  years: number;
}

export interface Lessons {
  wish: Wish; // what the answers are for
  lessons: Lesson[];
  warmer: Lesson | null; // the first compound, ten kelvin warmer
}

const draws = 500;
const shownYears = 40;

export const tenKelvin = 10;

function lesson(wish: Wish, celsius: number, second: string): Promise<LessonAnswer> {
  return ask<LessonAnswer>({
    ask: "lesson",
    insulation: wish.insulation,
    ...(second !== "" && { second }),
    temperature_Cel: celsius,
    years: wish.years,
    shown_years: shownYears,
    draws,
  });
}

/**
 * The answers to the newest wish. While one is worked out only the newest of those that follow is kept, so that a
 * slider that moves never waits for where it has been.
 */
export function useLessons(wish: Wish): { shown: Lessons | null; failure: string } {
  const [shown, setShown] = useState<Lessons | null>(null);
  const [failure, setFailure] = useState("");
  const wanted = useRef<Wish | null>(null);
  const busy = useRef(false);
  const mounted = useRef(true);

  async function work(): Promise<void> {
    busy.current = true;
    while (wanted.current && mounted.current) {
      const now = wanted.current;
      wanted.current = null;
      try {
        const { lessons } = await lesson(now, now.celsius, now.second);
        if (mounted.current) setShown((before) => ({ wish: now, lessons, warmer: before?.warmer ?? null }));
        // Somebody who still moves the slider does not read about ten kelvin.
        if (wanted.current) continue;
        const warmer = await lesson(now, now.celsius + tenKelvin, "");
        if (mounted.current) setShown({ wish: now, lessons, warmer: warmer.lessons[0] ?? null });
        if (mounted.current) setFailure("");
      } catch (error) {
        if (mounted.current) setFailure(error instanceof Error ? error.message : String(error));
      }
    }
    busy.current = false;
  }

  useEffect(() => {
    mounted.current = true;
    return () => {
      mounted.current = false;
    };
  }, []);
  useEffect(() => {
    if (wish.insulation === "") return;
    wanted.current = wish;
    if (!busy.current) void work();
  }, [wish.insulation, wish.second, wish.celsius, wish.years]);
  return { shown, failure };
}
