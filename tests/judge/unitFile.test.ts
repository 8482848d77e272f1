// Unit files converted to units, and what is said about files that are wrong.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Band, Unit } from "../../core/unit.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { unitFileJsonSchema, unitFromFile } from "../../core/unitFile.ts";

function example(name: string): Unit {
  const text = readFileSync(new URL(`../../examples/${name}`, import.meta.url), "utf8");
  return unitFromFile(parseJsonFile(text, name), name);
}

const PLAIN = { description: "plain", lobes: 4, rotation: "cw" };
const SPEED = { degrees: "distributor", rpm: "distributor", source: "none" };
const CAPSULE = { name: "c", vacuum: "kPa", degrees: "distributor", source: "none" };

function withRows(rows: unknown[], changes: object = {}): object {
  return { ...PLAIN, speed: { ...SPEED, ...changes, rows } };
}

function bandOf(file: unknown): Band {
  return unitFromFile(file, "x").speedBand as Band;
}

describe("the everyday unit", () => {
  const unit = example("everyday.unit.json");

  it("is converted as a whole", () => {
    expect({ ...unit, speedBand: null, capsules: [] }).toEqual({
      description: "Everyday four, an invented unit with weights and one capsule",
      stampedNumber: "BW-0400",
      invented: true,
      lobeAnglesDeg: [0, 90, 180, 270],
      rotation: "cw",
      driveRatio: 2,
      trigger: { kind: "contacts", firingEdge: "a" },
      speedMaxRpm: null,
      capsules: [],
      dwellLimitsDeg: { min: 47, max: 55 },
      contactSets: null,
      scatterMaxDeg: 1,
      speedBand: null,
      springs: 2,
      engine: {
        initialTimingCrankshaftDeg: 8,
        atEngineRpm: 600,
        vacuumPort: "ported",
        idleEngineRpm: 600,
        engineSpeedsRpm: [600, 1000, 1600, 2400, 3200, 4000],
        source: "Invented for Bobweight, no manual",
      },
    });
  });

  it("has its speed rows as limits", () => {
    const at = (x: number, min: number, max: number, nominal: number) => ({
      kind: "at",
      printed: `${nominal} ± 1 distributor degrees at ${x} distributor rpm`,
      x,
      limitsDeg: { min, max },
    });
    expect(unit.speedBand).toEqual({
      judgedOn: "both",
      source: "Invented for Bobweight, no manual",
      scales: { degrees: "distributor", x: "distributor", includesInitial: false },
      workshopToleranceDeg: null,
      rows: [
        {
          kind: "noneBelow",
          printed: "no advance below 300 distributor rpm: at most 0.5 distributor degrees",
          x: 300,
          limitsDeg: { min: null, max: 0.5 },
        },
        at(500, 2, 4, 3),
        at(800, 6, 8, 7),
        at(1200, 8.5, 10.5, 9.5),
        at(1800, 11.5, 13.5, 12.5),
        {
          kind: "end",
          printed: "largest advance 14 ± 1 distributor degrees by 2400 distributor rpm",
          x: 2400,
          limitsDeg: { min: 13, max: 15 },
        },
      ],
    });
  });

  it("has its capsule in pascals", () => {
    const [capsule] = unit.capsules;
    expect(capsule?.hold).toEqual({ vacuumPa: 50000, seconds: 15, dropMaxPa: 2000 });
    expect(capsule?.band?.rows).toEqual([
      { kind: "start", printed: "advance starts at 10 to 15 kPa", fromX: 10000, toX: 15000 },
      {
        kind: "at",
        printed: "4 ± 1 distributor degrees at 20 kPa",
        x: 20000,
        limitsDeg: { min: 3, max: 5 },
      },
      {
        kind: "at",
        printed: "9 ± 1 distributor degrees at 30 kPa",
        x: 30000,
        limitsDeg: { min: 8, max: 10 },
      },
      {
        kind: "end",
        printed: "largest advance 11 ± 1 distributor degrees by 40 kPa",
        x: 40000,
        limitsDeg: { min: 10, max: 12 },
      },
    ]);
  });
});

