// Places spread by walkers against distributions whose mean and spread are known.
import { describe, expect, it } from "vitest";
import { Sequence, walked } from "../../core/refit/walk.ts";

const mean = (values: readonly number[]) =>
  values.reduce((sum, one) => sum + one, 0) / values.length;

describe("walkers", () => {
  /** Normal: means 1 and −2, spreads 0.5 and 0.1, correlation 0.9. */
  const density = ([x = 0, y = 0]: readonly number[]) => {
    const [a, b] = [(x - 1) / 0.5, (y + 2) / 0.1];
    return -(a ** 2 - 1.8 * a * b + b ** 2) / (2 * (1 - 0.81));
  };
  const places = walked(density, [[1, -2]]);

  it("spread as a normal distribution has it, its parts with one another", () => {
    const [xs, ys] = [places.map(([x = 0]) => x), places.map(([, y = 0]) => y)];
    const [midX, midY] = [mean(xs), mean(ys)];
    const spread = (all: readonly number[], mid: number) =>
      Math.sqrt(mean(all.map((one) => (one - mid) ** 2)));
    // A hundred places: means within 4 standard errors, spreads within a third.
    expect(Math.abs(midX - 1)).toBeLessThan(0.2);
    expect(Math.abs(midY + 2)).toBeLessThan(0.04);
    expect(Math.abs(spread(xs, midX) / 0.5 - 1)).toBeLessThan(0.33);
    expect(Math.abs(spread(ys, midY) / 0.1 - 1)).toBeLessThan(0.33);
    const both = mean(xs.map((x, i) => (x - midX) * ((ys[i] as number) - midY)));
    expect(both / spread(xs, midX) / spread(ys, midY)).toBeGreaterThan(0.8);
  });

  it("are at the same places every time", () => {
    expect(walked(density, [[1, -2]])).toEqual(places);
  });

  it("do not stay where next to nothing is likely", () => {
    const both = walked(density, [
      [1, -2],
      [40, 40],
    ]);
    expect(both.every(([x = 0]) => Math.abs(x - 1) < 3)).toBe(true);
  });
});

describe("numbers without order", () => {
  it("are others for another name", () => {
    const of = (name: string) => new Sequence(name).normal();
    const all = Array.from({ length: 400 }, (_, i) => of(`${i} spring`));
    expect(new Set(all).size).toBe(400);
    expect(Math.abs(mean(all))).toBeLessThan(0.2);
    expect(Math.abs(Math.sqrt(mean(all.map((one) => one ** 2))) - 1)).toBeLessThan(0.15);
  });
});
