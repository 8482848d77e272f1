// The drawer of the bar is one of which every spring makes a pair with every other, and the bar can be missed.
import { describe, expect, it } from "vitest";
import { Draw } from "../../accuracy/draw.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { drawDrawer, drawer } from "../../evaluate/bars/drawer.ts";

function spring(name: string, freeLengthM: number, rateNPerM: number): DrawerSpring {
  return {
    name,
    quantity: 1,
    wire: null,
    measuredRate: { rateNPerM, expandedUncertaintyNPerM: 10 },
    freeLengthM,
    initialTensionN: 0.5,
    loopLengthM: 0.001,
  };
}

const INSTALLED = {
  first: { spring: spring("in, 1", 0.018, 400), restLengthM: 0.02, stopLengthM: 0.024 },
  second: { spring: spring("in, 2", 0.021, 2000), restLengthM: 0.022, stopLengthM: 0.025 },
};

describe("drawer", () => {
  it("has 1,000 springs as long as the second that is in, half of them known by wire and coils", () => {
    const springs = drawDrawer(new Draw("a test", 0), INSTALLED);
    expect(springs.length).toBe(1000);
    expect(springs.filter(({ wire }) => wire !== null).length).toBe(500);
    expect(new Set(springs.map(({ name }) => name)).size).toBe(1000);
    for (const { freeLengthM, loopLengthM } of springs) {
      expect(Math.abs(freeLengthM + loopLengthM - 0.022)).toBeLessThan(0.0003);
    }
  });

  it("is met at two seconds, and missed by one unit beyond or by none at all", () => {
    expect(drawer.figures([{ seconds: 0.1 }, { seconds: 2 }])[0]).toMatchObject({
      measured: "2.00 s",
      met: true,
    });
    expect(drawer.figures([{ seconds: 0.1 }, { seconds: 2.1 }])[0]?.met).toBe(false);
    expect(drawer.figures([])[0]?.met).toBe(false);
  });
});