describe("other example units", () => {
  it("halves crankshaft figures and reads fractions and inches of mercury", () => {
    const unit = example("tall-eight.unit.json");
    expect(unit.lobeAnglesDeg).toEqual([0, 45, 90, 135, 180, 225, 270, 315]);
    expect(unit.speedBand?.rows.map(({ printed, ...rest }) => rest)).toEqual([
      { kind: "start", fromX: 350, toX: 450 },
      { kind: "at", x: 600, limitsDeg: { min: 2.625, max: 4 } },
      { kind: "at", x: 1000, limitsDeg: { min: 6.75, max: 8.25 } },
      { kind: "at", x: 1500, limitsDeg: { min: 9, max: 10.5 } },
      { kind: "end", x: 2000, limitsDeg: { min: 10, max: 12 } },
    ]);
    expect(unit.speedBand?.rows[1]?.printed).toBe(
      "5¼ to 8 crankshaft degrees at 1200 crankshaft rpm",
    );
    // 9 inHg by NIST SP 811 appendix B.8.
    expect(unit.capsules[0]?.band?.rows[1]).toMatchObject({ x: 9 * 3386.389 });
  });

  it("takes initial timing off, splits ranges of speed and turns retard round", () => {
    const unit = example("quiet-six.unit.json");
    expect(unit.speedBand?.workshopToleranceDeg).toBe(1);
    expect(unit.speedBand?.rows.map(({ printed, ...rest }) => rest)).toEqual([
      { kind: "noneBelow", x: 450, limitsDeg: { min: null, max: 1 } },
      { kind: "at", x: 600, limitsDeg: { min: null, max: 2 } },
      { kind: "at", x: 750, limitsDeg: { min: 2, max: null } },
      { kind: "at", x: 1000, limitsDeg: { min: 4, max: 6 } },
      { kind: "at", x: 1800, limitsDeg: { min: 7.5, max: 10.5 } },
      { kind: "end", x: 2600, limitsDeg: { min: 11, max: 13 } },
    ]);
    expect(unit.speedBand?.rows[3]?.printed).toBe(
      "18 crankshaft degrees with initial timing of 8 included (± 1 distributor degrees by the workshop) at 1000 distributor rpm",
    );
    const retard = unit.capsules[1];
    expect(retard?.band?.rows.slice(1)).toEqual([
      {
        kind: "at",
        printed: "4 to 8 crankshaft degrees retard at 200 mmHg",
        x: 200 * 133.3224,
        limitsDeg: { min: -4, max: -2 },
      },
      {
        kind: "end",
        printed: "largest 10 ± 2 crankshaft degrees retard by 280 mmHg",
        x: 280 * 133.3224,
        limitsDeg: { min: -6, max: -4 },
      },
    ]);
  });
});

describe("two sets of contacts", () => {
  const overlapped = {
    ...PLAIN,
    lobes: 8,
    dwell: { degrees: "28 ± 2" },
    secondSet: { arrangement: "overlapped", combinedDwell: { percent: "70 to 80" } },
  };

  it("are asked for together where nothing else is said", () => {
    const unit = unitFromFile(overlapped, "x");
    // 360° / 8 is 45°.
    expect(unit.dwellLimitsDeg).toEqual({ min: 31.5, max: 36 });
    expect(unit.contactSets).toEqual({
      arrangement: "overlapped",
      connected: "both",
      lobeAnglesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
      dwellLimitsDeg: {
        first: { min: 26, max: 30 },
        // The second is as the first where the file does not say otherwise.
        second: { min: 26, max: 30 },
        both: { min: 31.5, max: 36 },
      },
    });
  });

  it("are asked for one by one", () => {
    const own = { ...overlapped.secondSet, dwell: { degrees: "20 to 24" } };
    const second = unitFromFile({ ...overlapped, secondSet: own }, "x", "second");
    expect(second.lobeAnglesDeg).toHaveLength(8);
    expect(second.dwellLimitsDeg).toEqual({ min: 20, max: 24 });
    expect(second.contactSets?.connected).toBe("second");
    const first = unitFromFile({ ...overlapped, secondSet: own }, "x", "first");
    expect(first.dwellLimitsDeg).toEqual({ min: 26, max: 30 });
  });

  it("staggered have every second lobe each, and a share of their own spacing", () => {
    const staggered = {
      description: "d",
      rotation: "cw",
      lobeAnglesDeg: [0, 50, 120, 170, 240, 290],
      dwell: { percent: "50 to 60" },
      secondSet: { arrangement: "staggered" },
      scatterMaxDeg: 1,
    };
    for (const sets of ["first", "second"] as const) {
      const unit = unitFromFile(staggered, "x", sets);
      expect(unit.lobeAnglesDeg).toEqual([0, 120, 240]);
      // Of 120°.
      expect(unit.dwellLimitsDeg).toEqual({ min: 60, max: 72 });
      expect(unit.scatterMaxDeg).toBe(1);
    }
    expect(unitFromFile(staggered, "x")).toMatchObject({
      lobeAnglesDeg: [0, 50, 120, 170, 240, 290],
      dwellLimitsDeg: null,
    });
    const two = { ...staggered, lobeAnglesDeg: [0, 180] };
    expect(unitFromFile(two, "x", "second")).toMatchObject({
      lobeAnglesDeg: [0],
      scatterMaxDeg: null,
    });
  });

  it("cannot be chosen of one", () => {
    expect(() => unitFromFile(PLAIN, "my.json", "first")).toThrow(
      "FILE_INVALID: my.json, the file: the unit has one set of contacts, so first of two cannot be chosen. Add secondSet, or choose none.",
    );
  });
});

