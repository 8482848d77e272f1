// The drawings of the Help place: the stand-in's own physics, on the unit of the examples.
import { describe, expect, it } from "vitest";
import { readJsonFile } from "../../server/files.ts";
import { installedMechanism } from "../../sim/installedUnit.ts";
import { balanceRpm } from "../../sim/mechanism.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { contactsAt } from "../../web/src/help/contactsDrawing.ts";
import { DEMO, demoCapsule, demoWeights } from "../../web/src/help/demoUnit.ts";
import { CapsuleRun, holdTrace, reachablePa, WeightsRun } from "../../web/src/help/unitMotion.ts";
import { camOutline, drawnWeights, turnArrow } from "../../web/src/help/weightsDrawing.ts";
import { example } from "../endToEnd/process.ts";

const at = (run: WeightsRun | CapsuleRun, ...goals: number[]) =>
  goals.reduce((_, goal) => run.to(goal), 0);

describe("the unit that is drawn", () => {
  it("is the sound one of the examples", () => {
    const path = example("healthy.scenario.json");
    const scenario = parseScenario(readJsonFile(path), path);
    expect(DEMO).toEqual(installedMechanism(scenario));
  });

  it("stands where its forces balance, behind by friction on the way up and ahead on the way down", () => {
    const unit = demoWeights(null);
    for (const [rpm, back] of [
      [1000, 0],
      [1400, 0],
      [500, 2600],
    ] as const) {
      const branch = back === 0 ? "rising" : "falling";
      const deg = at(new WeightsRun(unit), back, rpm);
      expect(Math.abs(balanceRpm(unit, deg, branch) - rpm)).toBeLessThan(2);
    }
    expect(at(new WeightsRun(unit), 1000)).toBeCloseTo(8.1, 1);
    expect(at(new WeightsRun(unit), 2400)).toBeCloseTo(14, 6);
  });

  it("goes on from where friction holds it", () => {
    const dry = demoWeights("weights-dry");
    const [up, down] = [at(new WeightsRun(dry), 500), at(new WeightsRun(dry), 2600, 500)];
    expect(up).toBeCloseTo(1.5, 1);
    // In steps, so that where exactly it sticks depends on the way.
    expect(down).toBeGreaterThan(4);
    expect(down).toBeLessThan(5);
  });

  it("shows faults as they are: stuck, no knee, farther than the stop, not home", () => {
    expect(at(new WeightsRun(demoWeights("weights-stuck")), 2600)).toBe(0);
    expect(at(new WeightsRun(demoWeights("second-spring-missing")), 800)).toBeCloseTo(14, 6);
    expect(at(new WeightsRun(demoWeights("stop-worn")), 2600)).toBeCloseTo(17, 6);
    expect(at(new WeightsRun(demoWeights("weights-not-returning")), 2600, 0)).toBeCloseTo(3, 6);
  });
});

