// The bar of units sought among those on file can be missed.
import { expect, it } from "vitest";
import { nearest, type Sought } from "../../evaluate/bars/nearest.ts";

const FOUND: Sought = {
  index: 0,
  file: "mixed",
  rank: 0,
  isAlikeFirst: true,
  standing: "passes",
  share: 0.9,
  alike: 1,
  sameForm: 3,
};

function results(found: number, missed: number, one: Partial<Sought> = {}): Sought[] {
  const of = (count: number, more: Partial<Sought>) =>
    Array.from({ length: count }, () => ({ ...FOUND, ...one, ...more }));
  return [...of(found, {}), ...of(missed, { rank: 4, isAlikeFirst: false, share: 0.001 })];
}

it("is met by 95 found of 100 and missed by 94, for each file by itself", () => {
  const figures = (file: Sought["file"], found: number) =>
    nearest
      .figures(results(found, 100 - found, { file }))
      .filter(({ met, count }) => met !== null && count > 0);
  for (const file of ["mixed", "same form", "near"] as const) {
    expect(figures(file, 95)).toMatchObject([{ met: true, measured: "95.0 %" }]);
    expect(figures(file, 94)).toMatchObject([{ met: false, measured: "94.0 %" }]);
  }
});

it("tells beside it how often the right one was first, and the only one", () => {
  const figures = nearest.figures([
    ...results(2, 0),
    ...results(1, 0, { alike: 2 }),
    ...results(1, 0, { rank: 1, alike: 3 }),
  ]);
  expect(figures.slice(1, 4).map(({ measured }) => measured)).toEqual(["75.0 %", "50.0 %", "1.8"]);
});
