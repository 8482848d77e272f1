// Reading figures as manuals print them.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Figure, parseFigure } from "../../core/units.ts";

describe("parseFigure", () => {
  it.each<[string, Figure]>([
    ["7", { kind: "single", value: 7 }],
    ["0.5", { kind: "single", value: 0.5 }],
    ["5¼", { kind: "single", value: 5.25 }],
    ["5 ¼", { kind: "single", value: 5.25 }],
    ["5 1/4", { kind: "single", value: 5.25 }],
    ["5-1/4", { kind: "single", value: 5.25 }],
    ["5-¼", { kind: "single", value: 5.25 }],
    ["1⁄2", { kind: "single", value: 0.5 }],
    ["7/8°", { kind: "single", value: 0.875 }],
    ["5¼ to 7", { kind: "range", from: 5.25, to: 7 }],
    ["5¼–7", { kind: "range", from: 5.25, to: 7 }],
    ["5¼°–7°", { kind: "range", from: 5.25, to: 7 }],
    ["5-7", { kind: "range", from: 5, to: 7 }],
    ["5 - 7½", { kind: "range", from: 5, to: 7.5 }],
    ["5-1/4-7-1/2", { kind: "range", from: 5.25, to: 7.5 }],
    ["1/4-1/2", { kind: "range", from: 0.25, to: 0.5 }],
    ["0-1/4", { kind: "range", from: 0, to: 0.25 }],
    ["7 to 5", { kind: "range", from: 7, to: 5 }],
    ["51 ± 4", { kind: "plusMinus", value: 51, tolerance: 4 }],
    ["51±½", { kind: "plusMinus", value: 51, tolerance: 0.5 }],
    ["51 +/- 4", { kind: "plusMinus", value: 51, tolerance: 4 }],
  ])("reads %s", (text, figure) => {
    expect(parseFigure(text)).toEqual(figure);
  });

  it.each([
    "",
    " ",
    "five",
    "5,25",
    "-5",
    "−5",
    "5 to",
    "5 to 7 to 9",
    "5 to 7 ± 1",
    "15/2",
    "1/0",
    "0/4",
    "5.",
    ".5",
    "1e3",
    "NaN",
    "Infinity",
    "3-5-7",
    "5 7",
    "9".repeat(41),
  ])("refuses %j", (text) => {
    expect(parseFigure(text)).toBeNull();
  });

  const VULGAR = ["", "¼", "½", "¾", "⅛", "⅜", "⅝", "⅞"] as const;
  const EIGHTHS = [0, 2, 4, 6, 1, 3, 5, 7] as const;
  /** Figures from 1 in eighths, with one of the ways to print them. */
  const printed = fc
    .record({
      whole: fc.integer({ min: 1, max: 9999 }),
      part: fc.nat(7),
      form: fc.constantFrom("vulgar", "blank", "hyphen", "decimal"),
    })
    .map(({ whole, part, form }) => {
      const eighths = EIGHTHS[part] as number;
      const value = whole + eighths / 8;
      if (eighths === 0) return { value, text: String(whole) };
      if (form === "vulgar") return { value, text: `${whole}${VULGAR[part]}` };
      if (form === "decimal") return { value, text: String(value) };
      return { value, text: `${whole}${form === "blank" ? " " : "-"}${eighths}/8` };
    });

  it("reads back whatever way a figure was printed", () => {
    fc.assert(
      fc.property(printed, ({ text, value }) => {
        expect(parseFigure(text)).toEqual({ kind: "single", value });
      }),
    );
  });

  it("reads back ranges and tolerances of such figures", () => {
    fc.assert(
      fc.property(
        printed,
        printed,
        fc.constantFrom(" to ", "–", " – ", "-", " - ", "±", " ± "),
        (a, b, mark) => {
          // "5-3/8" is 5⅜ by rule; a tight hyphen before a bare fraction cannot occur here (whole ≥ 1).
          const figure = parseFigure(`${a.text}${mark}${b.text}`);
          expect(figure).toEqual(
            mark.includes("±")
              ? { kind: "plusMinus", value: a.value, tolerance: b.value }
              : { kind: "range", from: a.value, to: b.value },
          );
        },
      ),
    );
  });

  it("never throws, whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        const figure = parseFigure(text);
        expect(figure === null || ["single", "range", "plusMinus"].includes(figure.kind)).toBe(
          true,
        );
      }),
    );
  });
});
