// The decision rule against published rules and worked examples.
import { describe, expect, it } from "vitest";
import { decide } from "../../core/judge/decision.ts";

/** Normal distribution function by Simpson's rule, so that it owes nothing to the code under test. */
function normal(z: number): number {
  const steps = 2000;
  const width = z / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp(-((i * width) ** 2) / 2);
  }
  return 0.5 + (sum * width) / 3 / Math.sqrt(2 * Math.PI);
}

describe("guard band as wide as the expanded uncertainty", () => {
  // ILAC-G8:09/2019 § 4.2.3 and ISO 14253-1:2013: passes inside limit − U, fails beyond limit + U,
  // between them neither can be proved. The case where a value ± U just touches a limit: our reading.
  const limits = { min: 6, max: 8 };
  it.each([
    [7, 0.5, "within"],
    [7.5, 0.5, "within"],
    [6.5, 0.5, "within"],
    [7.75, 0.5, "unproven"],
    [6.25, 0.5, "unproven"],
    [8, 0.5, "unproven"],
    [8.25, 0.5, "unproven"],
    [8.5, 0.5, "unproven"],
    [8.75, 0.5, "outside"],
    [5.25, 0.5, "outside"],
    [5.75, 0.5, "unproven"],
    [7, 1.25, "unproven"],
    [8, 0, "within"],
  ] as const)("finds %d ± %d %s 6 to 8", (value, uncertainty, verdict) => {
    expect(decide(value, uncertainty, limits)).toBe(verdict);
  });

  it("looks at one limit only where there is one", () => {
    expect(decide(1000, 1, { min: 6, max: null })).toBe("within");
    expect(decide(5, 0.5, { min: 6, max: null })).toBe("outside");
    expect(decide(-1000, 1, { min: null, max: 0.5 })).toBe("within");
    expect(decide(0.4, 0.2, { min: null, max: 0.5 })).toBe("unproven");
  });

  it("calls what is not a number unproven", () => {
    expect(decide(Number.NaN, 0.5, limits)).toBe("unproven");
    expect(decide(7, Number.NaN, limits)).toBe("unproven");
  });
});

describe("probability of conformity", () => {
  // JCGM 106:2012, worked examples: figures from memory, recomputed here. With k = 2 to one limit the
  // rule passes what conforms with a probability of at least Φ(2) = 0.977.
  it("passes limit ≥ 490, y 509.7, u 8.6: probability 0.989", () => {
    const u = 8.6;
    expect(normal((509.7 - 490) / u)).toBeCloseTo(0.989, 3);
    expect(decide(509.7, 1.96 * u, { min: 490, max: null })).toBe("within");
  });

  it("leaves limit ≤ −5.40, y −5.47, u 0.05 unproven: probability 0.919", () => {
    const u = 0.05;
    expect(normal((-5.4 + 5.47) / u)).toBeCloseTo(0.919, 3);
    expect(decide(-5.47, 1.96 * u, { min: null, max: -5.4 })).toBe("unproven");
  });
});
