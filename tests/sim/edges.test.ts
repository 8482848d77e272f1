import { describe, expect, it } from "vitest";
import { Table, TableAdvance } from "../../sim/advance.ts";
import { flanks } from "../../sim/cam.ts";
import { trueFlanks } from "../../sim/lobes.ts";
import { Random } from "../../sim/random.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { Shaft } from "../../sim/shaft.ts";

const RPM = Math.PI / 30;

/** Turns a shaft through steps of 1 ms at constant acceleration and collects what it passed. */
function turn(options: {
  rpm: number;
  rpmPerS: number;
  seconds: number;
  speedTable?: [number, number][];
  rig?: Record<string, unknown>;
  sense?: 1 | -1;
}) {
  const { rpm, rpmPerS, seconds, sense = 1 } = options;
  const scenario = parseScenario({ mechanism: {}, rig: options.rig ?? {} }, "test");
  const table = new TableAdvance(
    options.speedTable === undefined ? null : new Table(options.speedTable),
    null,
  );
  const cam = flanks(trueFlanks(scenario), scenario.rig.couplingDeg, sense);
  const shaft = new Shaft(scenario, table, cam, new Random(1, 1));
  if (sense === -1) shaft.turnAbout(-1, cam);
  const pickup: [number, number][] = [];
  const trigger: [number, number][] = [];
  for (let i = 0; i < seconds * 1000; i++) {
    const startS = i / 1000;
    const omega = (rpm + rpmPerS * startS) * RPM;
    const endRadS = omega + rpmPerS * RPM * 0.001;
    table.step({ dtS: 0.001, startRadS: omega, endRadS, startPa: 0, endPa: 0, sense });
    shaft.step(startS, 0.001, omega, rpmPerS * RPM);
    for (const [edges, list] of [
      [shaft.pickup, pickup],
      [shaft.trigger, trigger],
    ] as const) {
      for (let k = 0; k < edges.count; k++) {
        list.push([edges.timesS[k] ?? 0, edges.marks[k] ?? 0]);
      }
    }
  }
  return { pickup, trigger };
}

/** Nanosecond: far below any tick. */
const EXACT_S = 1e-9;

describe("pickup edges", () => {
  it("come every 1/36 turn at constant speed", () => {
    const { pickup } = turn({ rpm: 4000, rpmPerS: 0, seconds: 2 });
    // 2 s are 133 turns and a third; the phase starts at 0.3.
    expect(pickup.length).toBe(4800);
    pickup.forEach(([timeS, mark], i) => {
      const edge = 11 + i;
      expect(mark).toBe(edge % 36);
      expect(Math.abs(timeS - ((edge / 36 - 0.3) * 60) / 4000)).toBeLessThan(EXACT_S);
    });
  });

  it("come at the roots of the quadratic on a ramp", () => {
    const { pickup } = turn({ rpm: 500, rpmPerS: 1000, seconds: 3 });
    expect(pickup.length).toBeGreaterThan(3000);
    pickup.forEach(([timeS], i) => {
      // 0.3 + v·t + a·t²/2 = edge / 36, in turns.
      const [v, a] = [500 / 60, 1000 / 60];
      const way = (11 + i) / 36 - 0.3;
      const root = (Math.sqrt(v * v + 2 * a * way) - v) / a;
      expect(Math.abs(timeS - root)).toBeLessThan(EXACT_S);
    });
  });

  it("follow a ripple whose angle falls with the square of speed", () => {
    const amplitude = (rpm: number) => {
      const { pickup } = turn({
        rpm,
        rpmPerS: 0,
        seconds: 1,
        rig: { ripple: [{ perTurn: 2, percentAt1000Rpm: 1 }] },
      });
      return Math.max(
        ...pickup.map(([timeS], i) => Math.abs((11 + i) / 36 - (0.3 + (timeS * rpm) / 60))),
      );
    };
    // 1 % of speed at order 2 is 0.01 / (2·π·2) = 0.000796 turns.
    expect(amplitude(1000)).toBeGreaterThan(0.00078);
    expect(amplitude(1000)).toBeLessThan(0.000797);
    expect(amplitude(1000) / amplitude(2000)).toBeCloseTo(4, 1);
  });
});

