import { describe, expect, it } from "vitest";
import { meanDeg, near, type SteadyTurn, steady } from "./steady.ts";

const NOMINAL_A = [5, 95, 185, 275];
const NOMINAL_B = [44, 134, 224, 314];

function moved(angles: readonly number[], deg: number): number[] {
  return angles.map((angle) => angle + deg);
}

interface More {
  readonly rig?: object;
  readonly seconds?: number;
}

/** Turns of a four-lobe unit with tables and 51° of dwell. */
function of(pulses: object, rpm: number, more: More = {}) {
  return steady({ mechanism: {}, pulses, rig: more.rig ?? {} }, rpm, more.seconds ?? 2).turns;
}

function withFault(fault: object, rpm: number, seconds = 2) {
  return steady({ mechanism: {}, faults: [fault] }, rpm, seconds).turns;
}

function edgesOf(turns: readonly SteadyTurn[], edge: "a" | "b") {
  return turns.flatMap(({ events }) => events.filter((event) => event.edge === edge));
}

describe("cam", () => {
  it("lobe errors move both flanks of their lobe", () => {
    const turns = of({ lobeErrorsDeg: [0, 0.5, -0.3, 0] }, 1000);
    near(meanDeg(turns, "a"), [5, 95.5, 184.7, 275]);
    near(meanDeg(turns, "b"), [44, 134.5, 223.7, 314]);
  });

  it("dwell errors move the closing before their lobe's opening", () => {
    const turns = of({ dwellErrorsDeg: [1, 0, -2, 0] }, 1000);
    near(meanDeg(turns, "a"), NOMINAL_A);
    near(meanDeg(turns, "b"), [44, 136, 224, 313]);
  });

  it("errors stay at their lobes turned the wrong way round", () => {
    const scenario = { mechanism: {}, pulses: { lobeErrorsDeg: [0, 0.5, 0, 0] } };
    const { turns } = steady(scenario, 1000, 2, { direction: "ccw" });
    // The flanks at 314°, 224°, 134.5° and 44° open, met at 360° less that.
    near(meanDeg(turns, "a"), [46, 136, 225.5, 316]);
    near(meanDeg(turns, "b"), [85, 175, 264.5, 355]);
  });
});

describe("weak contact spring", () => {
  const floating = (float: object) => ({
    fault: "contact-spring-weak",
    bounce: null,
    float: { fromRpm: 2500, ...float },
  });

  it("bounces from a speed upward, the more the faster", () => {
    const bounce = { fromRpm: 2000, sharePer1000Rpm: 0.3, afterUs: 150, lengthUs: 100 };
    const weak = { fault: "contact-spring-weak", bounce, float: null };
    expect(edgesOf(withFault(weak, 1900), "a")).toHaveLength(edgesOf(of({}, 1900), "a").length);
    for (const [rpm, share] of [
      [3000, 0.3],
      [4000, 0.6],
    ] as const) {
      const turns = withFault(weak, rpm, 40);
      let bounces = 0;
      for (const { events } of turns) {
        events.forEach(({ edge, us }, i) => {
          const [open, shut] = [events[i + 1], events[i + 2]];
          if (edge !== "b" || open === undefined || shut === undefined) return;
          if (shut.us - us > 300) return;
          bounces++;
          expect(open.us - us).toBeCloseTo(150, 0);
          expect(shut.us - us).toBeCloseTo(250, 0);
        });
      }
      // 8000 closings know a share of 30 % to 0.5 %; four of these are allowed.
      expect(Math.abs(bounces / (4 * turns.length) - share)).toBeLessThan(0.021);
    }
  });

  it("floats: closings come late and dwell falls with speed", () => {
    const weak = floating({ lateUsPer1000Rpm: 200 });
    near(meanDeg(withFault(weak, 2400), "b"), NOMINAL_B);
    // 200 µs at 21° a millisecond, openings as they were.
    const turns = withFault(weak, 3500);
    near(meanDeg(turns, "b"), moved(NOMINAL_B, 4.2));
    near(meanDeg(turns, "a"), NOMINAL_A);
  });

  it("loses openings, some by a share and all where the closing would come after them", () => {
    const losing = floating({ lateUsPer1000Rpm: 0, lostSharePer1000Rpm: 0.1 });
    const some = withFault(losing, 3500, 40);
    const share = edgesOf(some, "a").length / (4 * some.length);
    // 9300 openings know a share of 10 % to 0.31 %.
    expect(Math.abs(share - 0.9)).toBeLessThan(0.0125);
    expect(edgesOf(some, "b").length / edgesOf(some, "a").length).toBeCloseTo(1, 2);
    // 51° last 2.1 ms at 4000 rpm.
    const all = withFault(floating({ lateUsPer1000Rpm: 2000 }), 4000);
    expect(all.length).toBeGreaterThan(100);
    expect(all.every(({ events }) => events.length === 0)).toBe(true);
  });
});

