// Which line is newer than those before, at the edges of half a counter (clauses 2.1 and 2.2).
import { expect, it } from "vitest";
import { LineOrder } from "../../core/lineOrder.ts";

const HALF = 2_147_483_648;

it.each<[string, { sequence: number; tick: number }, boolean]>([
  ["the next one", { sequence: 11, tick: 101 }, true],
  ["the next one at the same tick", { sequence: 11, tick: 100 }, true],
  ["the same one again", { sequence: 10, tick: 100 }, false],
  ["the same one at a later tick", { sequence: 10, tick: 200 }, false],
  ["the one before", { sequence: 9, tick: 200 }, false],
  ["one almost half a counter on", { sequence: 10 + HALF - 1, tick: 200 }, true],
  ["one half a counter on", { sequence: 10 + HALF, tick: 200 }, false],
  ["the next one, a tick earlier", { sequence: 11, tick: 99 }, false],
  ["the next one, almost half a counter of ticks on", { sequence: 11, tick: 99 + HALF }, true],
  ["the next one, half a counter of ticks on", { sequence: 11, tick: 100 + HALF }, false],
])("%s", (_, line, isNewer) => {
  const order = new LineOrder();
  expect(order.take({ sequence: 10, tick: 100 })).toBe(true);
  expect(order.take(line)).toBe(isNewer);
  expect(order.setAside).toBe(isNewer ? 0 : 1);
  // What was kept out is forgotten, what was taken is not.
  expect(order.take(line)).toBe(false);
  expect(order.setAside).toBe(isNewer ? 1 : 2);
});
