// Rows typed as a manual prints them: what a line becomes, and what is asked where its scale is in doubt.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import type { Band } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const PLAIN = { description: "plain", lobes: 4, rotation: "cw" };
const DISTRIBUTOR = { degrees: "distributor", rpm: "distributor" };

function speed(block: object): Band {
  return unitFromFile({ ...PLAIN, speed: { source: "none", ...block } }, "x").speedBand as Band;
}

function capsule(block: object): Band {
  const capsules = [{ name: "c", source: "none", ...block }];
  return unitFromFile({ ...PLAIN, capsules }, "x").capsules[0]?.band as Band;
}

describe("a line", () => {
  it.each([
    ["14 at 2300", "at", 2300, 13, 15],
    ["14° at 2300 rpm", "at", 2300, 13, 15],
    ["14 degrees advance @ 2300", "at", 2300, 13, 15],
    ["14/2300", "at", 2300, 13, 15],
    ["2300 rpm 14", "at", 2300, 13, 15],
    ["2300 rpm → 14°", "at", 2300, 13, 15],
    ["5¼–7 at 1600", "at", 1600, 5.25, 7],
    ["10 ± ½ at 1600", "at", 1600, 9.5, 10.5],
    ["no advance below 400", "noneBelow", 400, null, 1],
    ["0 below 400", "noneBelow", 400, null, 1],
    ["under 400: 0", "noneBelow", 400, null, 1],
    ["starts at 400", "noneBelow", 400, null, 1],
    ["max 14 by 2300", "end", 2300, 13, 15],
    ["14 maximum at 2300", "end", 2300, 13, 15],
    ["full advance 13-15", "end", null, 13, 15],
  ])("%s", (lines, kind, x, min, max) => {
    expect(speed({ ...DISTRIBUTOR, lines }).rows).toMatchObject([
      { kind, x, limitsDeg: { min, max } },
    ]);
  });

  it("tells a start in a range", () => {
    expect(speed({ ...DISTRIBUTOR, lines: "advance begins between 350 and 450" }).rows).toEqual([
      {
        kind: "start",
        printed: "advance starts at 350 to 450 distributor rpm",
        fromX: 350,
        toX: 450,
      },
    ]);
  });

  it("takes its scales from its own words, and says them on the sheet", () => {
    expect(speed({ lines: "crank 10–14 at 2000 engine" }).rows).toEqual([
      {
        kind: "at",
        printed: "10–14 crankshaft degrees at 2000 crankshaft rpm",
        x: 1000,
        limitsDeg: { min: 5, max: 7 },
      },
    ]);
  });

  it("is the same in two units of vacuum, checked against each other", () => {
    // Datsun 210 (1979) service manual p. EE-32: 250 mmHg (9.84 inHg). NIST SP 811: 133.3224 Pa a millimetre.
    const band = capsule({ lines: "9 distributor at 250 mmHg (9.84 in. Hg)" });
    expect(band.rows).toMatchObject([{ x: 33330.6, limitsDeg: { min: 8, max: 10 } }]);
    expect(() => capsule({ lines: "9 distributor at 250 mmHg (9.48 in. Hg)" })).toThrow(
      "the two vacuums are not the same",
    );
  });

  it("before top dead centre is of the crankshaft and includes the initial timing", () => {
    // Rootes WSM.143/144 p. 72, worked example: static 6°, 3200 engine rpm, 18°: 6 at the distributor.
    const lines = "18 before top dead centre at 3200 engine rpm";
    expect(speed({ includesInitialDeg: 6, lines }).rows).toMatchObject([
      { x: 1600, limitsDeg: { min: 5, max: 7 } },
    ]);
    expect(() => speed({ lines })).toThrow("How much is it?");
  });
});

describe("a list", () => {
  it.each([
    ["commas", "0 at 550, 14 at 2300"],
    ["lines", ["0 at 550", "14 at 2300"]],
    ["a pasted text", "0 at 550\r\n14 at 2300\n"],
  ])("is parted by %s", (_, lines) => {
    expect(speed({ ...DISTRIBUTOR, lines }).rows).toMatchObject([
      { x: 550, limitsDeg: { min: -1, max: 1 } },
      { x: 2300, limitsDeg: { min: 13, max: 15 } },
    ]);
  });
});

