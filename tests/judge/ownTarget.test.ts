// A target of the user's own: what typed rows become, what is asked, and that it is said on every output.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hasOwnTarget, OWN_TARGET_WARNING, withOwnTarget } from "../../core/ownTarget.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { inventedUnit, runDocuments } from "../sheet/fixture.ts";

const FILE = {
  description: "unit",
  lobes: 4,
  rotation: "cw",
  springs: 2,
  speed: { lines: "9 dist at 900 dist rpm", source: "manual" },
};
const NOTHING_SAID = { degrees: null, rpm: null, toleranceDeg: null, initialDeg: null };

function unitFor(rows: readonly string[], said: object): Unit {
  return unitFromFile(withOwnTarget(FILE, { ...NOTHING_SAID, rows, ...said }), "the target");
}

describe("a target of the user's own", () => {
  it("takes the place of the specification over speed, and leaves all else", () => {
    const said = { degrees: "crankshaft", rpm: "crankshaft", toleranceDeg: 1 };
    const unit = unitFor(["0 at 1100", "28 at 4600"], said);
    expect(unit.speedBand).toMatchObject({
      isOwnTarget: true,
      source: "The user's own target, typed as rows",
      rows: [
        { kind: "at", x: 550, limitsDeg: { min: -0.5, max: 0.5 } },
        { kind: "at", x: 2300, limitsDeg: { min: 13.5, max: 14.5 } },
      ],
    });
    expect(unit.springs).toBe(2);
    expect(hasOwnTarget(unit)).toBe(true);
    expect(hasOwnTarget(unitFromFile(FILE, "x"))).toBe(false);
  });

  it.each([
    [{}, /are its degrees the distributor's or the crankshaft's\?/],
    [{ rpm: "crankshaft" }, /are its degrees the distributor's or the crankshaft's\?/],
    [{ degrees: "crankshaft" }, /is its speed the distributor's or the engine's\?/],
  ])("asks for what %j leaves in doubt", (said, question) => {
    expect(() => unitFor(["14 at 2300"], said)).toThrow(question);
  });

  it("asks which is right where row and option differ", () => {
    const said = { degrees: "distributor", rpm: "distributor" };
    expect(() => unitFor(["14 crank at 2300"], said)).toThrow(/Which is right\?/);
  });

  it("asks for the initial timing that degrees before top dead centre include", () => {
    const said = { degrees: "crankshaft", rpm: "crankshaft" };
    expect(() => unitFor(["30 btdc at 4000"], said)).toThrow(/How much is it\?/);
    const [row] = unitFor(["30 btdc at 4000"], { ...said, initialDeg: 10 }).speedBand?.rows ?? [];
    // (30 − 10) / 2, ± 1 by the workshop.
    expect(row).toMatchObject({ x: 2000, limitsDeg: { min: 9, max: 11 } });
  });

  it("reads any rising rows of whole figures at their places, on the scale said", () => {
    const places = fc.uniqueArray(fc.integer({ min: 200, max: 4000 }), {
      minLength: 1,
      maxLength: 8,
    });
    const scale = fc.constantFrom("distributor" as const, "crankshaft" as const);
    const degrees = fc.array(fc.integer({ min: 0, max: 50 }), { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(places, degrees, scale, scale, (xs, degs, ofDegrees, ofRpm) => {
        const rising = xs.toSorted((a, b) => a - b);
        const rows = rising.map((x, i) => `${degs[i]} at ${x}`);
        const unit = unitFor(rows, { degrees: ofDegrees, rpm: ofRpm, toleranceDeg: 2 });
        const [byDeg, byRpm] = [ofDegrees, ofRpm].map((one) => (one === "crankshaft" ? 2 : 1));
        expect(unit.speedBand?.rows).toMatchObject(
          rising.map((x, i) => ({
            kind: "at",
            x: x / (byRpm as number),
            limitsDeg: {
              min: (degs[i] as number) / (byDeg as number) - 2 / (byDeg as number),
              max: (degs[i] as number) / (byDeg as number) + 2 / (byDeg as number),
            },
          })),
        );
        expect(unit.speedBand?.isOwnTarget).toBe(true);
        expect(() => unitFor(rows, { toleranceDeg: 2 })).toThrow(/Say so in the line/);
      }),
    );
  });
});

describe("a sheet of a unit measured to it", () => {
  const { speedBand } = inventedUnit;
  const own = speedBand === null ? null : { ...speedBand, isOwnTarget: true as const };
  const documents = (unit: Unit) =>
    runDocuments.map((one) => (one.type === "start" ? { ...one, unit } : one));
  const sheet = (unit: Unit) => buildSheet(documents(unit), { paper: "a4", vacuumUnit: "kPa" });

  it("carries the warning, and its verdict and foot say whose target it is", () => {
    const { blocks, foot } = sheet({ ...inventedUnit, speedBand: own });
    expect(blocks).toContainEqual({
      kind: "banner",
      text: "THE USER'S OWN TARGET — no maker's specification",
      detail: OWN_TARGET_WARNING,
    });
    expect(OWN_TARGET_WARNING).toMatch(/destroy an engine.*engine builder has the last word/);
    expect(foot).toContain("OWN TARGET.");
    const labels = blocks.flatMap((one) => (one.kind === "facts" ? one.facts : []));
    expect(labels.map(({ label }) => label)).toContain("Speed, the user's own target");
  });

  it("has nothing of it for a specification", () => {
    const { blocks, foot } = sheet(inventedUnit);
    expect(JSON.stringify(blocks)).not.toMatch(/own target/i);
    expect(foot).not.toContain("OWN TARGET");
  });

  it.each(["within", "outside"] as const)(
    "%s is so of the target, not of the specification",
    (verdict) => {
      const unit = { ...inventedUnit, speedBand: own };
      const judged = documents(unit).map((one) =>
        one.type === "end" ? { ...one, result: { ...one.result, verdict } } : one,
      );
      const { blocks } = buildSheet(judged, { paper: "a4", vacuumUnit: "kPa" });
      const [block] = blocks.filter(({ kind }) => kind === "verdict");
      const words = verdict === "within" ? "Within" : "Outside";
      expect(block).toMatchObject({ text: `${words} the user's own target` });
    },
  );
});
