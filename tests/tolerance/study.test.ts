// A tolerance study: shares and quantiles against known ones, and units drawn as the spreads say.
import { describe, expect, it } from "vitest";
import type { RowVerdict } from "../../core/documents.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { studySheet } from "../../core/tolerance/sheet.ts";
import { quantilesOf, Study, shareOf, type UnitCurve } from "../../core/tolerance/study.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { readJsonFile } from "../../server/files.ts";
import { type Spreads, variedScenario } from "../../server/standInScenario.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { example } from "../endToEnd/process.ts";

const row = (measured: number | null, verdict: RowVerdict["verdict"]): RowVerdict => ({
  about: "speed",
  capsule: null,
  branch: "rising",
  printed: "7 at 800",
  x: 800,
  measured,
  expandedUncertainty: 0.1,
  limits: { min: 6, max: 8 },
  unit: "deg",
  verdict,
});

const curve = (points: UnitCurve["points"]): UnitCurve => ({
  about: "speed",
  branch: "rising",
  points,
});

describe("quantiles", () => {
  it("are those of the seventh definition, whatever the order", () => {
    // Of 1 to 21, 5 % is the second.
    const values = Array.from({ length: 21 }, (_, i) => ((i * 8) % 21) + 1);
    expect(quantilesOf(values)).toEqual({ p5: 2, p50: 11, p95: 20 });
    expect(quantilesOf([1, 2])).toEqual({ p5: 1.05, p50: 1.5, p95: 1.95 });
    expect(quantilesOf([])).toBeNull();
  });
});

describe("a share", () => {
  it.each([
    // Newcombe 1998, table I, Wilson's score interval (from memory): 81 of 263, 15 of 148, 0 of 20, 1 of 29.
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("of %i of %i lies between what is published", (count, of, low, high) => {
    const found = shareOf(count, of);
    expect(found.share).toBeCloseTo(count / of, 12);
    expect(found.low).toBeCloseTo(low, 4);
    expect(found.high).toBeCloseTo(high, 4);
  });
});

describe("a study", () => {
  it("counts verdicts, and takes figures only where there are some", () => {
    const study = new Study();
    for (const one of [row(7, "within"), row(9, "outside"), row(null, "unproven")])
      study.add({ rows: [one], curves: [] });
    expect(study.rows).toHaveLength(1);
    expect(study.rows[0]).toMatchObject({
      within: 1,
      outside: 1,
      unproven: 1,
      withoutFigure: 1,
      measured: { p50: 8 },
      shareWithin: { share: 1 / 3 },
    });
  });

  it("reads all curves at the places of the first, and none beyond its end", () => {
    const study = new Study();
    const curves = [
      [
        [500, 2],
        [1000, 4],
        [2000, 8],
      ],
      // A little beside the places, and between other ones; it ends early.
      [
        [501, 3],
        [900, 4],
        [1100, 6],
      ],
    ] as const;
    for (const points of curves) study.add({ rows: [], curves: [curve(points)] });
    const [{ places } = { places: [] }] = study.curves;
    expect(places.map(({ x, p50 }) => [x, p50])).toEqual([
      [500, 2.5],
      [1000, 4.5],
      [2000, 8],
    ]);
  });
});

const NONE: Spreads = { springRateShare: 0, frictionShare: 0, loopWearMm: 0, stopWearDeg: 0 };
const GIVEN = {
  name: "healthy",
  content: readJsonFile(example("healthy.scenario.json")),
};
const UNIT = unitFromFile(readJsonFile(example("everyday.unit.json")), "everyday");

function drawn(spreads: Partial<Spreads>, number: number, seed = 1) {
  const content = variedScenario(GIVEN, UNIT, { ...NONE, ...spreads }, { seed, number });
  const { mechanism, capsules } = parseScenario(content, "drawn");
  if (!("weights" in mechanism)) throw new Error("no weights");
  return { mechanism, capsules };
}

function logarithms(count: number, of: (number: number) => number): { mean: number; sd: number } {
  const values = Array.from({ length: count }, (_, number) => Math.log(of(number)));
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1));
  return { mean, sd };
}

