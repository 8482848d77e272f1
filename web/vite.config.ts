// How the page is built: bundles of scripts and styles, nothing inline, into dist/web, each compressed beside itself.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

const OUT = fileURLToPath(new URL("../dist/web/", import.meta.url));

/** The server hands these out to whoever takes them: a workshop's tablet loads the page over its radio. */
function compress() {
  return {
    name: "compress",
    closeBundle() {
      for (const name of readdirSync(OUT, { recursive: true, encoding: "utf8" })) {
        if (!/\.(js|css|html|svg)$/.test(name)) continue;
        const path = join(OUT, name);
        const bytes = readFileSync(path);
        writeFileSync(`${path}.br`, brotliCompressSync(bytes));
        // Browsers take the other kind from this computer and over TLS only.
        writeFileSync(`${path}.gz`, gzipSync(bytes));
      }
    },
  };
}

export default defineConfig({
  base: "/",
  plugins: [svelte({ configFile: false, compilerOptions: { runes: true } }), compress()],
  build: {
    outDir: "../dist/web",
    emptyOutDir: true,
    target: "es2023",
    // The server's content security policy allows no data: addresses.
    assetsInlineLimit: 0,
    // The only preload there is would be inlined by the polyfill; every browser we serve has it.
    modulePreload: { polyfill: false },
  },
});
