// The hold test computed from vacuum lines, by the rig's own tick counter.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { VacuumLine } from "../../core/codec/rigLines.ts";
import { holdFrom, holdSeconds } from "../../core/hold.ts";
import type { HoldPlan } from "../../core/plan.ts";

const WRAP = 2 ** 32;
const PLAN: HoldPlan = { vacuumPa: 60_000, settleS: 1, seconds: 2, dropMaxPa: 2000 };

/** A line each tenth of a second from `firstTick` on; the vacuum falls by 1000 Pa a second. */
function leaking(count: number, { firstTick = 0, tickHz = 1_000_000 } = {}): VacuumLine[] {
  return Array.from({ length: count }, (_, i) => ({
    type: "vac",
    sequence: i,
    tick: (firstTick + (i * tickHz) / 10) % WRAP,
    vacuumPa: 60_000 - 100 * i,
    pumpPermille: 0,
    valve: "hold",
  }));
}

describe("holdSeconds", () => {
  it("is the time from the first line to the last", () => {
    expect(holdSeconds(leaking(31), 1_000_000)).toBe(3);
  });

  it("is nothing of a single line or none", () => {
    expect(holdSeconds([], 1_000_000)).toBe(0);
    expect(holdSeconds(leaking(1), 1_000_000)).toBe(0);
  });

  it("goes on where the tick counter wraps in the hold", () => {
    const lines = leaking(31, { firstTick: WRAP - 1_500_000 });
    expect(lines[20]?.tick).toBe(500_000);
    expect(holdSeconds(lines, 1_000_000)).toBe(3);
  });

  it("goes on where the hold is longer than the counter takes round (43 s at 100 MHz)", () => {
    expect(holdSeconds(leaking(601, { tickHz: 100_000_000 }), 100_000_000)).toBe(60);
    expect(holdSeconds(leaking(1301, { tickHz: 100_000_000 }), 100_000_000)).toBe(130);
  });
});

describe("holdFrom", () => {
  it("starts its clock once the line has settled and stops it when the hold is over", () => {
    // Settled at 1.0 s: 59 000 Pa. Over at 3.0 s: 57 000 Pa. Later lines count for nothing.
    const held = holdFrom(leaking(50), PLAN, 1_000_000);
    expect(held).toMatchObject({ startPa: 59_000, endPa: 57_000, seconds: 2, fromTick: 0 });
    expect(held?.trace.at(-1)).toEqual([3, 57_000]);
  });

  it("takes the first line at or after each time where lines come between", () => {
    const { startPa, endPa } =
      holdFrom(leaking(50), { ...PLAN, settleS: 0.95, seconds: 1.8 }, 1_000_000) ?? {};
    expect(startPa).toBe(59_000);
    // 2.75 s: the line at 2.8 s.
    expect(endPa).toBe(57_200);
  });

  it("starts at once without time to settle", () => {
    expect(holdFrom(leaking(50), { ...PLAN, settleS: 0 }, 1_000_000)?.startPa).toBe(60_000);
  });

  it("gives the same wherever the tick counter stands", () => {
    const at0 = holdFrom(leaking(50), PLAN, 1_000_000);
    fc.assert(
      fc.property(
        fc.oneof(
          fc.integer({ min: 0, max: WRAP - 1 }),
          // Wraps within the hold.
          fc.integer({ min: WRAP - 3_000_000, max: WRAP - 1 }),
        ),
        (firstTick) => {
          expect(holdFrom(leaking(50, { firstTick }), PLAN, 1_000_000)).toEqual({
            ...at0,
            fromTick: firstTick,
          });
        },
      ),
    );
  });

  it("counts on where the hold is longer than the counter takes round", () => {
    const lines = leaking(601, { tickHz: 100_000_000 });
    const held = holdFrom(lines, { ...PLAN, settleS: 5, seconds: 50 }, 100_000_000);
    // 5 s and 55 s after closing off.
    expect(held).toMatchObject({ startPa: 55_000, endPa: 5000 });
    const times = held?.trace.map(([atS]) => atS) ?? [];
    expect(times.every((atS, i) => i === 0 || atS > (times[i - 1] as number))).toBe(true);
  });

  it("ends at the last line where there are fewer than the hold needs", () => {
    // 2.0 s of 3.
    expect(holdFrom(leaking(21), PLAN, 1_000_000)).toMatchObject({
      startPa: 59_000,
      endPa: 58_000,
    });
    // Not even settled: no drop is known, and the only figure there is stands for both.
    expect(holdFrom(leaking(6), PLAN, 1_000_000)).toMatchObject({
      startPa: 59_500,
      endPa: 59_500,
    });
  });

  it("is nothing of no lines", () => {
    expect(holdFrom([], PLAN, 1_000_000)).toBeNull();
  });

  it("keeps all of a few lines in its trace and a few hundred of many", () => {
    const few = holdFrom(leaking(50), PLAN, 1_000_000)?.trace ?? [];
    expect(few).toHaveLength(31);
    expect(few[3]).toEqual([0.3, 59_700]);
    const many = holdFrom(leaking(6001), { ...PLAN, settleS: 0, seconds: 600 }, 1_000_000);
    const trace = many?.trace ?? [];
    expect(trace.length).toBeGreaterThan(250);
    expect(trace.length).toBeLessThanOrEqual(301);
    expect(trace[0]).toEqual([0, 60_000]);
    for (const [atS, vacuumPa] of trace) expect(vacuumPa).toBeCloseTo(60_000 - 1000 * atS, 6);
  });
});