describe("weights and springs", () => {
  it("swing out about their pivots, pins in the slots of a foot that turns with the cam", () => {
    const rest = drawnWeights(demoWeights(null), 0);
    const out = drawnWeights(demoWeights(null), 14);
    expect([rest.swingDeg, out.swingDeg].map((deg) => deg.toFixed(1))).toEqual(["0.0", "17.1"]);
    const [weight] = out.weights;
    expect(weight?.pivot).toEqual({ x: 22, y: -0 });
    const { x = 0, y = 0 } = weight?.centre ?? {};
    expect(Math.hypot(x - 22, y)).toBeCloseTo(12, 9);
    const pinDeg = ({ weights: [one] }: typeof out) =>
      (Math.atan2(-(one?.pin.y ?? 0), one?.pin.x ?? 0) * 180) / Math.PI;
    expect(pinDeg(out) - pinDeg(rest)).toBeCloseTo(14, 6);
  });

  it("leave the second spring slack until its loop takes up", () => {
    const slack = (deg: number) => drawnWeights(demoWeights(null), deg).springs[1];
    expect(slack(0)?.slackMm).toBeCloseTo(1.23, 2);
    expect(slack(0)?.loadN).toBe(0);
    expect(slack(6)?.loadN).toBe(0);
    expect(slack(7)?.slackMm).toBe(0);
    expect(slack(14)?.loadN).toBeCloseTo(29.7, 1);
    // The post stands within the loop while there is play, and at its far end when it pulls.
    const { loop, moving } = slack(14) ?? {};
    expect(loop?.[1].x).toBeCloseTo(moving?.x ?? 0, 9);
    expect(loop?.[1].y).toBeCloseTo(moving?.y ?? 0, 9);
  });

  it("miss what is missing", () => {
    const { springs } = drawnWeights(demoWeights("first-spring-missing"), 5);
    expect(springs.map(({ isMissing }) => isMissing)).toEqual([true, false]);
  });

  it("turn the cam the way of the arrow", () => {
    expect(camOutline(0, 5, 2)[0]).toEqual({ x: 7, y: -0 });
    // A quarter turn on paper, where y grows downward.
    expect(camOutline(90, 5, 2)[0]?.y).toBeCloseTo(-7, 9);
    expect(turnArrow(10, 0, -90)).toMatch(/^M10\.00 -?0\.00A10 10 0 0 0 0\.00 -10\.00M/);
  });
});

describe("the capsule", () => {
  it("begins at its spring's load, ends at its stop", () => {
    const run = () => new CapsuleRun(demoCapsule(null));
    expect(at(run(), 11_000)).toBe(0);
    // (1500 mm² · 25 kPa − 18 N − 0.2 N) / 7.8 N/mm = 2.474 mm at 22 mm.
    expect(at(run(), 25_000)).toBeCloseTo(6.44, 2);
    expect(at(run(), 60_000)).toBeCloseTo(10.99, 2);
  });

  it("gets what the pump can draw against a tear", () => {
    const run = new CapsuleRun(demoCapsule("diaphragm-torn"));
    expect(run.to(50_000)).toBe(0);
    // 300 ml/s · (1 − p / 85 kPa) = 1500 ml/s · p / 50 kPa.
    expect(run.vacuumPa).toBeCloseTo(8947, 0);
    expect(reachablePa([])).toBeCloseTo(85_000, 0);
  });

  it("falls straight through a pinhole and by equal shares through a passage", () => {
    const trace = (form: "pinhole" | "passage") => {
      const points = holdTrace([{ form, flowMlPerS: 1 }]);
      return [0, 20, 40].map((i) => points[i]?.[1] ?? 0) as [number, number, number];
    };
    const [p0, p1, p2] = trace("passage");
    expect(p1 / p0).toBeCloseTo(p2 / p1, 6);
    const [h0, h1] = trace("pinhole");
    // 1 ml/s of free air into 250 ml for 5 s, at 101.325 kPa.
    expect(h0 - h1).toBeCloseTo(2026.5, 0);
    expect(holdTrace([]).at(-1)).toEqual([15, 50_000]);
  });
});

describe("the contacts", () => {
  it("have the unit's dwell at its gap, and part later with a smaller one", () => {
    const { dwellDeg, opensDeg, shutsDeg } = contactsAt(0, 0.4);
    expect(dwellDeg).toBeCloseTo(51, 1);
    expect([opensDeg, shutsDeg].map((deg) => deg.toFixed(1))).toEqual(["25.5", "64.5"]);
    const smaller = contactsAt(0, 0.35);
    expect(smaller.opensDeg - opensDeg).toBeCloseTo((smaller.dwellDeg - dwellDeg) / 2, 9);
    expect(smaller.dwellDeg).toBeGreaterThan(dwellDeg);
  });

  it("are apart by the gap on top of a lobe and shut on a flat", () => {
    expect(contactsAt(45, 0.4).apartMm).toBeCloseTo(0.4, 9);
    expect([0, 25, 26, 64, 65].map((deg) => contactsAt(deg, 0.4).isOpen)).toEqual([
      false,
      false,
      true,
      true,
      false,
    ]);
  });
});
