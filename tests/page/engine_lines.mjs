// The engine of the page under Node: a request a line on standard input; for each the number of bytes of its answer, a line
// end and the answer. Argument: the folder of engine.mjs and engine.wasm.
import { readFileSync, writeSync } from "node:fs";
import { join, resolve } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const folder = resolve(process.argv[2]);
const begun = process.hrtime.bigint();
const { default: heatside } = await import(pathToFileURL(join(folder, "engine.mjs")).href);
const engine = await heatside({ wasmBinary: readFileSync(join(folder, "engine.wasm")) });
if (process.argv.includes("--times")) report("started", begun);

function report(what, since) {
  process.stderr.write(`${what} ${(Number(process.hrtime.bigint() - since) / 1e6).toFixed(0)} ms\n`);
}

function answerTo(request) {
  const bytes = engine.lengthBytesUTF8(request) + 1;
  const place = engine._malloc(bytes);
  engine.stringToUTF8(request, place, bytes);
  const answer = engine._heatside_answer(place);
  engine._free(place);
  const text = engine.UTF8ToString(answer);
  engine._free(answer);
  return Buffer.from(text, "utf8");
}

function writeAll(bytes) {
  for (let at = 0; at < bytes.length; ) {
    try {
      at += writeSync(1, bytes, at);
    } catch (error) {
      if (error.code !== "EAGAIN") throw error; // a pipe that is full for now
    }
  }
}

for await (const request of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  const since = process.hrtime.bigint();
  const answer = answerTo(request);
  if (process.argv.includes("--times")) report(JSON.parse(request).ask, since);
  writeAll(Buffer.from(`${answer.length}\n`));
  writeAll(answer);
}