describe("a scale in doubt is asked for", () => {
  it.each([
    [
      { lines: "14 at 2300" },
      "are its degrees the distributor's or the crankshaft's? Say so in the line, \"14 crank at …\", or in `degrees`",
    ],
    [
      { lines: "14 crank at 2300" },
      "is its speed the distributor's or the engine's? Say so in the line, \"… at 2000 engine rpm\", or in `rpm`",
    ],
    [
      { ...DISTRIBUTOR, lines: "14 crank at 2300" },
      "the line says crankshaft, `degrees` says distributor. Which is right? Change one, or take `degrees` out",
    ],
    [
      { ...DISTRIBUTOR, lines: "9 at 250 mmHg" },
      "this is a vacuum. Put it into the capsule's lines",
    ],
  ])("speed %j", (block, question) => {
    const line = JSON.stringify(block.lines);
    expect(() => speed(block)).toThrow(`FILE_INVALID: x, speed.lines.${line}: ${question}.`);
  });

  it.each([
    [
      { degrees: "distributor", lines: "9 at 250" },
      'which unit is its vacuum in? Say so in the line, "… at 250 mmHg", or in `vacuum`',
    ],
    [
      { degrees: "distributor", lines: "9 at 2300 rpm" },
      "this is a speed. Put it into the lines of `speed`",
    ],
  ])("vacuum %j", (block, question) => {
    const line = JSON.stringify(block.lines);
    expect(() => capsule(block)).toThrow(
      `FILE_INVALID: x, capsules[0].lines.${line}: ${question}.`,
    );
  });

  it("and so is the way the spark goes", () => {
    const lines = "4 retard at 10";
    const scales = { degrees: "distributor", vacuum: "inHg" };
    expect(() => capsule({ ...scales, lines })).toThrow("the line says retard");
    expect(capsule({ ...scales, acts: "retard", lines }).rows).toMatchObject([
      { limitsDeg: { min: -5, max: -3 } },
    ]);
    expect(() => capsule({ ...scales, acts: "retard", lines: "4 advance at 10" })).toThrow(
      "the line says advance",
    );
  });

  it("also where a comma could part decimals or thousands", () => {
    expect(() => speed({ ...DISTRIBUTOR, lines: "14 at 2,300" })).toThrow("a comma between digits");
  });
});

describe("any text", () => {
  it("is read or refused with its place, never anything else", () => {
    const word = fc.constantFrom(
      ..."0 5¼ 7 14 550 2300 – to at by below max full advance no none starts crank engine rpm deg ° / , ; ( ) mmHg inHg ± btdc".split(
        " ",
      ),
    );
    const texts = fc.oneof(
      fc.array(word, { minLength: 1, maxLength: 9 }).map((all) => all.join(" ")),
      fc.string({ minLength: 1 }),
    );
    fc.assert(
      fc.property(texts, (lines) => {
        try {
          expect(speed({ ...DISTRIBUTOR, lines }).rows.length).toBeGreaterThan(0);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(BobweightError);
          expect((thrown as BobweightError).code).toBe("FILE_INVALID");
        }
      }),
      { numRuns: 2000 },
    );
  });

  it("with both scales named is never read on another", () => {
    const shaft = fc.constantFrom("distributor", "crankshaft");
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 30 }),
        fc.integer({ min: 400, max: 5000 }),
        shaft,
        shaft,
        (deg, rpm, degrees, speeds) => {
          const lines = `${deg} ${degrees} degrees at ${rpm} ${speeds} rpm`;
          const middle = degrees === "crankshaft" ? deg / 2 : deg;
          expect(speed({ lines }).rows).toMatchObject([
            {
              x: speeds === "crankshaft" ? rpm / 2 : rpm,
              limitsDeg: { min: middle - 1, max: middle + 1 },
            },
          ]);
        },
      ),
    );
  });
});
