// After `npm ci` (as `prepare`): builds, so that `npx bobweight` works. Does nothing without the tools for it.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { build, noteCompiled, ROOT } from "./house.mjs";

const tools = ["typescript", "vite", "svelte"].map((name) => join(ROOT, "node_modules", name));
if (tools.every(existsSync)) {
  // npm has run the packages' own scripts before this one.
  noteCompiled();
  await build();
}
