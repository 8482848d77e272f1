// Conversions of vacuum, degrees and rpm against printed tables.
import { describe, expect, it } from "vitest";
import {
  crankshaftFromDistributor,
  distributorFromCrankshaft,
  parseFigure,
  pascalsFrom,
  vacuumFromPascals,
} from "../../core/units.ts";

describe("vacuum units", () => {
  it.each([
    // NIST SP 811 (2008), appendix B.8.
    ["inHg", 3386.389],
    ["mmHg", 133.3224],
    ["cmHg", 1333.224],
    ["psi", 6894.757],
    ["mbar", 100],
    ["kPa", 1000],
    ["Pa", 1],
  ] as const)("takes one %s as %d Pa", (unit, pascals) => {
    expect(pascalsFrom(1, unit)).toBe(pascals);
  });

  it("agrees with the definition of the inch of mercury", () => {
    // 25.4 mm × 13.5951 g/cm³ × 9.80665 m/s²: conventional mercury at 0 °C and standard gravity.
    expect(pascalsFrom(1, "inHg")).toBeCloseTo(25.4 * 13.5951 * 9.80665, 3);
  });

  it.each([
    // Datsun 210 (1979) service manual p. EE-32: types -19 and -13, both units printed side by side.
    [105, "4.13"],
    [250, "9.84"],
    [225, "8.86"],
  ])("turns %d mmHg into the %s inHg printed beside it", (mmHg, inHg) => {
    expect(vacuumFromPascals(pascalsFrom(mmHg, "mmHg"), "inHg").toFixed(2)).toBe(inHg);
  });

  it.each([
    // Lotus Europa workshop manual, non-emission engine, advance table: whole hundreds of mmHg.
    ["3.937", 100],
    ["7.874", 200],
    ["11.811", 300],
    ["15.748", 400],
  ])("turns %s inHg into %d mmHg", (inHg, mmHg) => {
    const pascals = pascalsFrom(mmHg, "mmHg");
    expect(vacuumFromPascals(pascals, "inHg").toFixed(3)).toBe(inHg);
  });
});

describe("crankshaft and distributor", () => {
  it("gives the worked example of a V8: static 6°, 6 distributor degrees at 3200 engine rpm", () => {
    // Rootes WSM.143/144 p. 72: 6 + 2 × 6 = 18° before top dead centre; 5¼ to 7 at 1600 distributor rpm.
    expect(distributorFromCrankshaft(3200, 2)).toBe(1600);
    expect(6 + crankshaftFromDistributor(6, 2)).toBe(18);
    expect(parseFigure("5¼ to 7")).toEqual({ kind: "range", from: 5.25, to: 7 });
  });

  it("halves full advance of 15 to 19 crankshaft degrees at 2000 engine rpm", () => {
    // TM 10-3930-623-12 ¶ 4-22, with the ratio of TM 10-3930-644-14&P.
    expect([15, 19, 2000].map((figure) => distributorFromCrankshaft(figure, 2))).toEqual([
      7.5, 9.5, 1000,
    ]);
  });
});
