// The bar of the refit: that it can be missed, what it tells beside, and what a workshop reads.
import { describe, expect, it } from "vitest";
import { Draw } from "../../accuracy/draw.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { type Refitted, refit } from "../../evaluate/bars/refit.ts";
import { WorkshopReading } from "../../evaluate/workshopReading.ts";

function refitted(first: boolean, second: boolean, chance: number): Refitted {
  const met = { first, second, chance };
  return { ...met, asRead: met, index: 0, kind: "spring-light", byStart: false, steps: [] };
}

const times = (count: number, one: Refitted) => Array.from({ length: count }, () => one);

describe("refit", () => {
  const results = (first: number, second: number) => [
    ...times(first, refitted(true, true, 0.97)),
    ...times(second - first, refitted(false, true, 0.6)),
    ...times(100 - second, refitted(false, false, 0.6)),
  ];

  it("is met by 90 and 99 of 100, and missed by one less of either", () => {
    const met = (first: number, second: number) =>
      refit.figures(results(first, second)).flatMap((one) => (one.met === null ? [] : [one.met]));
    expect(met(90, 99)).toEqual([true, true]);
    expect(met(89, 99)).toEqual([false, true]);
    expect(met(90, 98)).toEqual([true, false]);
  });

  it("tells the mean chance beside the share that came in", () => {
    const lines = refit.figures(results(90, 99)).filter(({ what }) => /^… told/.test(what));
    expect(lines.map(({ measured }) => measured)).toEqual([
      "93.3 %, within 90.0 %",
      "60.0 %, within 0.0 %",
      "97.0 %, within 100.0 %",
    ]);
  });
});

describe("what a workshop reads", () => {
  const spring: DrawerSpring = {
    name: "in, 1",
    quantity: 1,
    wire: null,
    measuredRate: { rateNPerM: 1000, expandedUncertaintyNPerM: 30 },
    freeLengthM: 0.02,
    initialTensionN: 0,
    loopLengthM: 0,
  };
  const exact = {
    first: { spring, restLengthM: 0.021, stopLengthM: 0.024 },
    second: null,
  };

  it("is off, and by the same at every look", () => {
    const reading = new WorkshopReading(new Draw("what a workshop reads", 0));
    const read = reading.installed(exact);
    expect(read.first?.spring.freeLengthM).not.toBe(0.02);
    expect(read.first?.spring.measuredRate?.rateNPerM).not.toBe(1000);
    expect(reading.installed(exact)).toEqual(read);
  });

  it("is of the drawer's spring once that is in", () => {
    const reading = new WorkshopReading(new Draw("what a workshop reads", 1));
    const [listed] = reading.drawer([{ ...spring, name: "listed" }]);
    reading.changed([{ kind: "spring", which: "first", name: "listed" }]);
    expect(reading.installed(exact).first?.spring).toEqual(listed);
  });
});
