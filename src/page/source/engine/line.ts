/** One worker with the engine in it and the questions that wait for it. */

import EngineWorker from "./worker?worker&inline";

interface Waiting {
  id: number;
  request: string;
  dropped?: () => boolean;
  resolve(answer: string): void;
  reject(error: Error): void;
}

interface Reply {
  id: number;
  answer?: string;
  failure?: string;
}

/** The question is no longer of interest: somebody asked a newer one. */
export class Dropped extends Error {
  constructor() {
    super("a newer question took its place");
  }
}

export class Line {
  private worker: Worker | null = null;
  private current: Waiting | null = null;
  private queue: Waiting[] = [];
  private count = 0;

  constructor(private readonly onBusy: (busy: boolean) => void) {}

  /** Answers come in the order of the questions; one that was dropped before its turn is not put. */
  ask(request: string, dropped?: () => boolean): Promise<string> {
    return new Promise((resolve, reject) => {
      this.queue.push({ id: ++this.count, request, dropped, resolve, reject });
      this.next();
    });
  }

  private next(): void {
    if (this.current) return;
    let waiting = this.queue.shift();
    while (waiting?.dropped?.()) {
      waiting.reject(new Dropped());
      waiting = this.queue.shift();
    }
    this.onBusy(waiting !== undefined);
    if (!waiting) return;
    this.current = waiting;
    try {
      this.worker ??= this.started();
      this.worker.postMessage({ id: waiting.id, request: waiting.request });
    } catch (error) {
      this.stopped(error instanceof Error ? error.message : String(error));
    }
  }

  private started(): Worker {
    const worker = new EngineWorker();
    worker.onmessage = ({ data }: MessageEvent<Reply>) => this.replied(data);
    worker.onerror = (event) => {
      event.preventDefault();
      this.stopped(event.message || "the worker did not start");
    };
    worker.postMessage({ engine: document.getElementById("engine")?.textContent ?? "" });
    return worker;
  }

  private replied(reply: Reply): void {
    const asked = this.current;
    if (!asked || asked.id !== reply.id) return;
    // Whatever broke inside may have left its memory torn: the next question gets a fresh engine.
    if (reply.answer === undefined) return this.stopped(reply.failure ?? "no answer");
    this.current = null;
    asked.resolve(reply.answer);
    this.next();
  }

  private stopped(words: string): void {
    this.worker?.terminate();
    this.worker = null;
    const asked = this.current;
    this.current = null;
    asked?.reject(new Error(words));
    this.next();
  }
}
