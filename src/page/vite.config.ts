import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { type Plugin, type ResolvedConfig, defineConfig } from "vite";
import { viteSingleFile } from "vite-plugin-singlefile";

const here = path.dirname(fileURLToPath(import.meta.url));
const engineFolder = path.resolve(here, process.env.HEATSIDE_ENGINE ?? "../../build/page-engine");
const outFolder = path.resolve(here, process.env.HEATSIDE_PAGE_OUT ?? "../../build/page");
const demo = path.resolve(here, "../../examples/hillside-estate.case.json");

/** The engine's loader and the demo case, under names that do not depend on where they were built. */
function namedSources(): Plugin {
  const loader = path.join(engineFolder, "engine.mjs");
  return {
    name: "heatside-named-sources",
    enforce: "pre",
    buildStart() {
      if (!existsSync(loader)) this.error(`there is no engine in ${engineFolder}: build the preset page-engine first`);
    },
    resolveId: (id) => (id === "heatside:engine" ? loader : id === "heatside:demo" ? "\0heatside-demo" : null),
    load: (id) => (id === "\0heatside-demo" ? `export default ${JSON.stringify(readFileSync(demo, "utf8"))};` : null),
  };
}

const sha256 = (text: string): string => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

// Nothing may be asked for; only the scripts that were built in, by their hashes, and the worker made of them, may run.
function policy(scripts: string[]): string {
  return [
    "default-src 'none'",
    `script-src ${scripts.map(sha256).join(" ")} 'wasm-unsafe-eval' blob:`,
    "worker-src blob:",
    "style-src 'unsafe-inline'",
    "img-src blob: data:",
    "connect-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

// Gzip, so that the page is small on a disk too; no compression of a server will make much of base64.
const engineData = (): string =>
  `<script type="text/plain" id="engine">${gzipSync(readFileSync(path.join(engineFolder, "engine.wasm")), { level: 9 }).toString("base64")}</script>`;

/** Engine and policy go into the page when all its scripts stand in it. */
function closedPage(): Plugin {
  let config: ResolvedConfig;
  return {
    name: "heatside-closed-page",
    enforce: "post",
    configResolved: (resolved) => void (config = resolved),
    generateBundle: {
      order: "post",
      handler(_, bundle) {
        const page = bundle["index.html"];
        if (!page || page.type !== "asset") return config.logger.error("no page was built");
        let html = String(page.source);
        const scripts = [...html.matchAll(/<script type="module"[^>]*>([\s\S]*?)<\/script>/g)].map((found) => found[1] ?? "");
        const meta = `<meta http-equiv="Content-Security-Policy" content="${policy(scripts)}" />`;
        html = html.replace("<!-- content security policy: put here by the build -->", () => meta);
        html = html.replace("<!-- engine: put here by the build -->", engineData);
        page.fileName = "heatside.html";
        page.source = html;
      },
    },
  };
}

export default defineConfig({
  root: here,
  plugins: [namedSources(), viteSingleFile({ removeViteModuleLoader: true }), closedPage()],
  worker: { format: "iife", plugins: () => [namedSources()] },
  build: { outDir: outFolder, emptyOutDir: false, target: ["chrome95", "firefox113", "safari16.4"], modulePreload: false, reportCompressedSize: false },
});