describe("trigger edges of contacts with 51° dwell on four lobes", () => {
  it("open at the lobes and close 39° later, the first lobe 5° after the index", () => {
    const { trigger } = turn({ rpm: 1000, rpmPerS: 0, seconds: 1 });
    trigger.forEach(([timeS, mark], i) => {
      const degrees = ((0.3 + (timeS * 1000) / 60) % 1) * 360;
      // The start at 108° lies between the second lobe's opening at 95° and its closing at 134°.
      const place = i + 3;
      expect(mark).toBe(place % 2);
      expect(degrees).toBeCloseTo(((place % 8) >> 1) * 90 + 5 + (place % 2) * 39, 6);
    });
    expect(trigger.length).toBe(133);
  });

  it("come earlier by the table's advance, at the root of the quadratic on a ramp", () => {
    const { trigger } = turn({
      rpm: 500,
      rpmPerS: 1000,
      seconds: 2,
      speedTable: [
        [1000, 2],
        [2000, 12],
      ],
    });
    const openings = trigger.filter(([, mark]) => mark === 0);
    expect(openings.length).toBeGreaterThan(150);
    let onSlope = 0;
    for (const [timeS] of openings) {
      const rpm = 500 + 1000 * timeS;
      const advanceDeg = Math.min(12, Math.max(2, 2 + (rpm - 1000) * 0.01));
      if (advanceDeg > 2 && advanceDeg < 12) onSlope++;
      const turns = 0.3 + (500 / 60) * timeS + (1000 / 120) * timeS * timeS;
      const lobe = (turns * 360 - 5 + advanceDeg) / 90;
      // An error of 1 ns is 2·10⁻⁷ lobes at 2500 rpm.
      expect(Math.abs(lobe - Math.round(lobe))).toBeLessThan(2e-7);
    }
    expect(onSlope).toBeGreaterThan(90);
  });

  it("turned the wrong way come in reverse order, opening where they closed, and retard", () => {
    const { trigger } = turn({
      rpm: 1000,
      rpmPerS: 0,
      seconds: 1,
      sense: -1,
      speedTable: [[1000, 10]],
    });
    // Against the rotation the index is passed at 0.7 turns; advance 10° moves a flank at 44° to 34°
    // of the shaft, which the phase meets at 360° − 34°: later than the 316° without it.
    const openings = trigger
      .filter(([, mark]) => mark === 0)
      .map(([timeS]) => ((0.7 + (timeS * 1000) / 60) % 1) * 360);
    expect(openings.length).toBeGreaterThan(60);
    for (const degrees of openings) {
      const lobe = (degrees - (360 - 34)) / 90;
      expect(Math.abs(lobe - Math.round(lobe))).toBeLessThan(1e-6);
    }
  });
});

describe("jitter", () => {
  it("has the standard deviation given, on events only where asked for", () => {
    const rig = { eventJitterUs: 2 };
    const jittery = turn({ rpm: 3000, rpmPerS: 0, seconds: 10, rig });
    const quiet = turn({ rpm: 3000, rpmPerS: 0, seconds: 10 });
    expect(jittery.pickup).toEqual(quiet.pickup);
    const count = Math.min(jittery.trigger.length, quiet.trigger.length);
    let sum = 0;
    for (let i = 0; i < count; i++) {
      sum += ((jittery.trigger[i]?.[0] ?? 0) - (quiet.trigger[i]?.[0] ?? 0)) ** 2;
    }
    // 4000 samples know a standard deviation to 1.1 %; four of these are allowed.
    expect(count).toBeGreaterThan(3990);
    expect(Math.sqrt(sum / count) * 1e6).toBeGreaterThan(2 * 0.955);
    expect(Math.sqrt(sum / count) * 1e6).toBeLessThan(2 * 1.045);
  });
});
