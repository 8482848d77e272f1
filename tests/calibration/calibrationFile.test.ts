// The checks of a rig in its file: their form, and that none is ever lost.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CHECK_KINDS } from "../../core/calibration/calibration.ts";
import { calibrationFromBlock, withCheck } from "../../core/calibration/calibrationFile.ts";
import { rigFromFile } from "../../server/rigFile.ts";
import { fullCalibration } from "../sheet/fixture.ts";
import { codeOf } from "./codes.ts";

const RIG = { kind: "stand-in", name: "Invented rig", ambientPa: 100_000 };

describe("a rig file", () => {
  it("without checks is of a rig never checked", () => {
    expect(calibrationFromBlock(rigFromFile(RIG, "rig").calibration)).toBeNull();
    expect(calibrationFromBlock(rigFromFile({ ...RIG, calibration: {} }, "rig").calibration)).toBe(
      null,
    );
  });

  it("gives each check back, and null for those never made", () => {
    const { delay } = fullCalibration;
    const file = rigFromFile({ ...RIG, calibration: { delay } }, "rig");
    expect(calibrationFromBlock(file.calibration)).toEqual({
      delay,
      pickup: null,
      coupling: null,
      vacuum: null,
    });
  });

  it.each([
    ["checkedUtc", "last Tuesday"],
    ["standardUncertaintyUs", -1],
    ["degreesOfFreedom", 0],
    ["delayUs", "20"],
    ["delayNs", 20],
  ])("with %s of %s is refused by name", (field, value) => {
    const delay = { ...fullCalibration.delay, [field]: value };
    const { code, message } = codeOf(() =>
      rigFromFile({ ...RIG, calibration: { delay } }, "my rig"),
    );
    expect(code).toBe("FILE_INVALID");
    expect(message).toContain(`my rig, calibration.delay.${field}`);
  });
});

describe("a new check", () => {
  const kinds = fc.array(fc.constantFrom(...CHECK_KINDS), { maxLength: 30 });

  it("takes the place of the last of its kind, and no check and no field is ever lost", () => {
    fc.assert(
      fc.property(kinds, (made) => {
        let content: Record<string, unknown> = RIG;
        made.forEach((kind, i) => {
          const found = { ...fullCalibration[kind], checkedUtc: day(i) };
          content = withCheck(content, kind, found as never);
        });
        const file = rigFromFile(content, "rig");
        expect(content).toMatchObject(RIG);
        const last = Object.values(file.calibration ?? {}).map((one) => one?.checkedUtc);
        const earlier = (file.earlierCalibrations ?? []).map((one) => one.checkedUtc);
        expect([...last, ...earlier].sort()).toEqual(made.map((_, i) => day(i)));
        for (const kind of new Set(made)) {
          expect(file.calibration?.[kind]?.checkedUtc).toBe(day(made.lastIndexOf(kind)));
        }
      }),
    );
  });
});

function day(i: number): string {
  return `2031-01-${String(i + 1).padStart(2, "0")}T08:00:00.000Z`;
}