describe("play of the bush", () => {
  it("scatters each edge by its play, shifts each lobe within it and adds twice of it to dwell", () => {
    const turns = of({ bushPlayDeg: 0.3 }, 1000, { seconds: 60 });
    const [a, b] = [meanDeg(turns, "a"), meanDeg(turns, "b")];
    const squares = turns.flatMap(({ events }) =>
      events.filter(({ edge }) => edge === "a").map(({ deg }, i) => (deg - (a[i] ?? 0)) ** 2),
    );
    const sd = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
    // 4000 edges know a standard deviation to 1.1 %, and a mean of 1000 to 0.01°; four of each.
    expect(Math.abs(sd / 0.3 - 1)).toBeLessThan(0.045);
    const shifts = a.map((deg, i) => deg - (NOMINAL_A[i] ?? 0) - 0.3);
    for (const shift of shifts) expect(Math.abs(shift)).toBeLessThan(0.34);
    expect(Math.max(...shifts) - Math.min(...shifts)).toBeGreaterThan(0.1);
    // The opening 0.3° later and the closing 0.3° earlier: open for 38.4°.
    a.forEach((deg, i) => {
      expect(Math.abs((b[i] ?? 0) - deg - 38.4)).toBeLessThan(0.06);
    });
  });
});

describe("condenser left on", () => {
  it("delays the opening by R·C·ln 2 and not the closing", () => {
    // 1 kΩ · 0.2 µF · ln 2 = 138.629 µs, at 24° a millisecond 3.32711°.
    const turns = of({ condenserUf: 0.2 }, 4000);
    near(meanDeg(turns, "a"), moved(NOMINAL_A, 3.32711), 0.006);
    near(meanDeg(turns, "b"), NOMINAL_B, 0.006);
    const half = of({ condenserUf: 0.2 }, 4000, { rig: { sensePullUpOhm: 500 } });
    near(meanDeg(half, "a"), moved(NOMINAL_A, 1.66355), 0.006);
  });

  it("hides openings that end before it has charged", () => {
    // 39° last 1.625 ms at 4000 rpm, 20 kΩ · 0.2 µF · ln 2 is 2.77 ms; at 1000 rpm they last 6.5 ms.
    const rig = { sensePullUpOhm: 20_000 };
    expect(of({ condenserUf: 0.2 }, 4000, { rig }).every(({ events }) => events.length === 0)).toBe(
      true,
    );
    near(meanDeg(of({ condenserUf: 0.2 }, 1000, { rig }), "a"), moved(NOMINAL_A, 16.6355));
  });
});

describe("magnetic trigger", () => {
  const unit = { trigger: { kind: "magnetic", widthDeg: 20 } };
  const at = (magnetic: object, rpm: number) =>
    steady({ mechanism: {}, unit, pulses: { magnetic } }, rpm).turns;

  // 2° · 1000 / n, at most 3°.
  it.each([
    [500, 3],
    [1000, 2],
    [2000, 1],
    [4000, 0.5],
  ])("crosses its threshold late at %d rpm by %d°", (rpm, lateDeg) => {
    const turns = at({ thresholdShiftDegAt1000Rpm: 2, shiftMaxDeg: 3 }, rpm);
    near(meanDeg(turns, "a"), moved(NOMINAL_A, lateDeg), 0.006);
    near(meanDeg(turns, "b"), moved([25, 115, 205, 295], lateDeg), 0.006);
  });

  it("with reversed leads shows each edge as the other one", () => {
    const turns = at({ reversed: true }, 1000);
    near(meanDeg(turns, "b"), NOMINAL_A);
    near(meanDeg(turns, "a"), [25, 115, 205, 295]);
  });
});