describe("what may stay unknown", () => {
  it("needs description, lobes and rotation only", () => {
    expect(unitFromFile(PLAIN, "x")).toMatchObject({
      stampedNumber: null,
      invented: false,
      driveRatio: 2,
      trigger: { kind: "contacts", firingEdge: "a" },
      capsules: [],
      dwellLimitsDeg: null,
      scatterMaxDeg: null,
      speedBand: null,
      engine: null,
      springs: null,
    });
  });

  it("takes a capsule without rows, a row without a place and the row's own words", () => {
    const unit = unitFromFile(
      {
        ...withRows([{ endBy: null, min: 13, printed: "full advance 13° or more" }]),
        capsules: [{ name: "c", vacuum: "mmHg" }],
      },
      "x",
    );
    expect(unit.capsules).toEqual([{ name: "c", acts: "advance", band: null, hold: null }]);
    expect(unit.speedBand?.rows).toEqual([
      {
        kind: "end",
        printed: "full advance 13° or more",
        x: null,
        limitsDeg: { min: 13, max: null },
      },
    ]);
  });

  it("takes uneven lobes, and dwell as a share of the spacing", () => {
    // 45/75° of a 90° V6: from memory.
    const angles = [0, 45, 120, 165, 240, 285];
    const { lobes, ...rest } = PLAIN;
    expect(unitFromFile({ ...rest, lobeAnglesDeg: angles }, "x").lobeAnglesDeg).toEqual(angles);
    expect(unitFromFile({ ...PLAIN, dwell: { percent: "50 to 60" } }, "x").dwellLimitsDeg).toEqual({
      min: 45,
      max: 54,
    });
  });

  it("prefers a row's tolerance to the band's and the band's to the workshop's", () => {
    const rows = [
      { at: 500, degrees: 3, tolerance: 0.5 },
      { at: 600, degrees: 4 },
    ];
    const limits = (band: Band) =>
      band.rows.map((row) => ("limitsDeg" in row ? row.limitsDeg : null));
    expect(limits(bandOf(withRows(rows, { toleranceDeg: 2 })))).toEqual([
      { min: 2.5, max: 3.5 },
      { min: 2, max: 6 },
    ]);
    const byWorkshop = bandOf({ ...withRows(rows), workshopToleranceDeg: 1.5 });
    expect(limits(byWorkshop)[1]).toEqual({ min: 2.5, max: 5.5 });
    expect(byWorkshop.workshopToleranceDeg).toBe(1.5);
  });
});

