#!/usr/bin/env node
// Starts the built program; says what to do where it has not been built.
import { existsSync } from "node:fs";

// A reader that goes away, as `| head` does, ends nothing: what is still said is lost, a run and its record are not.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error) => {
    if (error.code !== "EPIPE") throw error;
  });
}

const built = new URL("../dist/node/server/commands/main.js", import.meta.url);
if (existsSync(built)) {
  const { main } = await import(built.href);
  process.exitCode = await main(process.argv);
} else {
  process.stderr.write("Bobweight is not built yet. Run `npm ci` in its folder.\n");
  process.exitCode = 70;
}
