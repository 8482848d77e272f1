// The bar of typed manual rows can be missed, by one row on the wrong scale or one question not asked.
import { describe, expect, it } from "vitest";
import { manual } from "../../evaluate/bars/manual.ts";

const GOOD = { rows: 2, isDoubt: false, errors: [] };
const ASKED = { rows: 1, isDoubt: true, errors: [] };

describe("manual", () => {
  it("is met without errors", () => {
    expect(manual.figures([GOOD, ASKED]).map(({ met }) => met)).toEqual([true, true]);
  });

  it("is missed by one row on the wrong scale", () => {
    const figures = manual.figures([GOOD, { ...GOOD, errors: ["twice too large"] }, ASKED]);
    expect(figures.map(({ met }) => met)).toEqual([false, true, null]);
    expect(figures[0]).toMatchObject({ measured: "1", count: 4 });
  });

  it("is missed by one scale taken for granted, and by no lines at all", () => {
    const figures = manual.figures([GOOD, { ...ASKED, errors: ["read without asking"] }]);
    expect(figures.map(({ met }) => met)).toEqual([true, false, null]);
    expect(manual.figures([]).map(({ met }) => met)).toEqual([false, false]);
  });
});