describe("complaints", () => {
  const capsule = (changes: object) => ({ ...PLAIN, capsules: [{ ...CAPSULE, ...changes }] });
  it.each<[object, string]>([
    [{ ...PLAIN, colour: "red" }, "colour: there is no such field here"],
    [
      withRows([{ at: 500, degrees: 3, degree: 1 }]),
      "speed.rows[0].degree: there is no such field here",
    ],
    [{ lobes: 4, rotation: "cw" }, "description: is missing"],
    [{ ...PLAIN, rotation: "left" }, 'rotation: expected one of "cw"|"ccw"'],
    [{ ...PLAIN, lobes: 13 }, "lobes: too big: expected number to be <=12"],
    [{ ...PLAIN, lobes: 4.5 }, "lobes: expected int, received number"],
    [{ description: "d", rotation: "cw" }, "lobes: is missing, and so is lobeAnglesDeg"],
    [
      { ...PLAIN, lobeAnglesDeg: [0, 90] },
      "lobeAnglesDeg: give either `lobes` or `lobeAnglesDeg`, not both",
    ],
    [
      { description: "d", rotation: "cw", lobeAnglesDeg: [0, 90, 80] },
      "lobeAnglesDeg[1]: the next lobe must come at least 5° after 90°",
    ],
    [
      { description: "d", rotation: "cw", lobeAnglesDeg: [10, 90] },
      "lobeAnglesDeg[0]: the first lobe stands at 0. Count the others from it",
    ],
    [
      { ...PLAIN, trigger: { kind: "hall" } },
      'trigger.firingEdge: is missing: say whether this hall trigger fires on edge "a" or "b"',
    ],
    [
      { ...PLAIN, dwell: { degrees: 51 } },
      'dwell.degrees: a single figure cannot be met exactly. Write a range, or "51 ± 4"',
    ],
    [
      {
        ...PLAIN,
        trigger: { kind: "hall", firingEdge: "a" },
        dwell: { degrees: "20 to 30" },
      },
      "dwell: the dwell of a hall trigger is not measured. Take the field out",
    ],
    [
      {
        ...PLAIN,
        trigger: { kind: "magnetic", firingEdge: "b" },
        secondSet: { arrangement: "overlapped" },
      },
      "secondSet: a magnetic trigger has no contacts. Take the field out",
    ],
    [
      { ...PLAIN, lobes: 5, secondSet: { arrangement: "staggered" } },
      "secondSet.arrangement: staggered sets share the lobes evenly, and there are 5",
    ],
    [
      {
        ...PLAIN,
        secondSet: { arrangement: "overlapped", combinedDwell: { degrees: "80 to 95" } },
      },
      "secondSet.combinedDwell.degrees: more than the spacing of the lobes, 90 distributor degrees",
    ],
    [
      { ...PLAIN, dwell: { degrees: "80 to 95" } },
      "dwell.degrees: more than the spacing of the lobes, 90 distributor degrees",
    ],
    [
      { ...PLAIN, lobes: 1, scatterMaxDeg: 1 },
      "scatterMaxDeg: one lobe cannot scatter. Take the field out",
    ],
    [withRows([{ at: 500, min: 4, max: 2 }]), "speed.rows[0].min: 4 is above `max`, 2. Swap them"],
    [
      withRows([{ at: 500, degrees: "7 to 5" }]),
      "speed.rows[0].degrees: the range runs backwards, from 7 to 5",
    ],
    [withRows([{ at: 500, degrees: -3 }]), "speed.rows[0].degrees: -3 is negative"],
    [
      withRows([{ at: 500, degrees: "5,25" }]),
      'speed.rows[0].degrees: "5,25" is not a figure. Write 5.25, "5¼", "5 1/4", "5¼ to 7" or "5 ± 1"',
    ],
    [
      withRows([{ at: 500, degrees: 61 }]),
      "speed.rows[0].degrees: 61 is more than 60 distributor degrees, which no unit has",
    ],
    [
      withRows([{ at: 20001, degrees: 3 }]),
      "speed.rows[0].at: 20001 distributor rpm is more than there can be",
    ],
    [
      withRows([{ at: true, degrees: 3 }]),
      'speed.rows[0].at: expected a number or a text such as "5¼ to 7"',
    ],
    [withRows([{ at: 500 }]), "speed.rows[0]: `degrees`, `min` or `max` is missing"],
    [
      withRows([{ degrees: 3 }]),
      "speed.rows[0]: a row has exactly one of at, noneBelow, start, endBy; this one has 0",
    ],
    [
      withRows([{ at: 500, endBy: 600, degrees: 3 }]),
      "speed.rows[0]: a row has exactly one of at, noneBelow, start, endBy; this one has 2",
    ],
    [
      withRows([
        { at: 500, degrees: 3 },
        { at: 400, degrees: 4 },
      ]),
      "speed.rows[1]: this row stands below the one before. Put the rows in rising order",
    ],
    [
      withRows([
        { at: 500, degrees: 3 },
        { at: 500, degrees: 4 },
      ]),
      "speed.rows[1]: there is already a row at this place",
    ],
    [
      withRows([
        { endBy: 500, degrees: 3 },
        { endBy: 600, degrees: 4 },
      ]),
      "speed.rows[1]: there is already a row with endBy",
    ],
    [
      withRows([{ at: 500, degrees: "3 ± 1", tolerance: 1 }]),
      "speed.rows[0].tolerance: `degrees` already says how far it may be off",
    ],
    [
      withRows([{ at: 500, degrees: 3, max: 4 }]),
      "speed.rows[0]: give either `degrees` or `min` and `max`, not both",
    ],
    [
      withRows([{ start: 400 }]),
      "speed.rows[0].start: a single figure cannot be met exactly. Write a range, or use noneBelow",
    ],
    [
      withRows([{ at: "500 to 600", min: 3 }]),
      "speed.rows[0]: a row with a range in `at` needs one figure in `degrees`, without tolerance",
    ],
    [
      withRows([{ at: 500, degrees: 5 }], { includesInitialDeg: 6 }),
      "speed.rows[0].degrees: 5 is less than the initial timing that it includes, 6",
    ],
    [withRows([]), "speed.rows: too small: expected array to have >=1 items"],
    [
      capsule({ rows: [{ at: 102, degrees: 3 }] }),
      "capsules[0].rows[0].at: 102 kPa is more than there can be",
    ],
    [
      capsule({ vacuum: "bar" }),
      'capsules[0].vacuum: expected one of "Pa"|"kPa"|"mbar"|"inHg"|"mmHg"|"cmHg"|"psi"',
    ],
    [
      capsule({ hold: { vacuum: 50, seconds: 15, dropMax: 60 } }),
      "capsules[0].hold.dropMax: must be less than the vacuum itself",
    ],
    [
      { ...PLAIN, capsules: [{ name: "c", vacuum: "kPa", rows: [{ at: 20, degrees: 4 }] }] },
      'capsules[0].degrees: is missing: "distributor" or "crankshaft"',
    ],
  ])("names place and remedy %#", (file, expected) => {
    expect(() => unitFromFile(file, "my.json")).toThrow(
      `FILE_INVALID: my.json, ${expected}. Change the field named`,
    );
  });

  it.each([[[]], [null], ["text"], [7]])("says that %j is no unit file", (file) => {
    expect(() => unitFromFile(file, "my.json")).toThrow(
      "FILE_INVALID: my.json, the file: expected object, received ",
    );
  });

  it("throws nothing but its own errors, whatever the rows", () => {
    const figures = fc.oneof(fc.double(), fc.string({ maxLength: 8 }), fc.constant("5 to 7"));
    const rows = fc.array(
      fc.record(
        {
          at: figures,
          noneBelow: figures,
          start: figures,
          endBy: figures,
          degrees: figures,
          min: figures,
          max: figures,
          tolerance: fc.double(),
        },
        { requiredKeys: [] },
      ),
      { maxLength: 4 },
    );
    fc.assert(
      fc.property(rows, (some) => {
        try {
          unitFromFile(withRows(some), "x");
        } catch (error) {
          expect(error).toMatchObject({ name: "BobweightError", code: "FILE_INVALID" });
        }
      }),
    );
  });
});

