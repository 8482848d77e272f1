// Printed specifications written as unit files: figures of service literature in, limits out.
import { describe, expect, it } from "vitest";
import type { Band } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const PLAIN = { description: "a printed specification", lobes: 4, rotation: "cw" };

function speedBand(speed: object): Band {
  return unitFromFile({ ...PLAIN, speed }, "file").speedBand as Band;
}

function vacuumBand(capsule: object): Band {
  const file = { ...PLAIN, capsules: [{ name: "capsule", ...capsule }] };
  return unitFromFile(file, "file").capsules[0]?.band as Band;
}

function figures(band: Band): unknown[] {
  return band.rows.map((row) =>
    row.kind === "start" ? null : [row.x, row.limitsDeg.min, row.limitsDeg.max],
  );
}

describe("speed", () => {
  it("takes a nominal table in distributor figures, with the workshop's tolerance named", () => {
    // Lotus Europa workshop manual, non-emission engine, advance table.
    const band = speedBand({
      degrees: "distributor",
      rpm: "distributor",
      source: "workshop manual",
      rows: [
        { noneBelow: 550 },
        { at: 920, degrees: 7.8 },
        { at: 1000, degrees: 8 },
        { at: 2000, degrees: 13 },
        { at: 3000, degrees: 18 },
      ],
    });
    expect(band.workshopToleranceDeg).toBe(1);
    expect(figures(band)).toEqual([
      [550, null, 1],
      [920, 6.8, 8.8],
      [1000, 7, 9],
      [2000, 12, 14],
      [3000, 17, 19],
    ]);
  });

  it("takes a range in fractions", () => {
    // Rootes WSM.143/144 p. 72: 5¼ to 7 distributor degrees at 1600 distributor rpm.
    const rows = [{ at: 1600, degrees: "5¼ to 7" }];
    const band = speedBand({ degrees: "distributor", rpm: "distributor", source: "p. 72", rows });
    expect(figures(band)).toEqual([[1600, 5.25, 7]]);
    expect(band.workshopToleranceDeg).toBeNull();
  });

  it("takes the same with crankshaft speed and initial timing included", () => {
    // The worked example beside it: static 6°, 6 distributor degrees at 3200 engine rpm, 18° before
    // top dead centre. One crankshaft degree either way is ours.
    const band = speedBand({
      degrees: "crankshaft",
      rpm: "crankshaft",
      includesInitialDeg: 6,
      source: "p. 72",
      rows: [{ at: 3200, degrees: 18, tolerance: 1 }],
    });
    expect(figures(band)).toEqual([[1600, 5.5, 6.5]]);
  });

  it("takes full advance in crankshaft degrees", () => {
    // TM 10-3930-623-12 ¶ 4-22: full advance 15 to 19 crankshaft degrees at 2000 engine rpm.
    const rows = [{ endBy: 2000, degrees: "15-19" }];
    const band = speedBand({ degrees: "crankshaft", rpm: "crankshaft", source: "¶ 4-22", rows });
    expect(figures(band)).toEqual([[1000, 7.5, 9.5]]);
  });
});

describe("vacuum", () => {
  it("puts whole hundreds of millimetres, printed in inches, where they belong", () => {
    // Lotus Europa workshop manual: 3.937 inHg 1.5, 7.874 inHg 4.6, 11.811 inHg 6.5, 15.748 inHg 7.0.
    const band = vacuumBand({
      vacuum: "inHg",
      degrees: "distributor",
      source: "workshop manual",
      rows: [
        { at: 3.937, degrees: 1.5 },
        { at: 7.874, degrees: 4.6 },
        { at: 11.811, degrees: 6.5 },
        { endBy: 15.748, degrees: 7 },
      ],
    });
    const pascals = band.rows.map((row) => (row.kind === "start" ? 0 : (row.x ?? 0)));
    // NIST SP 811 appendix B.8: 133.3224 Pa a millimetre.
    for (const [i, mmHg] of [100, 200, 300, 400].entries()) {
      expect(pascals[i]).toBeCloseTo(mmHg * 133.3224, 0);
    }
  });

  it("gives the same limits whichever of two printed units is used", () => {
    // Datsun 210 (1979) service manual p. EE-32, type -19: starts 105 mmHg (4.13 inHg), 9 at 250 mmHg
    // (9.84 inHg). Rounded to 0.01 inHg, which is 34 Pa.
    const rows = (start: number, at: number) => [{ noneBelow: start }, { at, degrees: 9 }];
    const common = { degrees: "distributor", source: "p. EE-32" };
    const mmHg = vacuumBand({ ...common, vacuum: "mmHg", rows: rows(105, 250) });
    const inHg = vacuumBand({ ...common, vacuum: "inHg", rows: rows(4.13, 9.84) });
    for (const [i, row] of mmHg.rows.entries()) {
      const other = inHg.rows[i];
      if (row.kind === "start" || other === undefined || other.kind === "start")
        throw new Error("a start row");
      expect(Math.abs((row.x ?? 0) - (other.x ?? 0))).toBeLessThan(34);
      expect(row.limitsDeg).toEqual(other.limitsDeg);
    }
  });
});

describe("dwell", () => {
  it.each([
    // Mini manual, by unit.
    ["60 ± 3", 57, 63],
    ["51 ± 5", 46, 56],
    ["57 ± 2.5", 54.5, 59.5],
  ])("takes %s degrees of four lobes", (degrees, min, max) => {
    expect(unitFromFile({ ...PLAIN, dwell: { degrees } }, "file").dwellLimitsDeg).toEqual({
      min,
      max,
    });
  });
});
