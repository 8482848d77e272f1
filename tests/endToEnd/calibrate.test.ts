// Checks of the rig itself by the built program, on a stand-in rig whose errors are known.
import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { example, type Finished, finished, freshFolder, ROOT, run } from "./process.ts";

const UNIT = ["--unit", example("everyday.unit.json")];
const LOCKED = ["--scenario", example("stuck.scenario.json")];
const AT_ONCE = ["--fast", "--yes"];
const GAUGE = [
  ...["--gauge-unit", "kPa", "--gauge-uncertainty", "0.1", "--gauge-resolution", "0.01"],
  ...["--vacuums", "10,25,40,55"],
];

/** An invented rig's errors. */
const ERRORS = {
  delayUs: 20,
  couplingRunOutDeg: 0.25,
  couplingRunOutPhaseDeg: 70,
  sensorOffsetPa: 400,
  sensorGain: 1.03,
};

function rigFile(settings: object = {}): string {
  const path = join(freshFolder(), "invented.rig.json");
  const rig = { pickupEdges: 36, ...ERRORS, ...settings };
  const file = { kind: "stand-in", name: "Invented rig", rig, ambientPa: 100_000 };
  writeFileSync(path, JSON.stringify(file));
  return path;
}

const calibrate = (kind: string, rig: string, ...more: string[]): string[] => [
  ...["rigs", "calibrate", kind, "--rig", rig],
  ...more,
];

/** Runs the program with lines typed on standard input, which then ends. */
function typed(args: readonly string[], lines: readonly string[]): Promise<Finished> {
  const child = spawn(process.execPath, [join(ROOT, "bin", "bobweight.js"), ...args]);
  child.stdin.end(lines.map((line) => `${line}\n`).join(""));
  return finished(child);
}

const content = (path: string) => JSON.parse(readFileSync(path, "utf8"));

describe("the delay", () => {
  it.each([36, 4, 1])("of 20 µs is found with %i pickup edges", async (pickupEdges) => {
    const rig = rigFile({ pickupEdges });
    const result = await run(...calibrate("delay", rig, ...UNIT, ...LOCKED, ...AT_ONCE, "--json"));
    expect(result.status).toBe(0);
    const { kind, simulated, check } = JSON.parse(result.out);
    expect({ kind, simulated }).toEqual({ kind: "delay", simulated: true });
    // Three standard uncertainties, and no better than the clock's microsecond lets hope for.
    expect(check.standardUncertaintyUs).toBeLessThan(1);
    expect(Math.abs(check.delayUs - 20)).toBeLessThan(3 * check.standardUncertaintyUs);
    expect(content(rig).calibration).toEqual({ delay: check });
  });

  it("is refused, and nothing kept, where the cam was not locked", async () => {
    const rig = rigFile();
    const before = readFileSync(rig, "utf8");
    const healthy = ["--scenario", example("healthy.scenario.json")];
    const result = await run(...calibrate("delay", rig, ...UNIT, ...healthy, ...AT_ONCE));
    expect(result.status).toBe(75);
    expect(result.out).toBe("");
    expect(result.err).toContain("CAM_NOT_LOCKED");
    expect(readFileSync(rig, "utf8")).toBe(before);
  });
});

it("finds the coupling's run-out by a second seat", async () => {
  const rig = rigFile();
  const healthy = ["--scenario", example("healthy.scenario.json")];
  const result = await run(
    ...calibrate("coupling", rig, ...UNIT, ...healthy, ...AT_ONCE, "--json"),
  );
  expect(result.status).toBe(0);
  const { check } = JSON.parse(result.out);
  // The stand-in's shaft is furthest ahead, so its events earliest, at 70°: latest half a turn on.
  const direction = (deg: number, of: (radians: number) => number) => of((deg * Math.PI) / 180);
  for (const of of [Math.cos, Math.sin]) {
    const off = check.runOutDeg * direction(check.phaseDeg, of) - 0.25 * direction(250, of);
    expect(Math.abs(off)).toBeLessThan(3 * check.standardUncertaintyDeg);
  }
  expect(check.standardUncertaintyDeg).toBeLessThan(0.01);
});

