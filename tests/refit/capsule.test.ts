// Advice on capsules whose curves are straight lines, so that the right shift is known.
import { describe, expect, it } from "vitest";
import type { CurvePoint } from "../../core/documents.ts";
import { adviseCapsule } from "../../core/refit/capsule.ts";
import { capsuleText } from "../../core/refit/wording.ts";
import type { Band } from "../../core/unit.ts";

/** Starts at a vacuum, a degree for every `perDegPa`, 10° at the most. */
function curve(startPa: number, perDegPa: number): CurvePoint[] {
  return Array.from({ length: 41 }, (_, i) => i * 1000).map((x) => ({
    x,
    targetX: x,
    advanceDeg: Math.min(10, Math.max(0, (x - startPa) / perDegPa)),
    standardUncertaintyDeg: 0.01,
    coverageFactor: 1.96,
    budget: [],
  }));
}

/** Wanted: start near 10 kPa, 5° at 20 kPa, 10° by 32 kPa. */
const BAND: Band = {
  rows: [
    { kind: "start", printed: "8 to 12", fromX: 8000, toX: 12000 },
    { kind: "at", printed: "20", x: 20000, limitsDeg: { min: 4, max: 6 } },
    { kind: "end", printed: "32", x: 32000, limitsDeg: { min: 9, max: 11 } },
  ],
  judgedOn: "rising",
  source: "invented",
  workshopToleranceDeg: null,
  scales: null,
};

describe("adviseCapsule", () => {
  it("leaves one that is right", () => {
    expect(adviseCapsule(curve(10000, 2000), BAND)).toMatchObject({ action: "leave", shiftPa: 0 });
  });

  it("takes load off one that starts 4 kPa late", () => {
    const advice = adviseCapsule(curve(14000, 2000), BAND);
    expect(advice?.action).toBe("load");
    // Anything from 2 to 5.7 kPa would do; the middle of the narrowest row leaves most room.
    expect(advice?.shiftPa).toBeLessThan(-2000);
    expect(advice?.shiftPa).toBeGreaterThan(-6000);
    expect(advice?.marginDeg).toBeGreaterThan(0);
    if (advice != null) {
      expect(capsuleText("capsule", advice)).toMatch(
        /^capsule: take load off its spring \(washers, screw or turns\) until it begins about [3-5]\.\d kPa earlier\.$/,
      );
    }
  });

  it("exchanges one that is too stiff, whatever its load", () => {
    const advice = adviseCapsule(curve(10000, 4000), BAND);
    expect(advice?.action).toBe("exchange");
    if (advice !== null) {
      expect(capsuleText("capsule", advice)).toBe(
        "capsule: no load on its spring brings it into its band. Exchange it, or see to plate and link first.",
      );
    }
  });

  it("says nothing of a single reading", () => {
    expect(adviseCapsule(curve(10000, 2000).slice(0, 1), BAND)).toBeNull();
  });
});