describe("scales", () => {
  const rowsIn = fc
    .uniqueArray(fc.integer({ min: 100, max: 4000 }), { minLength: 1, maxLength: 6 })
    .map((speeds) => speeds.sort((a, b) => a - b));

  it("makes crankshaft figures exactly the ratio of distributor figures", () => {
    fc.assert(
      fc.property(
        rowsIn,
        fc.integer({ min: 0, max: 80 }),
        fc.constantFrom(1, 2, 4),
        (speeds, quarters, ratio) => {
          const degrees = quarters / 4;
          const distributor = {
            ...withRows(speeds.map((at) => ({ at, degrees, tolerance: 0.5 }))),
            driveRatio: ratio,
          };
          const crankshaft = {
            ...withRows(
              speeds.map((at) => ({
                at: at * ratio,
                degrees: degrees * ratio,
                tolerance: 0.5 * ratio,
              })),
              { degrees: "crankshaft", rpm: "crankshaft" },
            ),
            driveRatio: ratio,
          };
          const plain = (band: Band) => band.rows.map(({ printed, ...rest }) => rest);
          expect(plain(bandOf(crankshaft))).toEqual(plain(bandOf(distributor)));
        },
      ),
    );
  });

  it("is off by exactly the ratio where crankshaft is taken for distributor", () => {
    fc.assert(
      fc.property(rowsIn, fc.integer({ min: 0, max: 120 }), (speeds, halves) => {
        const rows = speeds.map((at) => ({ at, degrees: halves / 2, tolerance: 1 }));
        const right = bandOf(withRows(rows)).rows;
        const wrong = bandOf(withRows(rows, { degrees: "crankshaft" })).rows;
        for (const [i, row] of right.entries()) {
          const other = wrong[i];
          if (row.kind !== "at" || other?.kind !== "at") throw new Error("another kind of row");
          expect(other.limitsDeg.min).toBe((row.limitsDeg.min as number) / 2);
          expect(other.limitsDeg.max).toBe((row.limitsDeg.max as number) / 2);
          expect(other.x).toBe(row.x);
        }
      }),
    );
  });
});

describe("the published schema", () => {
  it("is JSON Schema that refuses unknown fields and names the required ones", () => {
    expect(unitFileJsonSchema()).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      type: "object",
      required: ["description", "rotation"],
      additionalProperties: false,
    });
  });
});
