// Notes taken by hand: lines to readings, complaints by line.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { VACUUM_UNITS } from "../../core/units.ts";

const HEAD = "means: degree wheel\ndegrees: distributor\nrpm: distributor\n";
const notes = (lines: string) => byHandNotes(`${HEAD}${lines}`, "x.txt");

describe("lines", () => {
  it("are speeds, vacuums and a hold, rising unless they say falling", () => {
    const read = notes(
      [
        "# a remark",
        "rpm deg",
        "500 0",
        "800, 3.5   # with a remark",
        "falling",
        "800;4",
        "rising",
        "10 inHg 4",
        "20kPa, -1",
        "20 inHg held 30 s dropped 2",
      ].join("\r\n"),
    );
    expect(read.speedReadings).toEqual([
      { branch: "rising", rpm: 500, deg: 0 },
      { branch: "rising", rpm: 800, deg: 3.5 },
      { branch: "falling", rpm: 800, deg: 4 },
    ]);
    // NIST SP 811 (2008), B.8: a conventional inch of mercury is 3386.389 Pa.
    expect(read.vacuumReadings).toEqual([
      { branch: "rising", vacuumPa: 33_863.89, deg: 4 },
      { branch: "rising", vacuumPa: 20_000, deg: -1 },
    ]);
    expect(read.hold).toEqual({
      reached: true,
      vacuumPa: 67_727.78,
      seconds: 30,
      dropPa: 6772.778,
    });
  });

  it("tell a vacuum that was not reached", () => {
    expect(notes("50 kPa reached only 12").hold).toEqual({
      reached: false,
      vacuumPa: 50_000,
      gotToPa: 12_000,
    });
  });

  it("take the usual limits where nothing else is said", () => {
    expect(notes("500 0")).toMatchObject({
      means: "degree wheel",
      initialDeg: 0,
      readingLimitDeg: 1,
      speedLimitRpm: 20,
      vacuumLimitPa: 3386.389,
      capsule: 0,
      vacuumRpm: 0,
      camTurns: null,
      camSpringsBack: null,
      hold: null,
    });
  });

  it("say how it was read", () => {
    const said = notes(
      "initial: 8\nuncertainty: 0.5\nrpm uncertainty: 10\nvacuum uncertainty: 2 kPa\ncapsule: 2\nvacuum rpm: 600\ncam turns by hand: yes\ncam springs back: no\n500 0",
    );
    expect(said).toMatchObject({
      initialDeg: 8,
      readingLimitDeg: 0.5,
      speedLimitRpm: 10,
      vacuumLimitPa: 2000,
      capsule: 1,
      vacuumRpm: 600,
      camTurns: true,
      camSpringsBack: false,
    });
  });
});

describe("complaints", () => {
  it.each([
    ["", "x.txt: there is no reading in it"],
    ["500 0\n500 1", "line 5: 500 rpm comes twice, rising"],
    ["10 kPa 0\n10 kPa 1", "line 5: this vacuum comes twice, rising"],
    ["500", 'line 4: "500" is no line of notes'],
    ["500 1,5", 'line 4: "500 1,5" is no line of notes'],
    ["10 furlongs 3", "is no line of notes"],
    ["0 3", "line 4: 0 is not a speed in rpm from 1 to 20000"],
    ["-5 kPa 3", "is not a vacuum in Pa"],
    ["500 0\ncolour: red", 'line 5: there is no setting "colour"'],
    ["500 0\ninitial: 1\ninitial: 2", 'line 6: "initial" is given twice'],
    ["500 0\nuncertainty: 0", 'line 5: 0 is not "uncertainty" from 0.01 to 20'],
    ["500 0\nvacuum uncertainty: 2", 'line 5: "2" is no vacuum such as'],
    ["500 0\ncam springs back: perhaps", 'line 5: "perhaps" is neither yes nor no'],
    ["10 kPa held 5 s dropped 11", "cannot drop by more than there was"],
    ["10 kPa reached only 10", "it reached what was wanted"],
    ["10 kPa held 5 s dropped 1\n10 kPa held 5 s dropped 1", "line 5: a second hold test"],
  ])("%j", (lines, what) => {
    expect(() => notes(lines)).toThrow(what);
  });

  it("miss what must be said", () => {
    expect(() => byHandNotes("500 0", "x.txt")).toThrow(
      'a line "means: degree wheel or timing light" is missing',
    );
    expect(() => byHandNotes("means: telescope\n500 0", "x.txt")).toThrow('"telescope" is not');
    const light = HEAD.replace("degree wheel", "timing light");
    expect(() => byHandNotes(`${light}10 kPa 3`, "x.txt")).toThrow('"vacuum rpm: N" is missing');
  });
});

describe("any notes", () => {
  it("give back the figures that were typed", () => {
    const deg = fc.integer({ min: -1800, max: 1800 }).map((n) => n / 10);
    const speeds = fc.uniqueArray(fc.tuple(fc.integer({ min: 1, max: 9000 }), deg), {
      selector: ([rpm]) => rpm,
      minLength: 1,
    });
    const parted = fc.constantFrom(" ", "  ", ",", ", ", " ; ", "\t");
    fc.assert(
      fc.property(speeds, parted, (typed, mark) => {
        const lines = typed.map(([rpm, degrees]) => `${rpm}${mark}${degrees}`);
        expect(notes(lines.join("\n")).speedReadings.map(({ rpm, deg }) => [rpm, deg])).toEqual(
          typed,
        );
      }),
    );
  });

  it("are read or complained of, and nothing else", () => {
    const word = fc.constantFrom(
      "500",
      "0",
      "-3",
      ",",
      "inHg",
      "held",
      "s",
      "dropped",
      "falling",
      ":",
      "means",
      "#",
      ...VACUUM_UNITS,
    );
    const line = fc.array(word, { maxLength: 6 }).map((words) => words.join(" "));
    fc.assert(
      fc.property(fc.array(line, { maxLength: 6 }), (lines) => {
        try {
          notes(lines.join("\n"));
        } catch (error) {
          expect(String(error)).toMatch(/NOTES_INVALID: x\.txt(, line \d+)?: /);
        }
      }),
    );
  });
});
