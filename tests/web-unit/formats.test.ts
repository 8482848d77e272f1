// Numbers as the page writes them.
import { describe, expect, it } from "vitest";
import {
  degrees,
  duration,
  fixed,
  kilopascals,
  limitsText,
  localTime,
  measuredText,
  rpm,
} from "../../web/src/formats.ts";

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
    expect(kilopascals(33_864)).toBe("33.9 kPa");
    expect(kilopascals(70, 2)).toBe("0.07 kPa");
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
