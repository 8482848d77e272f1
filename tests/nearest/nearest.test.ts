// Which unit on file a known curve is like, what rules the others out, and what would turn it into them.
import { describe, expect, it } from "vitest";
import { conversion } from "../../core/nearest/conversion.ts";
import { formDifferences } from "../../core/nearest/form.ts";
import { furtherReading } from "../../core/nearest/further.ts";
import type { MeasuredCapsule } from "../../core/nearest/measured.ts";
import { nearest } from "../../core/nearest/nearest.ts";
import { rowsHeld } from "../../core/nearest/rows.ts";
import { conversionTexts, furtherText, standingText } from "../../core/nearest/wording.ts";
import type { Band } from "../../core/unit.ts";
import { capsuleCurve, curve, measured, onFile } from "./curves.ts";

const NO_SPRINGS = { first: null, second: null };
const RIGHT = onFile("right", "starts at 380–420, 5 at 678, max 10 by 900");
const TWIN = onFile("twin", "starts at 370–430, 5 at 680, max 10 by 920");
const SHORT = onFile("short", "starts at 380–420, 5 at 678, max 7 by 900");
const LATE = onFile("late", "starts at 560–600, 5 at 800, max 10 by 1000");
const SIX = onFile("six", "starts at 380–420, 5 at 678, max 10 by 900", { lobes: 6 });

describe("units on file", () => {
  const found = nearest(measured(curve()), [LATE, SIX, SHORT, TWIN, RIGHT]);
  const named = (name: string) => found.find(({ onFile: { unit } }) => unit.description === name);

  it("puts the right one and one like it first, and tells neither from the other", () => {
    const first = found.slice(0, 2);
    expect(first.map(({ onFile: { unit } }) => unit.description).sort()).toEqual(["right", "twin"]);
    expect(first.map(({ standing }) => standing)).toEqual(["passes", "passes"]);
    expect(first.map(({ isAlikeFirst }) => isAlikeFirst)).toEqual([true, true]);
    expect((first[0]?.share ?? 0) + (first[1]?.share ?? 0)).toBeGreaterThan(0.99);
  });

  it("names the row that rules a unit out: travel, and start", () => {
    expect(named("short")).toMatchObject({ standing: "outside", isAlikeFirst: false });
    expect(standingText(named("short") as (typeof found)[number], false, "kPa")).toContain(
      'Missed: "largest advance 7 distributor degrees (± 1 distributor degrees by the workshop) by 900 distributor rpm" (rising), read 10.0° ± 0.1°',
    );
    const missed = named("late")?.rows.filter(({ verdict }) => verdict === "outside") ?? [];
    expect(missed.map(({ printed, branch }) => `${branch} ${printed.slice(0, 14)}`)).toContain(
      "rising advance starts",
    );
  });

  it("rules a cam of other lobes out whatever its curve is", () => {
    expect(found.at(-1)?.onFile).toBe(SIX);
    expect(named("six")).toMatchObject({ standing: "other", share: null });
    expect(named("six")?.differences).toMatchObject([{ what: "lobes", text: "6 lobes, not 4" }]);
  });

  it("leaves out what has no rows, and targets of the user's own", () => {
    const bare = onFile("bare", null);
    const own = onFile("own", null, {
      speed: { lines: "10 dist at 900 dist rpm", source: "own", ownTarget: true },
    });
    expect(nearest(measured(curve()), [bare, own])).toEqual([]);
  });

  it("holds a curve of three readings against them without ruling out what it does not show", () => {
    const few = nearest(measured(curve(10, [400, 600, 700])), [RIGHT, SHORT]);
    expect(few.map(({ standing }) => standing)).toEqual(["open", "open"]);
  });
});

describe("form", () => {
  const advance: MeasuredCapsule = {
    name: "capsule",
    acts: "advance",
    rising: capsuleCurve(1),
    falling: capsuleCurve(1),
  };
  const texts = (unit: ReturnType<typeof onFile>, record = measured(curve())) =>
    formDifferences(record, unit.unit).map(({ text, rulesOut }) => `${rulesOut}: ${text}`);
  const lines = "max 10 by 900";

  it.each([
    ["direction", { rotation: "ccw" }, ["true: turns anticlockwise, not clockwise"]],
    [
      "uneven cam",
      { lobes: undefined, lobeAnglesDeg: [0, 80, 180, 260] },
      ["true: lobes at other angles"],
    ],
    ["capsule", { capsules: [{ name: "c" }] }, ["true: has a capsule, and this one has none"]],
    [
      "trigger",
      { trigger: { kind: "hall", firingEdge: "a" } },
      ["false: hall trigger, not contacts"],
    ],
    [
      "dwell",
      { dwell: { degrees: "54 to 60" } },
      ["false: dwell is 50.0°, wanted 54 to 60°: set the gap"],
    ],
    ["nothing", {}, []],
  ])("%s", (_, more, expected) => {
    expect(texts(onFile("other", lines, more))).toEqual(expected);
  });

  it("counts a cam from any of its lobes", () => {
    const uneven = measured(curve(), [], { lobes: undefined, lobeAnglesDeg: [0, 80, 180, 260] });
    const turned = onFile("turned", lines, { lobes: undefined, lobeAnglesDeg: [0, 100, 180, 280] });
    expect(texts(turned, uneven)).toEqual([]);
  });

  it("misses a capsule, and one that acts the other way", () => {
    const record = measured(curve(), [advance]);
    expect(texts(onFile("none", lines), record)).toEqual([
      "true: has no capsule, and this one has",
    ]);
    const retard = onFile("retard", lines, { capsules: [{ name: "c", acts: "retard" }] });
    expect(texts(retard, record)).toEqual(["true: has no capsule that gives advance"]);
  });
});

