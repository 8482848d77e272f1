// Every way to stop a turning motor once, of what `npm run storm -- --only stops` measures: on the page, by signals, by a crash.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";
import { findBrowser } from "../../scripts/browser.mjs";
import { finished, ROOT } from "./process.ts";

it.skipIf(process.platform === "win32")("stops in time, whatever the cause", async () => {
  const program = join(ROOT, "dist", "node", "storm", "main.js");
  const child = spawn(process.execPath, [program, "--only", "stops", "--count", "8"], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, CHROME_PATH: findBrowser() ?? "" },
  });
  const { status, out } = await finished(child);
  expect([status, out]).toEqual([0, expect.stringContaining("Every bar is met.")]);
});
