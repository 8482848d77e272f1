// A turn's own rows among the events of many turns.
import { describe, expect, it } from "vitest";
import { FiringEvents, UNKNOWN } from "../../core/angles/firingEvents.ts";
import { TrackedTurn, untracked } from "../../core/angles/trackedTurn.ts";
import { evenTurn } from "./literals.ts";

function eventsWith(advancesDeg: readonly number[]): FiringEvents {
  const events = new FiringEvents([]);
  for (const _ of advancesDeg) events.push(0, UNKNOWN, 0);
  events.advancesDeg.set(advancesDeg);
  return events;
}

describe("the advance of a turn", () => {
  const events = eventsWith([100, 4, 6, 11, 1000]);

  it("is the mean of its own events: (4 + 6 + 11) / 3 = 7", () => {
    expect(new TrackedTurn(evenTurn(0), events, 1, 4, 0, 0).advanceDeg).toBe(7);
  });

  it("is that of a single event, also of the first there is", () => {
    expect(new TrackedTurn(evenTurn(0), events, 0, 1, 0, 0).advanceDeg).toBe(100);
    expect(new TrackedTurn(evenTurn(0), events, 3, 4, 0, 0).advanceDeg).toBe(11);
  });

  it("is not known without events", () => {
    expect(new TrackedTurn(evenTurn(0), events, 2, 2, 0, 0).advanceDeg).toBeNull();
  });
});

describe("a turn that is not tracked", () => {
  it("has its times, no events, and nothing set aside", () => {
    const turn = evenTurn(7);
    const { advanceDeg, from, to, noise, bounces, events, ...rest } = untracked(turn);
    expect({ advanceDeg, from, to, noise, bounces }).toEqual({
      advanceDeg: null,
      from: 0,
      to: 0,
      noise: 0,
      bounces: 0,
    });
    expect(rest.turn).toBe(turn);
    expect(events.count).toBe(0);
    expect(events.turns).toEqual([]);
  });
});
