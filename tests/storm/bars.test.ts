// The bars' own checks: each is met by good figures and can be missed.
import { describe, expect, it } from "vitest";
import { advisories, advisoriesIn } from "../../storm/bars/advisories.ts";

const judged = (figures: readonly { met: boolean | null }[]) =>
  figures.map(({ met }) => met).filter((met) => met !== null);

describe("advisories", () => {
  const audit = (high: number, critical: number) =>
    JSON.stringify({
      metadata: {
        vulnerabilities: { info: 0, low: 3, moderate: 2, high, critical, total: 5 },
        dependencies: { prod: 90, dev: 200, total: 290 },
      },
    });

  it("critical ones count as high, moderate ones are told", () => {
    expect(advisoriesIn(audit(1, 2))).toEqual({ packages: 290, moderate: 2, high: 3 });
    expect(judged(advisories.figures([advisoriesIn(audit(0, 0))]))).toEqual([true]);
    expect(judged(advisories.figures([advisoriesIn(audit(0, 1))]))).toEqual([false]);
  });

  it("a registry that does not answer is neither met nor missed", () => {
    expect(advisoriesIn('{"message":"405 Method Not Allowed"}')).toBeNull();
    expect(advisoriesIn("")).toBeNull();
    expect(judged(advisories.figures([null]))).toEqual([]);
  });
});
