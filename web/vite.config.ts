// How the page is built: one bundle of scripts and one of styles, nothing inline, into dist/web.
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

export default defineConfig({
  base: "/",
  plugins: [svelte({ configFile: false, compilerOptions: { runes: true } })],
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
