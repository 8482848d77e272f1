// The form for readings taken by hand: what it sends, and what it asks for first.
import { describe, expect, it } from "vitest";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { firstHandChoices, handHindrance, handNotes } from "../../web/src/handNotes.ts";

const CHOSEN = {
  ...firstHandChoices,
  means: "timing light",
  degrees: "crankshaft",
  rpm: "crankshaft",
  readings: "500 0\n1000 9",
} as const;

describe("handNotes", () => {
  it("are the readings as typed, then what was chosen, and read by the program", () => {
    const text = handNotes({ ...CHOSEN, initial: "8", camTurns: "yes" });
    expect(text).toBe(
      "500 0\n1000 9\nmeans: timing light\ndegrees: crankshaft\nrpm: crankshaft\nuncertainty: 1\ninitial: 8\ncam turns by hand: yes",
    );
    expect(byHandNotes(text, "Readings")).toMatchObject({
      readingLimitDeg: 1,
      initialDeg: 8,
      camTurns: true,
      camSpringsBack: null,
      speedReadings: [
        { branch: "rising", rpm: 500, deg: 0 },
        { branch: "rising", rpm: 1000, deg: 9 },
      ],
    });
  });

  it("leave unknown what is not said", () => {
    expect(handNotes({ ...firstHandChoices, uncertainty: " ", readings: "500 0" })).toBe("500 0");
  });

  it("say nothing twice that pasted notes say themselves", () => {
    const readings = "rpm: distributor\nuncertainty : 2\n500 0";
    expect(handNotes({ ...CHOSEN, readings })).toBe(
      `${readings}\nmeans: timing light\ndegrees: crankshaft`,
    );
  });

  it("keep the lines' numbers for complaints", () => {
    expect(() =>
      byHandNotes(handNotes({ ...CHOSEN, readings: "500 0\n1000 x" }), "Readings"),
    ).toThrow("Readings, line 2");
  });
});

describe("handHindrance", () => {
  it.each([
    [{ ...CHOSEN }, "", "unit"],
    [{ ...CHOSEN, readings: " \n" }, "everyday", "readings"],
    [{ ...CHOSEN, means: "" }, "everyday", "means"],
    [{ ...CHOSEN, degrees: "" }, "everyday", "degrees"],
    [{ ...CHOSEN, rpm: "" }, "everyday", "rpm"],
    [{ ...CHOSEN, rpm: "", readings: "rpm: crankshaft\n500 0" }, "everyday", null],
    [{ ...CHOSEN, uncertainty: "", initial: "", camTurns: "" }, "everyday", null],
  ] as const)("asks for one thing at a time %#", (chosen, unitId, expected) => {
    expect(handHindrance(chosen, unitId)).toBe(expected);
  });
});
