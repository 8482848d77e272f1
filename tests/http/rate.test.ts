// So much at once and so much a second, worked out by hand.
import { describe, expect, it } from "vitest";
import { Rate } from "../../server/http/rate.ts";

describe("a rate of 3 at once and 2 a second", () => {
  it("gives back what the time has earned, to the millisecond", () => {
    const rate = new Rate(3, 2);
    const at = (nowMs: number) => rate.takes("one", nowMs);
    expect([at(1000), at(1000), at(1000), at(1000)]).toEqual([true, true, true, false]);
    // Two a second: one more after 500 ms, and none a millisecond before.
    expect(at(1499)).toBe(false);
    expect(at(1500)).toBe(true);
    expect(at(1500)).toBe(false);
    expect(at(2500)).toBe(true);
    expect(at(2500)).toBe(true);
    expect(at(2500)).toBe(false);
  });

  it("never holds more than it gives at once", () => {
    const rate = new Rate(3, 2);
    rate.takes("one", 0);
    const taken = [1, 2, 3, 4].map(() => rate.takes("one", 30_000));
    expect(taken).toEqual([true, true, true, false]);
  });

  it("counts each by themselves", () => {
    const rate = new Rate(1, 1);
    expect(rate.takes("one", 0)).toBe(true);
    expect(rate.takes("one", 0)).toBe(false);
    expect(rate.takes("other", 0)).toBe(true);
  });

  it("forgets nobody who asked within a minute, and everybody who did not", () => {
    // Nothing is earned, so that only what is forgotten can be taken anew.
    const rate = new Rate(1, 0);
    rate.takes("still", 0);
    rate.takes("busy", 30_000);
    expect(rate.takes("still", 59_999)).toBe(false);
    expect(rate.takes("late", 60_000)).toBe(true);
    // Asked 59,999 ms after the beginning, and so not still for a minute by then.
    expect(rate.takes("still", 60_001)).toBe(false);
    expect(rate.takes("late", 119_999)).toBe(false);
    expect(rate.takes("someone", 120_000)).toBe(true);
    // Still for more than a minute by the sweep: begun anew.
    expect(rate.takes("busy", 120_001)).toBe(true);
    expect(rate.takes("late", 120_002)).toBe(false);
  });

  it("looks for the forgotten once a minute: after a minute to the millisecond, and no sooner", () => {
    const rate = new Rate(1, 0);
    rate.takes("still", 0);
    // Still for a minute and no longer.
    expect(rate.takes("still", 60_000)).toBe(false);
    const other = new Rate(1, 0);
    other.takes("early", 50_000);
    other.takes("someone", 60_000);
    expect(other.takes("early", 119_999)).toBe(false);
    const third = new Rate(1, 0);
    third.takes("early", 59_000);
    third.takes("someone", 60_000);
    expect(third.takes("early", 120_000)).toBe(true);
  });

  it("takes what has been earned together, in parts", () => {
    const rate = new Rate(1, 2);
    expect(rate.takes("one", 0)).toBe(true);
    for (const nowMs of [100, 200, 300, 400]) expect(rate.takes("one", nowMs)).toBe(false);
    expect(rate.takes("one", 500)).toBe(true);
  });
});
