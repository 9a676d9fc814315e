/** Runs the engine beside the page: a request as text in, its answer as text out. */

import start, { type Engine } from "heatside:engine";

type Message = { engine: string } | { id: number; request: string };

let engine: Promise<Engine> | null = null;
let lastWords = "";

async function unpacked(base64: string): Promise<ArrayBuffer> {
  const packed = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

async function started(base64: string): Promise<Engine> {
  const wasmBinary = await unpacked(base64);
  // What it prints is kept for the message of a failure: nothing goes to a console.
  const keep = (words: string): void => void (lastWords = words);
  return start({ wasmBinary, print: keep, printErr: keep });
}

function answered(by: Engine, request: string): string {
  const room = by.lengthBytesUTF8(request) + 1;
  const place = by._malloc(room);
  if (place === 0) throw new Error("the memory of this device is not enough for the question");
  by.stringToUTF8(request, place, room);
  const answer = by._heatside_answer(place);
  by._free(place);
  if (answer === 0) throw new Error("the memory of this device is not enough for the answer");
  const text = by.UTF8ToString(answer);
  by._free(answer);
  return text;
}

self.onmessage = async ({ data }: MessageEvent<Message>): Promise<void> => {
  if ("engine" in data) {
    engine = started(data.engine);
    engine.catch(() => undefined); // said with the first question
    return;
  }
  try {
    if (!engine) throw new Error("the engine was never started");
    const answer = answered(await engine, data.request);
    self.postMessage({ id: data.id, answer });
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    self.postMessage({ id: data.id, failure: lastWords ? `${words} (${lastWords})` : words });
  }
};
