// A short share of what `npm run storm` measures of the built program.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";
import { finished, ROOT } from "./process.ts";

it.skipIf(process.platform === "win32")(
  "loses nothing acknowledged when killed, nor on a full disk, starts nothing unasked, and answers hostile requests in words",
  async () => {
    const bars = ["kills", "motion", "doors", "full"].flatMap((name) => ["--only", name]);
    const program = join(ROOT, "dist", "node", "storm", "main.js");
    const child = spawn(process.execPath, [program, ...bars, "--count", "2"], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    const { status, out } = await finished(child);
    expect([status, out]).toEqual([0, expect.stringContaining("Every bar is met.")]);
  },
);
