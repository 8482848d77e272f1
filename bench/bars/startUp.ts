// Bar: time from `npm start` to the page, installed and built.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { enteredBy } from "../../storm/wire/entered.ts";
import { middle } from "../timing.ts";

const LIMIT_S = 1.5;
const ROOT = fileURLToPath(new URL("../../../../", import.meta.url));

/** Seconds by the clock until the whole first document of the page had come. */
export type StartUpResult = number;

async function job(): Promise<StartUpResult> {
  const data = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  const fromMs = performance.now();
  // As npm runs it, without npm itself.
  const args = [join(ROOT, "scripts", "start.mjs"), "--port", "0", "--data", data];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "ignore"] });
  const closed = new Promise((resolve) => child.once("close", resolve));
  try {
    const lines = createInterface({ input: child.stdout });
    const url = await new Promise<string>((resolve, reject) => {
      lines.once("line", resolve);
      child.once("close", (status) => reject(new Error(`ended with ${status} before it served`)));
    });
    const { cookie } = await enteredBy(url);
    const answer = await fetch(new URL("/", url), { headers: { cookie } });
    await answer.text();
    if (!answer.ok) throw new Error(`the page was answered with ${answer.status}`);
    return (performance.now() - fromMs) / 1000;
  } finally {
    child.kill("SIGTERM");
    await closed;
    rmSync(data, { recursive: true });
  }
}

function figures(results: readonly StartUpResult[]): readonly Figure[] {
  const secondsS = middle(results);
  return [
    {
      what: "start of the program until the page is served",
      measured: `${secondsS.toFixed(2)} s`,
      limit: `≤ ${LIMIT_S} s`,
      count: results.length,
      met: secondsS <= LIMIT_S,
    },
    beside("… the slowest", `${Math.max(...results).toFixed(2)} s`, results.length),
  ];
}

export const startUp: Bar<StartUpResult> = {
  name: "startUp",
  counts: { short: 9, long: 30 },
  alone: true,
  job,
  figures,
};
