// Where a cam stands by the loads that hold it.
import { describe, expect, it } from "vitest";
import { Stand } from "../../core/refit/cam.ts";

describe("a cam", () => {
  it("stands where its load meets the square of the speed, and at its stop beyond", () => {
    const stand = new Stand(
      10,
      (deg) => 1e5 + 1e4 * deg,
      () => 0,
    );
    expect(stand.at(Math.sqrt(1e5 + 3.7e4), "rising")).toBeCloseTo(3.7, 6);
    expect(stand.at(316, "rising")).toBe(0);
    expect(stand.at(2000, "rising")).toBe(10);
    expect(stand.startRpm("rising")).toBeCloseTo(Math.sqrt(1e5), 6);
  });

  it("comes back later by what friction carries", () => {
    const stand = new Stand(
      10,
      (deg) => 1e5 + 1e4 * deg,
      () => 2e4,
    );
    expect(stand.at(Math.sqrt(1.4e5), "rising")).toBeCloseTo(4, 6);
    expect(stand.at(Math.sqrt(1.4e5), "falling")).toBeCloseTo(6, 6);
  });

  it("leaps out where less holds it farther on, and back at another speed", () => {
    // Held by 1e5 at rest, by 0.5e5 at 5°, by 1.5e5 at the stop.
    const load = (deg: number) => (deg < 5 ? 1e5 - 1e4 * deg : 0.5e5 + 2e4 * (deg - 5));
    const stand = new Stand(10, load, () => 0);
    expect(stand.at(Math.sqrt(0.99e5), "rising")).toBe(0);
    expect(stand.at(Math.sqrt(1.01e5), "rising")).toBeGreaterThan(7.4);
    expect(stand.at(Math.sqrt(0.9e5), "falling")).toBeCloseTo(7, 0);
    expect(stand.startRpm("falling") ** 2).toBeCloseTo(0.5e5, -4);
  });
});