describe("drawn units", () => {
  const sound = drawn({}, 0);

  it("are the scenario's own without a spread, and the same by number and seed", () => {
    expect(drawn({}, 5)).toEqual(sound);
    const spreads = { springRateShare: 0.1, frictionShare: 0.2, loopWearMm: 0.1, stopWearDeg: 1 };
    expect(drawn(spreads, 3)).toEqual(drawn(spreads, 3));
    expect(drawn(spreads, 4)).not.toEqual(drawn(spreads, 3));
    expect(drawn(spreads, 3, 2)).not.toEqual(drawn(spreads, 3));
  });

  it("differ in what is stated only", () => {
    const { mechanism, capsules } = drawn({ frictionShare: 0.3 }, 2);
    expect(mechanism.springs).toEqual(sound.mechanism.springs);
    expect(mechanism.stopDeg).toBe(sound.mechanism.stopDeg);
    expect(mechanism.friction).not.toEqual(sound.mechanism.friction);
    expect(capsules[0]?.rateNPerMm).toBe(sound.capsules[0]?.rateNPerMm);
    expect(capsules[0]?.frictionN).not.toBe(sound.capsules[0]?.frictionN);
    const alone = drawn({ springRateShare: 0.05 }, 2).mechanism.springs[1]?.rateNPerMm;
    const both = drawn({ springRateShare: 0.05, frictionShare: 0.3, loopWearMm: 1 }, 2);
    expect(both.mechanism.springs[1]?.rateNPerMm).toBe(alone);
  });

  it("spread as stated: rates and friction about their own, wear to one side", () => {
    const count = 400;
    // The mean of 400 of them lies within four of its standard deviations, their spread within a fifth.
    const near = { mean: (4 * 0.1) / Math.sqrt(count), sd: 0.1 / 5 };
    const ratio = (number: number) => {
      const rate = drawn({ springRateShare: 0.1 }, number).mechanism.springs[0]?.rateNPerMm ?? 0;
      return rate / (sound.mechanism.springs[0]?.rateNPerMm ?? 0);
    };
    const rates = logarithms(count, ratio);
    expect(Math.abs(rates.mean)).toBeLessThan(near.mean);
    expect(Math.abs(rates.sd - 0.1)).toBeLessThan(near.sd);
    const worn = Array.from(
      { length: count },
      (_, number) => drawn({ stopWearDeg: 0.5 }, number).mechanism.stopDeg - 14,
    );
    expect(Math.min(...worn)).toBeGreaterThanOrEqual(0);
    // The mean size of a normal deviate is √(2/π) of its standard deviation.
    const mean = worn.reduce((sum, one) => sum + one, 0) / count;
    expect(Math.abs(mean - 0.5 * Math.sqrt(2 / Math.PI))).toBeLessThan(0.06);
  });

  it("are none where the scenario has tables", () => {
    const tables = { name: "tables", content: { mechanism: { speedTable: [[0, 0]] } } };
    expect(variedScenario(tables, UNIT, NONE, { seed: 1, number: 0 })).toBeNull();
  });
});

describe("a study's page", () => {
  it("says that it is simulated, first and at the foot, and holds text from files", () => {
    const study = new Study();
    const points = [
      [500, 2],
      [2000, 12],
    ] as const;
    study.add({ rows: [row(7, "within")], curves: [curve(points)] });
    const html = sheetHtml(
      studySheet({
        unit: { ...UNIT, description: "<b>four</b>" },
        capsule: 0,
        scenario: "s",
        units: 1,
        within: 1,
        rows: study.rows,
        curves: study.curves,
        spreads: [],
      }),
    );
    expect(html.match(/No real unit was measured/g)).toHaveLength(2);
    expect(html).not.toContain("<b>");
    expect(html.match(/<svg /g)).toHaveLength(1);
    // The middle, 5 and 95 of 100, and a bar for each printed row but the one without a place.
    expect(html.match(/stroke-dasharray="12 3 2 3"/g)).toHaveLength(2);
  });
});
