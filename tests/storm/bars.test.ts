// The bars' own checks: each is met by good figures and can be missed.
import { describe, expect, it } from "vitest";
import type { Draw } from "../../accuracy/draw.ts";
import { BobweightError } from "../../core/errors.ts";
import { advisories, advisoriesIn } from "../../storm/bars/advisories.ts";
import { diskFull } from "../../storm/bars/diskFull.ts";
import { doors } from "../../storm/bars/doors.ts";
import { hostile, tried } from "../../storm/bars/hostile.ts";
import { kills } from "../../storm/bars/kills.ts";
import { motion } from "../../storm/bars/motion.ts";
import { powerCuts } from "../../storm/bars/powerCuts.ts";
import { stops } from "../../storm/bars/stops.ts";
import { faultOf } from "../../storm/hostile/doors.ts";

const judged = (figures: readonly { met: boolean | null }[]) =>
  figures.map(({ met }) => met).filter((met) => met !== null);

describe("advisories", () => {
  const audit = (high: number, critical: number) =>
    JSON.stringify({
      metadata: {
        vulnerabilities: { info: 0, low: 3, moderate: 2, high, critical, total: 5 },
        dependencies: { prod: 90, dev: 200, total: 290 },
      },
    });

  it("critical ones count as high, moderate ones are told", () => {
    expect(advisoriesIn(audit(1, 2))).toEqual({ packages: 290, moderate: 2, high: 3 });
    expect(judged(advisories.figures([advisoriesIn(audit(0, 0))]))).toEqual([true]);
    expect(judged(advisories.figures([advisoriesIn(audit(0, 1))]))).toEqual([false]);
  });

  it("a registry that does not answer is neither met nor missed", () => {
    expect(advisoriesIn('{"message":"405 Method Not Allowed"}')).toBeNull();
    expect(advisoriesIn("")).toBeNull();
    expect(judged(advisories.figures([null]))).toEqual([]);
  });
});

describe("losses", () => {
  const whole = { acknowledged: 10, lost: [], damage: null };

  it("of what was acknowledged, and damage, miss the bar; nothing measured misses too", () => {
    expect(judged(kills.figures([whole]))).toEqual([true, true]);
    expect(judged(kills.figures([whole, { ...whole, lost: ["one"] }]))).toEqual([false, true]);
    expect(judged(kills.figures([{ ...whole, damage: "torn" }]))).toEqual([true, false]);
    expect(judged(kills.figures([]))).toEqual([false, false]);
  });

  it("at a power cut likewise; where it cannot be measured, it is said so and not judged", () => {
    const cuts = { lacks: null, cuts: 5, lost: [], damaged: [] };
    expect(judged(powerCuts.figures([cuts]))).toEqual([true, true]);
    expect(judged(powerCuts.figures([{ ...cuts, lost: ["one"] }]))).toEqual([false, true]);
    expect(judged(powerCuts.figures([{ ...cuts, damaged: ["one"] }]))).toEqual([true, false]);
    expect(judged(powerCuts.figures([{ ...cuts, lacks: "a compiler" }]))).toEqual([]);
  });
});

describe("a full disk", () => {
  it("misses by what is lost or not ended; what cannot be measured is said and not judged", () => {
    const fine = { lacks: null, acknowledged: 3, faults: [] };
    expect(judged(diskFull.figures([fine]))).toEqual([true]);
    expect(judged(diskFull.figures([fine, { ...fine, faults: ["one"] }]))).toEqual([false]);
    expect(judged(diskFull.figures([{ ...fine, lacks: "prlimit" }]))).toEqual([]);
    expect(judged(diskFull.figures([]))).toEqual([false]);
  });
});

describe("hostile input", () => {
  it("that crashes misses the bar", () => {
    const fine = { inputs: 10, refused: 5, crashes: [] };
    expect(judged(hostile.figures([fine]))).toEqual([true]);
    expect(judged(hostile.figures([fine, { ...fine, crashes: ["one"] }]))).toEqual([false]);
  });

  it("is refused by an error of ours alone, and not by a mistake of ours", async () => {
    const outcome = (error: Error | null) =>
      tried(
        {
          read() {
            if (error !== null) throw error;
          },
        },
        {} as Draw,
      );
    expect(await outcome(null)).toBe("read");
    expect(await outcome(new BobweightError("USAGE", "Wrong."))).toBe("refused");
    expect(await outcome(new BobweightError("USAGE", ""))).toContain("USAGE");
    expect(await outcome(new BobweightError("BUG", "Ours."))).toContain("BUG");
    expect(await outcome(new TypeError("no function"))).toContain("TypeError");
  });
});

describe("hostile requests", () => {
  it("miss the bar by an answer without words, by a move and by a server that died", () => {
    const fine = { inputs: 10, refused: 5, faults: [], moves: [], lives: true };
    expect(judged(doors.figures([fine]))).toEqual([true, true, true]);
    expect(judged(doors.figures([{ ...fine, faults: ["one"] }]))).toEqual([false, true, true]);
    expect(judged(doors.figures([{ ...fine, moves: ["arm"] }]))).toEqual([true, false, true]);
    expect(judged(doors.figures([{ ...fine, lives: false }]))).toEqual([true, true, false]);
    expect(judged(doors.figures([]))).toEqual([false, false, false]);
  });

  it.each([
    [200, "anything", null],
    [303, "", null],
    [400, '{"code":"USAGE","text":"It is wrong. Put it right."}', null],
    [400, '{"code":"USAGE","text":"It is wrong."}', "without code and remedy"],
    [404, '{"text":"It is wrong. Put it right."}', "without code and remedy"],
    [400, '{"code":"BUG","text":"It is wrong. Put it right."}', "without code and remedy"],
    [400, "<html>", "without code and remedy"],
    [500, '{"code":"USAGE","text":"It is wrong. Put it right."}', "status 500"],
  ])("answered with %i %s are told well or not", (status, body, fault) => {
    const found = faultOf({ status, body });
    if (fault === null) expect(found).toBeNull();
    else expect(found).toContain(fault);
  });
});

describe("stop and start", () => {
  it("a late stop, and motion unasked, miss; motion that never came proves nothing", () => {
    const took = (ms: number, cause = "SIGINT") => ({ cause, ms });
    const gone = took(402, "SIGKILL");
    expect(judged(stops.figures([took(1), took(49), gone]))).toEqual([true, true]);
    expect(judged(stops.figures([took(1), took(51), gone]))).toEqual([false, true]);
    expect(judged(stops.figures([took(1), gone, took(501, "uncaught exception")]))).toEqual([
      true,
      false,
    ]);
    // A stop that was never pressed, or a rest that never came, is none in time.
    expect(judged(stops.figures([took(Number.NaN), took(Number.NaN, "SIGKILL")]))).toEqual([
      false,
      false,
    ]);
    expect(judged(stops.figures([]))).toEqual([false, false]);
    const still = { attempts: 3, unasked: [], moved: true };
    expect(judged(motion.figures([still]))).toEqual([true]);
    expect(judged(motion.figures([{ ...still, unasked: ["a replay"] }]))).toEqual([false]);
    expect(judged(motion.figures([{ ...still, moved: false }]))).toEqual([false]);
  });
});
