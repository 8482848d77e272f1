// The spring drawer: rates against a handbook, files in and out, complaints by row and column.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  computedRate,
  type DrawerSpring,
  rateOf,
  ratesDiffer,
  springOf,
} from "../../core/drawer/drawer.ts";
import { drawerCsv, drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { listedSprings, listingText } from "../../core/drawer/listing.ts";
import { springLoadN, springRateNPerM } from "../../core/drawer/spring.ts";

const one = (columns: string, cells: string): DrawerSpring =>
  drawerFromCsv(`${columns}\n${cells}\n`, "x.csv")[0] as DrawerSpring;

describe("a spring", () => {
  it("has the rate of a handbook's example", () => {
    // Bhandari, Design of Machine Elements, Ex. 10.2 (title from memory; figures in a public Scilab
    // companion): G 81 370 N/mm², d 11 mm, D 55 mm, n 5 → 179.014 N/mm.
    const rate = springRateNPerM({
      wireDiameterM: 0.011,
      meanCoilDiameterM: 0.055,
      activeCoils: 5,
      shearModulusPa: 81_370e6,
    });
    expect(rate).toBeCloseTo(179_014, 0);
  });

  it("pulls nothing while its loop is slack, then tension and rate", () => {
    const spring = { initialTensionN: 2, loopLengthM: 0.001 };
    expect(springLoadN(spring, 5000, 0.001)).toBe(0);
    expect(springLoadN(spring, 5000, 0.003)).toBeCloseTo(12, 9);
    expect(springLoadN({ initialTensionN: 0, loopLengthM: 0 }, 5000, 0.003)).toBeCloseTo(15, 9);
  });
});

describe("rates", () => {
  const wire = "name,quantity,wire_diameter_mm,mean_coil_diameter_mm,active_coils,free_length_mm";

  it("are of music wire where the file says nothing else", () => {
    const plain = one(wire, "a,2,0.6,5.6,9,19");
    expect(springOf(plain)?.shearModulusPa).toBe(79.3e9);
    // 79.3e9 · 0.0006⁴ / (8 · 0.0056³ · 9)
    expect(rateOf(plain).rateNPerM).toBeCloseTo(812.8, 1);
    const other = one(`${wire},shear_modulus_gpa`, "a,2,0.6,5.6,9,19,39.65");
    expect(rateOf(other).rateNPerM).toBeCloseTo(406.4, 1);
  });

  it("are as uncertain as wire, coils and modulus make them", () => {
    const { rateNPerM, expandedUncertaintyNPerM } = rateOf(one(wire, "a,2,0.6,5.6,9,19"));
    // Limits in per cent: 4·0.01/0.6 = 6.667, 3·0.1/5.6 = 5.357, 0.25/9 = 2.778, 4; in quadrature over √3: 5.69.
    const share = expandedUncertaintyNPerM / rateNPerM;
    expect(share / 0.0569).toBeGreaterThan(1.85);
    expect(share / 0.0569).toBeLessThan(1.97);
  });

  it("are the measured ones where there are any, and said to differ where they do", () => {
    const both = `${wire},rate_n_per_mm,rate_uncertainty_n_per_mm`;
    const near = one(both, "a,2,0.6,5.6,9,19,0.85,0.02");
    expect(rateOf(near)).toEqual({
      from: "measurement",
      rateNPerM: 850,
      expandedUncertaintyNPerM: 20,
    });
    expect(ratesDiffer(near)).toBe(false);
    const far = one(both, "a,2,0.6,5.6,9,19,1.2,0.02");
    expect(ratesDiffer(far)).toBe(true);
    expect(listingText(listedSprings([near, far], []))).toMatch(/^a .*computed rate differ.*$/m);
    const bare = one(
      "name,quantity,free_length_mm,rate_n_per_m,rate_uncertainty_n_per_m",
      "a,0,19,850,20",
    );
    expect(springOf(bare)).toBeNull();
    expect(rateOf(bare).rateNPerM).toBe(850);
  });

  it("take the mean coil diameter from the outside one", () => {
    const columns = wire.replace("mean_coil", "outside");
    expect(one(columns, "a,1,0.6,6.2,9,19").wire?.meanCoilDiameterM).toBeCloseTo(0.0056, 12);
  });
});

describe("complaints", () => {
  const columns =
    "name,quantity,wire_diameter_mm,mean_coil_diameter_mm,active_coils,free_length_mm,rate_n_per_m,rate_uncertainty_n_per_m";
  it.each([
    [",1,0.6,5.6,9,19,,", "line 2, column name: a name is missing"],
    ["a,1.5,0.6,5.6,9,19,,", "column quantity: 1.5 is not a whole number"],
    ["a,1,0.06,5.6,9,19,,", "column wire_diameter_mm: 0.06 is not from 0.1 to 5"],
    ["a,1,,5.6,9,19,,", "column wire_diameter_mm: is missing beside the coils"],
    ["a,1,0.6,,9,19,,", "column mean_coil_diameter_mm: give one of this and outside_diameter_mm"],
    ["a,1,0.6,5.6,,19,,", "column active_coils: is missing beside the wire"],
    ["a,1,2,5.6,9,19,,", "the mean coil diameter, 5.6 mm, is less than 3 times the wire, 2 mm"],
    ["a,1,0.6,5.6,9,,,", "column free_length_mm: a number is missing"],
    ["a,1,,,,19,,", "neither wire and coils nor a measured rate is given"],
    ["a,1,,,,19,800,", "column rate_uncertainty_n_per_m: a measured rate needs its uncertainty"],
    ["a,1,,,,19,,20", "column rate_n_per_m: is missing beside its uncertainty"],
    ["a,1,0.6,5.6,9,19,,\na,1,0.6,5.6,9,19,,", 'line 3, column name: "a" comes twice'],
  ])("%j", (cells, what) => {
    expect(() => one(columns, cells)).toThrow(what);
  });
});

describe("CSV out", () => {
  const lengthM = fc.integer({ min: 10, max: 190 }).map((mm) => mm / 1000);
  const wire = fc.record({
    wireDiameterM: fc.integer({ min: 10, max: 150 }).map((n) => n / 100_000),
    meanCoilDiameterM: fc.integer({ min: 50, max: 500 }).map((n) => n / 10_000),
    activeCoils: fc.integer({ min: 4, max: 100 }).map((n) => n / 4),
    shearModulusPa: fc.constantFrom(79.3e9, 81.7e9),
  });
  const spring: fc.Arbitrary<DrawerSpring> = fc
    .record({
      name: fc.string({ minLength: 1, maxLength: 20 }).filter((text) => text.trim() === text),
      quantity: fc.nat({ max: 1000 }),
      freeLengthM: lengthM,
      initialTensionN: fc.integer({ min: 0, max: 50 }).map((n) => n / 10),
      loopLengthM: fc.integer({ min: 0, max: 50 }).map((n) => n / 10_000),
      wire: fc.option(wire),
      measuredRate: fc.option(
        fc.record({
          rateNPerM: fc.integer({ min: 1, max: 50_000 }),
          expandedUncertaintyNPerM: fc.integer({ min: 1, max: 500 }),
        }),
      ),
    })
    .filter(({ wire, measuredRate, name }) => {
      return (wire !== null || measuredRate !== null) && !/^'[=+\-@]/.test(name);
    });

  it("gives the same drawer when it is read again", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(spring, { selector: ({ name }) => name, maxLength: 10 }),
        (springs) => {
          const again = drawerFromCsv(drawerCsv(springs), "x.csv");
          expect(again).toHaveLength(springs.length);
          for (const [i, { name, quantity, measuredRate, ...rest }] of springs.entries()) {
            expect(again[i]).toMatchObject({ name, quantity, measuredRate });
            expect(again[i]?.freeLengthM).toBeCloseTo(rest.freeLengthM, 9);
            expect(again[i]?.loopLengthM).toBeCloseTo(rest.loopLengthM, 9);
            expect(again[i]?.initialTensionN).toBe(rest.initialTensionN);
            expect(again[i]?.wire === null).toBe(rest.wire === null);
            if (rest.wire === null) continue;
            expect(again[i]?.wire?.wireDiameterM).toBeCloseTo(rest.wire.wireDiameterM, 9);
            expect(again[i]?.wire?.meanCoilDiameterM).toBeCloseTo(rest.wire.meanCoilDiameterM, 9);
            expect(again[i]?.wire?.activeCoils).toBe(rest.wire.activeCoils);
            expect(again[i]?.wire?.shearModulusPa).toBeCloseTo(rest.wire.shearModulusPa, 0);
          }
        },
      ),
    );
  });
});

it("the example drawer is good, marked as invented, and its two rates agree wherever it has both", () => {
  const file = new URL("../../examples/invented.springs.csv", import.meta.url);
  const springs = drawerFromCsv(readFileSync(file, "utf8"), "invented.springs.csv");
  expect(springs).toHaveLength(43);
  expect(springs.every(({ name }) => name.startsWith("invented "))).toBe(true);
  expect(springs.filter(ratesDiffer)).toEqual([]);
  expect(
    springs.filter(({ wire, measuredRate }) => wire !== null && measuredRate !== null),
  ).toHaveLength(8);
  const [first] = springs;
  expect(first?.wire && computedRate(first.wire).rateNPerM).toBeCloseTo(489.6, 1);
});
