// The readings whose budget the page offers.
import { describe, expect, it } from "vitest";
import { budgetChoices, worstKnown } from "../../web/src/budgetChoices.ts";
import { endDocument } from "../sheet/fixture.ts";

describe("readings with a budget", () => {
  const choices = budgetChoices(endDocument.result);

  it("are those of the speed sweep, then of the capsules, rising before falling", () => {
    const names = choices.map(({ name }) => name);
    expect(names).toHaveLength(34);
    expect(names[0]).toBe("rising, 401 rpm: 0.02°");
    expect(names[10]).toBe("falling, 401 rpm: 0.11°");
    expect(names[20]).toBe("Advance capsule, rising, 5.0 kPa: 0.00°");
    expect(names[27]).toBe("Advance capsule, falling, 5.0 kPa: 0.05°");
  });

  it("begin with the one known worst", () => {
    const doubtful = choices.map((choice, i) =>
      i === 12 ? { ...choice, point: { ...choice.point, standardUncertaintyDeg: 0.2 } } : choice,
    );
    expect(worstKnown(doubtful)).toBe(12);
    expect(worstKnown([])).toBe(0);
  });
});
