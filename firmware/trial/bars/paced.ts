// Bar: the whole tool at the image's serial line over a pseudo-terminal, in real time.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { atMost, type Bar, beside, type Figure } from "../../../accuracy/bar.ts";
import { RealScheduler } from "../../../server/schedulers.ts";
import { openSimulatedPort } from "../../../sim/process.ts";
import { parseScenario } from "../../../sim/scenario.ts";
import { imageBoards, rigFor } from "../images.ts";
import { type MeasuredRow, offPrinted, PUBLISHED_MECHANISM, PUBLISHED_UNIT } from "../published.ts";

/** Of the built project: this module lies three folders below its `dist/node`. */
const PROGRAM = fileURLToPath(new URL("../../../../../bin/bobweight.js", import.meta.url));
/** A quick one for every test run; null: the default plan. */
const PLANS: readonly (object | null)[] = [
  {
    referenceRpm: 200,
    speedsRpm: [1000],
    vacuums: { unit: "mmHg", values: [200] },
    hold: false,
    rampRpmPerS: 1000,
    turnsPerReading: 5,
  },
  null,
];
/** A host that is late by this much misses no time of the protocol. */
const LAG_LIMIT_MS = 100;

export interface PacedResult {
  readonly plan: string;
  readonly rigS: number;
  /** Of the image behind the clock after each step; at worst, and all but a thousandth. */
  readonly lagMs: number;
  readonly mostLagMs: number;
  /** Lines unreadable, turns missing or set aside. */
  readonly linkTrouble: number;
  readonly farthestDeg: number;
  readonly points: number;
}

/** Of what `bobweight measure --json` prints. */
interface Report {
  readonly ending: string;
  readonly rows: readonly MeasuredRow[];
  readonly link: Readonly<Record<"linesBad" | "turnsMissing" | "turnsSetAside", number>>;
}

async function job(index: number): Promise<PacedResult> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-paced-"));
  const file = (name: string, content: object) => {
    const path = join(folder, name);
    writeFileSync(path, JSON.stringify(content));
    return path;
  };
  const boards = imageBoards(1);
  const lagsMs: number[] = [];
  const fromMs = performance.now();
  const scenario = parseScenario({ mechanism: PUBLISHED_MECHANISM, rig: rigFor(1) }, "scenario");
  const port = await openSimulatedPort(scenario, new RealScheduler(), (plant, ...rest) => {
    const bootMs = performance.now();
    const board = boards(plant, ...rest);
    const afterStep = board.afterStep.bind(board);
    board.afterStep = () => {
      afterStep();
      lagsMs.push(performance.now() - bootMs - 1000 * plant.timeS);
    };
    return board;
  });
  try {
    const plan = PLANS[index] ?? null;
    const report = await measured([
      ...["--rig", port.path, "--unit", file("unit.json", PUBLISHED_UNIT), "--data", folder],
      ...(plan === null ? [] : ["--plan", file("plan.json", plan)]),
    ]);
    if (report.ending !== "completed") throw new Error(`the run ended ${report.ending}`);
    const offs = offPrinted(report.rows);
    lagsMs.sort((a, b) => a - b);
    return {
      plan: plan === null ? "default plan" : "short plan",
      rigS: (performance.now() - fromMs) / 1000,
      lagMs: lagsMs[Math.floor(0.999 * lagsMs.length)] as number,
      mostLagMs: lagsMs.at(-1) as number,
      linkTrouble: report.link.linesBad + report.link.turnsMissing + report.link.turnsSetAside,
      farthestDeg: offs.length === 0 ? Number.POSITIVE_INFINITY : Math.max(...offs),
      points: offs.length,
    };
  } finally {
    port.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** @throws where it says nothing that can be read */
function measured(args: readonly string[]): Promise<Report> {
  const child = spawn(process.execPath, [PROGRAM, "measure", ...args, "--json"], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  let [out, said] = ["", ""];
  child.stdout.on("data", (chunk) => {
    out += chunk;
  });
  child.stderr.on("data", (chunk) => {
    said += chunk;
  });
  return new Promise((resolve, reject) => {
    child.on("close", () => {
      try {
        resolve(JSON.parse(out));
      } catch {
        reject(new Error(`bobweight measure: ${said.trim().split("\n").at(-1)}`));
      }
    });
  });
}

function figuresOf(result: PacedResult): readonly Figure[] {
  const { plan, rigS, points, lagMs } = result;
  return [
    atMost(
      `${plan} over a pseudo-terminal, in real time: the image behind the clock, at worst`,
      result.mostLagMs,
      LAG_LIMIT_MS,
      Math.round(rigS),
      " ms",
      1,
    ),
    beside("… in all but a thousandth of its steps", `${lagMs.toFixed(1)} ms`, Math.round(rigS)),
    atMost("… lines unreadable, turns missing or set aside", result.linkTrouble, 0, 1, "", 0),
    atMost("… printed points: farthest", result.farthestDeg, 0.05, points, "°"),
  ];
}

export const paced: Bar<PacedResult> = {
  name: "paced",
  counts: { short: 1, long: PLANS.length },
  alone: true,
  job,
  figures: (results) => results.flatMap(figuresOf),
};
