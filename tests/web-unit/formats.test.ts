// Numbers as the page writes them.
import { afterEach, describe, expect, it } from "vitest";
import {
  degrees,
  duration,
  fixed,
  limitsText,
  localTime,
  measuredText,
  rpm,
  showVacuumIn,
  vacuum,
} from "../../web/src/formats.ts";
import { speak } from "../../web/src/words.ts";

afterEach(async () => {
  showVacuumIn("kPa");
  await speak("en");
});

describe("numbers", () => {
  it.each([
    [-0.26, 1, "−0.3"],
    [-0.04, 1, "0.0"],
    [7.25, 2, "7.25"],
  ])("%d with %d digits is %s", (value, digits, text) => {
    expect(fixed(value, digits)).toBe(text);
  });

  it("carry their unit", () => {
    expect(degrees(-2.04)).toBe("−2.0°");
    expect(rpm(1499.6)).toBe("1500 rpm");
    expect(vacuum(33_864)).toBe("33.9 kPa");
    expect(vacuum(70, 1)).toBe("0.07 kPa");
  });

  it.each([
    [-3, "0 s"],
    [59.4, "59 s"],
    [59.6, "1 min 0 s"],
    [125, "2 min 5 s"],
  ])("%d seconds are %s", (seconds, text) => {
    expect(duration(seconds)).toBe(text);
  });
});

describe("limits", () => {
  it.each([
    [{ min: 5.25, max: 7 }, "deg", "5.25 to 7°"],
    [{ min: -0.5, max: 0.5 }, "deg", "−0.5 to 0.5°"],
    [{ min: null, max: 2000 }, "Pa", "at most 2 kPa"],
    [{ min: 800, max: null }, "rpm", "at least 800 rpm"],
    [{ min: 10_159, max: 16_932 }, "Pa", "10.16 to 16.93 kPa"],
    [{ min: null, max: null }, "deg", "no limit"],
  ] as const)("%j in %s read %s", (limits, unit, text) => {
    expect(limitsText(limits, unit)).toBe(text);
  });
});

describe("what was measured", () => {
  it.each([
    [{ measured: 3.94, expandedUncertainty: 0.121, unit: "deg" }, "3.94 ± 0.13°"],
    [{ measured: 3.94, expandedUncertainty: 0.12, unit: "deg" }, "3.94 ± 0.12°"],
    [{ measured: 11_800, expandedUncertainty: 620, unit: "Pa" }, "11.80 ± 0.62 kPa"],
    [{ measured: 803.4, expandedUncertainty: null, unit: "rpm" }, "803 rpm"],
    [{ measured: null, expandedUncertainty: null, unit: "deg" }, "not measured"],
  ] as const)("%j reads %s", (row, text) => {
    expect(measuredText(row)).toBe(text);
  });
});

it("leaves a moment that cannot be read as it is", () => {
  expect(localTime("yesterday")).toBe("yesterday");
});

describe("in German", () => {
  it("have a decimal comma, and speeds in U/min", async () => {
    await speak("de");
    expect(degrees(-2.04)).toBe("−2,0°");
    expect(rpm(1499.6)).toBe("1500 U/min");
    expect(limitsText({ min: 5.25, max: 7 }, "deg")).toBe("5,25 bis 7°");
    expect(measuredText({ measured: 11_800, expandedUncertainty: 620, unit: "Pa" })).toBe(
      "11,80 ± 0,62 kPa",
    );
  });
});

describe("vacuum in the unit that was chosen", () => {
  it.each([
    ["kPa", "33.9 kPa", "10.16 to 16.93 kPa", "11.80 ± 0.62 kPa"],
    ["mbar", "339 mbar", "101.59 to 169.32 mbar", "118.0 ± 6.2 mbar"],
    ["inHg", "10.0 inHg", "3 to 5 inHg", "3.48 ± 0.19 inHg"],
    ["mmHg", "254 mmHg", "76.2 to 127 mmHg", "88.5 ± 4.7 mmHg"],
  ] as const)("%s: %s, %s, %s", (unit, live, limits, measured) => {
    showVacuumIn(unit);
    expect(vacuum(33_864)).toBe(live);
    expect(limitsText({ min: 10_159, max: 16_932 }, "Pa")).toBe(limits);
    expect(measuredText({ measured: 11_800, expandedUncertainty: 620, unit: "Pa" })).toBe(measured);
  });
});