describe("rows between readings", () => {
  const band = (lines: string) => onFile("rows", lines).unit.speedBand as Band;
  const held = (lines: string, speeds?: readonly number[]) => {
    const rising = curve(10, speeds);
    return rowsHeld("speed", { rising, falling: [] }, band(lines))[0];
  };

  it("lie on the line over the square of speed: 4.375° at 650 rpm, read at 600 and 700", () => {
    const row = held("4.4 at 650", [200, 300, 400, 500, 600, 700, 800]);
    expect(row?.measured).toBeCloseTo(4.375, 9);
    expect(row?.verdict).toBe("within");
  });

  it("cannot be told beyond the last reading while the curve rises, save what it has passed already", () => {
    expect(held("max 10 by 900", [200, 400, 600, 700])).toMatchObject({
      measured: null,
      verdict: "unproven",
    });
    expect(held("max 4 by 900", [200, 400, 600, 700])?.verdict).toBe("outside");
    expect(held("max 10", [200, 400, 800, 900, 1000])).toMatchObject({ verdict: "within" });
    expect(held("max 6", [200, 400, 600, 700])).toMatchObject({ measured: null });
  });

  it("finds the start, or the range that has passed without it", () => {
    expect(held("starts at 380–420")?.verdict).toBe("within");
    expect(held("starts at 450–500")?.verdict).toBe("outside");
    expect(held("starts at 250–300", [200, 250, 300, 350])?.verdict).toBe("outside");
  });
});

describe("a further reading", () => {
  const long = onFile("long", "starts at 380–420, 5 at 678, max 14 by 1010");
  const short = measured(curve(10, [200, 300, 400, 450, 500, 550, 600, 650, 700, 750, 800]));

  it("is wanted where nothing was read and the two part: beyond the one's stop", () => {
    const further = furtherReading(short, RIGHT.unit, long.unit);
    // Nothing within a tenth of 800 rpm; the one stands at 10° there, the other goes on to 14°.
    expect(further?.axis).toBe("speed");
    expect(further?.x).toBeGreaterThan(880);
    expect(further?.oneDeg).toBeCloseTo(10, 6);
    expect(further?.otherDeg).toBeGreaterThan(12);
    expect(furtherText(further, "kPa")).toMatch(
      /^To tell it from the first read the advance at \d+ rpm/,
    );
  });

  it("is of no use where both would pass it: 0.6° apart, each within a degree", () => {
    const slight = onFile("slight", "starts at 380–420, 5 at 678, max 10.6 by 910");
    expect(furtherReading(short, RIGHT.unit, slight.unit)).toBeNull();
  });

  it("is none where all has been read", () => {
    const steep = onFile("steep", "starts at 380–420, 8 at 678, max 10 by 900");
    const all = Array.from({ length: 45 }, (_, i) => 100 + 20 * i);
    expect(furtherReading(measured(curve(10, all)), RIGHT.unit, steep.unit)).toBeNull();
  });

  it("is of no use between twins", () => {
    expect(furtherReading(short, RIGHT.unit, TWIN.unit)).toBeNull();
    expect(furtherText(null, "kPa")).toMatch(/^No further reading is likely/);
  });
});

describe("conversion", () => {
  it("is nothing for the unit that it is", () => {
    const same = conversion(measured(curve()), RIGHT.unit, [], NO_SPRINGS);
    expect(same.changes).toEqual([]);
    expect(conversionTexts(same, "kPa")).toEqual(["Weights: leave them as they are."]);
  });

  it("tells the travel to be taken, and a start that comes too early", () => {
    const { changes, refit } = conversion(measured(curve()), SHORT.unit, [], NO_SPRINGS);
    expect(changes).toMatchObject([{ part: "stop", unit: "deg", wanted: 7 }]);
    expect(changes[0]?.measured).toBeCloseTo(10, 1);
    expect(refit?.advice[0]?.steps[0]).toEqual({ kind: "stop", deg: -3 });
    const late = conversion(measured(curve()), LATE.unit, [], NO_SPRINGS);
    expect(late.changes).toMatchObject([
      { part: "first spring's load at rest", unit: "rpm", wanted: 580 },
    ]);
    expect(conversionTexts(late, "kPa")[0]).toContain("the first spring must pull more at rest");
  });

  it("shifts a capsule's spring, and exchanges one of another travel", () => {
    const capsule: MeasuredCapsule = {
      name: "capsule",
      acts: "retard",
      rising: capsuleCurve(-1),
      falling: capsuleCurve(-1),
    };
    const to = (lines: string) =>
      onFile("to", "max 10 by 900", {
        capsules: [
          { name: "c", acts: "retard", degrees: "distributor", vacuum: "kPa", source: "x", lines },
        ],
      }).unit;
    const record = measured(curve(), [capsule]);
    const later = conversion(record, to("starts at 14–16, 8 at 32"), [], NO_SPRINGS);
    expect(later.capsules).toMatchObject([{ action: "load" }]);
    // 10 kPa is wanted at 15.
    expect(later.capsules[0]?.shiftPa).toBeGreaterThan(3500);
    expect(later.capsules[0]?.shiftPa).toBeLessThan(6500);
    expect(later.changes).toMatchObject([{ part: "capsule's spring load", wanted: 15_000 }]);
    const longer = conversion(record, to("starts at 9–11, max 12 by 35"), [], NO_SPRINGS);
    expect(longer.capsules).toMatchObject([{ action: "exchange" }]);
    expect(longer.changes).toMatchObject([{ part: "capsule's stop", wanted: -12 }]);
  });
});
