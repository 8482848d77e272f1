import { expect, it } from "vitest";
import { percentile } from "../../accuracy/percentile.ts";

it("is the nearest rank: of twenty, the nineteenth is what 95 of 100 do not exceed", () => {
  const twenty = Array.from({ length: 20 }, (_, i) => 20 - i);
  expect(percentile(twenty, 0.95)).toBe(19);
  expect(percentile(twenty, 0.99)).toBe(20);
  expect(percentile([7], 0.5)).toBe(7);
  expect(percentile([], 0.5)).toBeNaN();
});