it("finds what the sensor says too much by gauge readings typed in", async () => {
  const rig = rigFile();
  // The board holds what its sensor says: sensed = 1.03 · true + 400 Pa.
  const gauge = [10, 25, 40, 55].map((sensedKPa) => ((sensedKPa - 0.4) / 1.03).toFixed(2));
  const lines = ["yes", gauge[0] as string, "about 23", ...gauge.slice(1)];
  const result = await typed(calibrate("vacuum", rig, ...GAUGE, "--fast", "--json"), lines);
  expect(result.status).toBe(0);
  expect(result.err).toContain('"about 23" is no number');
  const { check } = JSON.parse(result.out);
  expect(check.gain).toBeCloseTo(1 / 1.03, 3);
  expect(check.offsetPa).toBeCloseTo(-400 / 1.03, -2);
  expect(check.gaugeStandardUncertaintyPa).toBeCloseTo(100, 9);
  expect(check.standardUncertaintyPa).toBeGreaterThan(100);
  expect(check.standardUncertaintyPa).toBeLessThan(120);
});

it("holds the pickup against a known angle", async () => {
  const folder = freshFolder();
  const disc = join(folder, "disc.unit.json");
  const [lobeAnglesDeg, unit] = [[0, 100, 220], { description: "Invented disc", rotation: "cw" }];
  writeFileSync(disc, JSON.stringify({ ...unit, invented: true, lobeAnglesDeg }));
  const known = ["--known", "100", "--known-uncertainty", "0.01", "--from", "1", "--to", "2"];
  const rig = rigFile({ couplingRunOutDeg: 0 });
  const result = await run(
    ...calibrate("pickup", rig, "--unit", disc, ...known, ...AT_ONCE, "--json"),
  );
  expect(result.status).toBe(0);
  const { check } = JSON.parse(result.out);
  expect(check.standardUncertaintyDeg).toBeGreaterThan(0.01);
  expect(Math.abs(check.measuredDeg - 100)).toBeLessThan(3 * check.standardUncertaintyDeg);
});

describe("the rig file", () => {
  it("keeps all else and every earlier check, and `rigs show` and the sheet tell it", async () => {
    const rig = rigFile();
    const delay = calibrate("delay", rig, ...UNIT, ...LOCKED, ...AT_ONCE, "--json");
    const first = JSON.parse((await run(...delay)).out).check;
    const second = JSON.parse((await run(...delay)).out).check;
    const kept = content(rig);
    expect(kept).toMatchObject({ name: "Invented rig", rig: ERRORS, ambientPa: 100_000 });
    expect(kept.calibration.delay).toEqual(second);
    expect(kept.earlierCalibrations).toEqual([{ kind: "delay", ...first }]);
    expect((await run("check", rig)).status).toBe(0);

    const day = second.checkedUtc.slice(0, 10);
    const shown = (await run("rigs", "show", rig)).out.split("\n");
    expect(shown[0]).toBe("Invented rig (simulated)");
    expect(shown[1]).toMatch(/^delay: \d+\.\d\d µs, standard uncertainty \d\.\d\d µs, 15 degrees/);
    expect(shown[1]).toContain(`checked ${day}`);
    expect(shown.slice(2, 5)).toEqual([
      "pickup: never checked",
      "coupling: never checked",
      "vacuum: never checked",
    ]);
    expect(shown[5]).toMatch(/^earlier delay: /);
    const json = JSON.parse((await run("rigs", "show", rig, "--json")).out);
    expect(json.calibration).toEqual({ delay: second, pickup: null, coupling: null, vacuum: null });

    const data = ["--data", freshFolder()];
    const plan = ["--plan", example("short.plan.json")];
    const measured = await run(
      "measure",
      "--rig",
      rig,
      ...UNIT,
      ...LOCKED,
      "--fast",
      ...data,
      ...plan,
    );
    expect(measured.status).toBe(1);
    const sheet = await run("sheet", ...data);
    expect(sheet.out).toContain(`delay ${day}; pickup, coupling and vacuum sensor never`);
  });
});

