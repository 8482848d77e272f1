// A minute of the day-long bar, and that its figures can be missed.
import { expect, it } from "vitest";
import { type LongResult, long, longLink, longRuns } from "../../storm/bars/long.ts";
import type { Held } from "../../storm/memory.ts";

const MINUTE_H = 1 / 60;

it("accounts for every turn of a noisy line at full speed", async () => {
  const { turns, gaps, unaccounted } = await longLink(MINUTE_H, 1e-4);
  expect(turns).toBeGreaterThan(3000);
  expect(gaps).toBeGreaterThan(10);
  expect(unaccounted).toBe(0);
});

it("keeps runs one after the other, with no more files open than before", async () => {
  const { samples, turns, unaccounted } = await longRuns(2 * MINUTE_H);
  expect(turns).toBeGreaterThan(100);
  expect(unaccounted).toBe(0);
  expect(samples.at(-1)?.handles ?? 0).toBeLessThanOrEqual(samples[0]?.handles ?? 0);
});

it("is missed by what grows, and by a turn nobody knows of", () => {
  const flat = Array.from({ length: 24 }, (): Held => ({ heapMb: 20, rssMb: 100, handles: 20 }));
  const rising = (of: keyof Held, by: number) =>
    flat.map((held, i) => ({ ...held, [of]: (held[of] ?? 0) + i * by }));
  const good: LongResult = {
    what: "link",
    hours: 24,
    samples: flat,
    turns: 1000,
    gaps: 3,
    unaccounted: 0,
  };
  const missed = (changes: Partial<LongResult>) =>
    long.figures([{ ...good, ...changes }]).filter(({ met }) => met === false).length;
  expect(missed({})).toBe(0);
  expect(missed({ samples: rising("heapMb", 0.5) })).toBe(1);
  expect(missed({ samples: rising("rssMb", 10) })).toBe(1);
  expect(missed({ samples: rising("handles", 1) })).toBe(1);
  expect(missed({ unaccounted: 1 })).toBe(1);
});
