// A typed spring joins the drawer, or is told what it lacks; rows in figures of either shaft.
import { describe, expect, it } from "vitest";
import { drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { rowText } from "../../web/src/bandText.ts";
import { EMPTY_SPRING, withoutSpring, withSpring } from "../../web/src/springForm.ts";
import { codeOf } from "../store/codes.ts";

const light = {
  ...EMPTY_SPRING,
  name: "light",
  free_length_mm: "19,5",
  rate_n_per_m: "900",
  rate_uncertainty_n_per_m: "30",
};

describe("a typed spring", () => {
  it("is added to the drawer, a decimal comma or not, and taken out again", () => {
    const one = drawerFromCsv(withSpring([], light, "The spring"), "the drawer");
    const two = drawerFromCsv(withSpring(one, { ...light, name: "=b" }, "The spring"), "x");
    expect(two.map(({ name, freeLengthM }) => [name, freeLengthM])).toEqual([
      ["light", 0.0195],
      ["=b", 0.0195],
    ]);
    expect(drawerFromCsv(withoutSpring(two, "light"), "x").map(({ name }) => name)).toEqual(["=b"]);
  });

  it("is refused where its name is there already, or nothing tells its rate", () => {
    const drawer = drawerFromCsv(withSpring([], light, "The spring"), "the drawer");
    expect(codeOf(() => withSpring(drawer, light, "The spring"))).toBe("TABLE_INVALID");
    expect(() => withSpring([], { ...light, rate_n_per_m: "" }, "The spring")).toThrow(
      "The spring, line 2, column rate_n_per_m",
    );
  });
});

describe("a printed row", () => {
  const limitsDeg = { min: 7, max: 9 };
  const speed = (ratio: number) => ({ kind: "speed", ratio, vacuumUnit: "kPa" }) as const;

  it("is read at either shaft", () => {
    const row = { kind: "at", printed: "", x: 700, limitsDeg } as const;
    expect(rowText(row, speed(1))).toBe("7 to 9° at 700 rpm");
    expect(rowText(row, speed(2))).toBe("14 to 18° at 1400 rpm");
  });

  it("keeps its vacuum whatever the shaft, in the unit that is asked for", () => {
    const row = { kind: "end", printed: "", x: 33_863.89, limitsDeg } as const;
    expect(rowText(row, { kind: "vacuum", ratio: 2, vacuumUnit: "inHg" })).toBe(
      "14 to 18° from 10.0 inHg on, and no farther",
    );
  });
});