it("ends with the guard opened in mid-check: nothing kept", async () => {
  const rig = rigFile();
  const scenario = join(freshFolder(), "guard.scenario.json");
  const incidents = [{ what: "guardOpens", atS: 20 }];
  writeFileSync(
    scenario,
    JSON.stringify({ ...content(example("stuck.scenario.json")), incidents }),
  );
  const result = await run(
    ...calibrate("delay", rig, ...UNIT, "--scenario", scenario, ...AT_ONCE, "--json"),
  );
  expect(result.status).toBe(75);
  expect(result.out).toBe("");
  expect(result.err).toContain("RIG_GUARD_OPEN");
  expect(content(rig)).not.toHaveProperty("calibration");
});

describe("consent", () => {
  it.each([
    ["no", ["no"]],
    ["nothing", []],
    ["something like it", ["y"]],
  ])("nothing moves after %s", async (_, lines) => {
    const rig = rigFile();
    const result = await typed(calibrate("delay", rig, ...UNIT, ...LOCKED, "--fast"), lines);
    expect(result.status).toBe(75);
    expect(result.err).toContain("STOPPED_BY_USER");
    expect(result.err).toContain("emergency stop that takes the power");
    expect(result.err).not.toMatch(/\d+ rpm: /);
    expect(content(rig)).not.toHaveProperty("calibration");
  });

  it("cannot be given beforehand on a real rig", async () => {
    const path = join(freshFolder(), "real.rig.json");
    const real = { kind: "serial", name: "Invented", path: "/dev/ttyNowhere", baud: 115_200 };
    writeFileSync(path, JSON.stringify(real));
    expect((await run(...calibrate("delay", path, ...UNIT, "--yes"))).status).toBe(64);
    expect((await run(...calibrate("delay", path, ...UNIT))).status).toBe(69);
  });

  it("ends with an interrupt: the motor is stopped and nothing kept", async () => {
    const rig = rigFile();
    const args = calibrate("delay", rig, ...UNIT, ...LOCKED, "--yes");
    const child = spawn(process.execPath, [join(ROOT, "bin", "bobweight.js"), ...args]);
    child.stderr.on("data", (chunk) => {
      // The reference has been read: the spindle turns.
      if (/200 rpm: /.test(String(chunk))) child.kill("SIGINT");
    });
    const result = await finished(child);
    expect(result.status).toBe(75);
    expect(result.err).toContain("STOPPED_BY_USER: The check was stopped.");
    expect(result.err).not.toContain("did not confirm");
    expect(content(rig)).not.toHaveProperty("calibration");
  });
});

it.each(["delay", "pickup", "coupling", "vacuum"])(
  "calibrate %s --help tells its options and exit statuses",
  async (kind) => {
    const { status, out } = await run("rigs", "calibrate", kind, "--help");
    expect(status).toBe(0);
    expect(out).toContain(`bobweight rigs calibrate ${kind}`);
    expect(out).toContain("75 not agreed to");
  },
);

it("wrong usage and too little to go by have their own statuses", async () => {
  const rig = rigFile();
  const two = ["--speeds", "500,1000"];
  const status = async (...args: string[]) =>
    (await run(...calibrate(...(args as [string, string])))).status;
  expect(await status("dwell", rig)).toBe(64);
  expect(await status("delay", rig)).toBe(64);
  expect(await status("vacuum", rig, ...GAUGE.with(1, "furlong"))).toBe(64);
  expect(await status("delay", rig, ...UNIT, ...LOCKED, ...AT_ONCE, ...two)).toBe(65);
  expect(await status("delay", rig, ...UNIT, ...LOCKED, ...AT_ONCE, "--speeds", "9000")).toBe(65);
  expect(await status("delay", "nowhere.rig.json", ...UNIT)).toBe(65);
});
