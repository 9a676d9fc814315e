/** Answers about the open case that follow every change of it: a quick one first, then one with all draws. */

import { type Signal, effect, signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { Dropped, type Problem, ask, problemsOf } from "../engine/ask";
import type { EstimateAnswer } from "./estimate_answer";
import { job } from "./job";

export interface Answer<T> {
  /** "working" also while a first answer is being refined; `draws` tells of how many the shown one is. */
  state: "none" | "working" | "ready" | "refused";
  value: T | null;
  draws: number;
  /** The answer before the last change of the case, of as many draws where there is one. */
  before: T | null;
  problems: Problem[];
}

export const quickDraws = 500;
export const fullDraws = 10_000;

const none = <T>(): Answer<T> => ({ state: "none", value: null, draws: 0, before: null, problems: [] });

interface Known {
  text: string;
  byDraws: Map<number, unknown>;
}

// The last texts and their answers, newest last: a view that is opened again does not wait, and before stands beside after.
class Course {
  private texts: Known[] = [];

  at(text: string): Known {
    const last = this.texts[this.texts.length - 1];
    if (last?.text === text) return last;
    const old = this.texts.find((one) => one.text === text);
    const now = { text, byDraws: old?.byDraws ?? new Map<number, unknown>() };
    this.texts = [...this.texts.slice(-3), now];
    return now;
  }

  /** Of the text before the last one. */
  before(draws: number): unknown {
    const earlier = this.texts.slice(0, -1).reverse().find((one) => one.byDraws.size > 0);
    return earlier?.byDraws.get(draws) ?? earlier?.byDraws.get(fullDraws) ?? earlier?.byDraws.get(quickDraws) ?? null;
  }
}

const courses = new Map<string, Course>();
const mostCourses = 40;

function courseOf(key: string): Course {
  let course = courses.get(key);
  if (!course) {
    if (courses.size >= mostCourses) courses.delete(courses.keys().next().value as string);
    courses.set(key, (course = new Course()));
  }
  return course;
}

export interface Wish {
  /** Draws of the rounds, from quick to thorough. */
  rounds?: number[];
  [key: string]: unknown;
}

function later(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

const restingTime = 400; // ms without a change before the thorough round begins

/** Puts the answers of one question into `into` until the returned function is called. */
function followed<T>(what: string, { rounds = [quickDraws, fullDraws], ...extra }: Wish, into: Signal<Answer<T>>): () => void {
  let newest = 0;
  async function run(id: string, text: string, name: string): Promise<void> {
    const mine = ++newest;
    const dropped = (): boolean => mine !== newest;
    const course = courseOf(JSON.stringify([id, what, extra]));
    const known = course.at(text);
    for (const [i, draws] of rounds.entries()) {
      const last = i === rounds.length - 1;
      const state = last ? "ready" : "working";
      if (!known.byDraws.has(draws)) {
        if (i === 0) into.value = { ...into.value, state: "working", problems: [] };
        else await later(restingTime);
        if (dropped()) return;
        if (!last && known.byDraws.has(rounds[rounds.length - 1] as number)) continue;
        try {
          const request = { ask: what, case: text, name, draws, ...extra };
          known.byDraws.set(draws, await ask<T>(request, { background: i > 0, dropped }));
        } catch (error) {
          if (!dropped() && !(error instanceof Dropped)) into.value = { ...none<T>(), state: "refused", problems: problemsOf(error) };
          return;
        }
        if (dropped()) return;
      }
      const before = course.before(draws) as T | null;
      into.value = { state, value: known.byDraws.get(draws) as T, draws, before, problems: [] };
    }
  }
  let last: { id: string; text: string } | null = null;
  const stop = effect(() => {
    const now = job.value;
    if (now && last && now.id === last.id && now.text === last.text) return;
    if (!now || now.id !== last?.id) into.value = none<T>();
    last = now && { id: now.id, text: now.text };
    newest++;
    if (now) void run(now.id, now.text, now.name);
  });
  return () => {
    newest++;
    stop();
  };
}

const estimate = signal<Answer<EstimateAnswer>>(none());
followed("estimate", {}, estimate);

/** The estimate of the open case, whatever view is shown. */
export const answers = { estimate };

/** The answer of the engine to `what` about the open case; it follows the case while the view is shown. */
export function useAnswer<T>(what: string, extra: Wish = {}): Signal<Answer<T>> {
  const key = JSON.stringify([what, extra]);
  const into = useMemo(() => signal<Answer<T>>(none()), [key]);
  useEffect(() => followed<T>(what, extra, into), [key]);
  return into;
}