describe("breaker plate", () => {
  const mechanism = {
    vacuumTable: [
      [10, 0],
      [30, 20],
    ],
  };
  const at = (more: object, vacuumPa: number) =>
    steady({ mechanism, ...more }, 500, 10, { vacuumPa }).turns;

  it("a breaking lead loses openings while the plate is where it parts", () => {
    const lead = { fault: "plate-lead-breaking", plateFromDeg: 8, plateToDeg: 12 };
    const whole = { faults: [lead] };
    // Up to here the plate has stood at 7° and below, so that all is there, 7° early.
    near(meanDeg(at(whole, 17_000), "a"), [88, 178, 268, 358], 0.02);
    const there = at(whole, 20_000);
    expect(there.length).toBeGreaterThan(70);
    expect(there.every(({ events }) => events.length === 0)).toBe(true);
    near(meanDeg(at(whole, 25_000), "a"), [80, 170, 260, 350], 0.02);
    const half = at({ faults: [{ ...lead, share: 0.5 }] }, 20_000);
    const share = edgesOf(half, "a").length / (4 * half.length);
    // 330 openings know a half to 2.8 %; four of these are allowed.
    expect(Math.abs(share - 0.5)).toBeLessThan(0.11);
  });

  it("dwell goes with a plate pivoted off the axis, the firing edge stays", () => {
    const turns = at({ pulses: { dwellChangeDegPerDeg: 0.2 } }, 20_000);
    near(meanDeg(turns, "a"), [85, 175, 265, 355], 0.02);
    // 10° of plate add 2° of dwell: closings 10° and 2° early.
    near(meanDeg(turns, "b"), [32, 122, 212, 302], 0.02);
  });
});

describe("two sets of contacts", () => {
  const at = (secondSet: object, contactsConnected: string, unit: object = {}) =>
    steady({ mechanism: {}, unit, pulses: { secondSet, contactsConnected } }, 1000).turns;

  it("overlapped, close the circuit while either is closed", () => {
    // The second closes and opens 8° before the first: 59° of dwell, opened by the first.
    const lead = { arrangement: "overlapped", offsetDeg: -8 };
    near(meanDeg(at(lead, "both"), "a"), NOMINAL_A);
    near(meanDeg(at(lead, "both"), "b"), moved(NOMINAL_B, -8));
    near(meanDeg(at(lead, "first"), "b"), NOMINAL_B);
    near(meanDeg(at(lead, "second"), "a"), [87, 177, 267, 357]);
    near(meanDeg(at(lead, "second"), "b"), moved(NOMINAL_B, -8));
    // A second set with 40° of its own that opens 6° after the first.
    const trail = { arrangement: "overlapped", offsetDeg: 6, dwellDeg: 40 };
    near(meanDeg(at(trail, "both"), "a"), moved(NOMINAL_A, 6));
    near(meanDeg(at(trail, "both"), "b"), NOMINAL_B);
  });

  it("staggered, each fire every other lobe", () => {
    const late = { arrangement: "staggered", offsetDeg: 1.5 };
    near(meanDeg(at(late, "both"), "a"), [5, 96.5, 185, 276.5]);
    // Open for 180° − 51° by itself; the circuit is closed again by the other set.
    near(meanDeg(at(late, "first"), "a"), [5, 185]);
    near(meanDeg(at(late, "first"), "b"), [134, 314]);
    near(meanDeg(at(late, "second"), "a"), [96.5, 276.5]);
    near(meanDeg(at(late, "second"), "b"), [45.5, 225.5]);
    near(meanDeg(at(late, "both"), "b"), [45.5, 134, 225.5, 314]);
    // More dwell than one spacing, which both in one circuit would not let open.
    const long = at({ arrangement: "staggered" }, "first", { dwellDeg: 110 });
    near(meanDeg(long, "b"), [75, 255]);
  });
});

it("a ripple of constant percentage is the same angle at every speed", () => {
  const ripple = [{ perTurn: 1, percentAt1000Rpm: 1, constantPercent: true }];
  for (const rpm of [1000, 3000]) {
    const { turns } = steady({ mechanism: {}, rig: { ripple } }, rpm);
    // sin θ · 0.01 / 2π of a turn is 0.57296° · sin θ ahead, so edges come earlier by it.
    const quarter = turns.map(({ pickupDeg }) => pickupDeg[8] ?? 0);
    const mean = quarter.reduce((sum, deg) => sum + deg, 0) / quarter.length;
    expect(Math.abs(mean - (90 - 0.573))).toBeLessThan(0.01);
  }
});

it("a ripple of an order below one goes on from turn to turn", () => {
  const ripple = [{ perTurn: 0.25, percentAt1000Rpm: 0.01, constantPercent: true }];
  const { turns } = steady({ mechanism: {}, rig: { ripple } }, 1000);
  // 0.0001 / (2π · 0.25) of a turn ahead or behind at its peaks, a turn apart: 600,000 ticks by ± 38.2.
  const during = turns.slice(0, 4).map(({ duringTicks }) => duringTicks - 600_000);
  const sorted = [...during].sort((a, b) => a - b);
  near(sorted, [-38.2, -38.2, 38.2, 38.2], 5);
});
