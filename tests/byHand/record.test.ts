// Records made by hand: judged as a run's, with what reading by eye is good for.
import { describe, expect, it } from "vitest";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { type ByHandRecord, byHandRecord } from "../../core/byHand/record.ts";
import type { PointDocument } from "../../core/documents.ts";
import { replay } from "../../core/replay.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const SPEED = {
  degrees: "distributor",
  rpm: "distributor",
  source: "invented",
  rows: [
    { at: 500, degrees: "1 to 5" },
    { at: 1000, degrees: "6 to 10" },
  ],
};
const UNIT = {
  description: "invented four",
  invented: true,
  lobes: 4,
  rotation: "cw",
  speed: SPEED,
};
const CAPSULE = { name: "capsule", vacuum: "kPa", hold: { vacuum: 50, seconds: 15, dropMax: 8 } };
const TRIED = "cam turns by hand: yes\ncam springs back: yes\n";
const HEAD = "means: degree wheel\ndegrees: distributor\nrpm: distributor\n";
const BOTH = "500 3\n1000 8\nfalling\n500 3\n1000 8\n";

function recordOf(lines: string, unitFile: object = UNIT, head = HEAD): ByHandRecord {
  return byHandRecord(byHandNotes(`${head}${lines}`, "x.txt"), unitFromFile(unitFile, "unit"), {
    recordId: "0198f3a2-6c11-7d4e-9b52-3f0c1a7be299",
    startedUtc: "2031-03-14T09:26:53.000Z",
    engineVersion: "0.0.0",
    unitFile,
    afterRecordId: null,
  });
}

const verdictOf = (lines: string, unitFile: object = UNIT) =>
  recordOf(lines, unitFile).end.result.verdict;
const points = ({ middle }: ByHandRecord) =>
  middle.filter((one): one is PointDocument => one.type === "point");

describe("a record made by hand", () => {
  it("is marked as such, in the record and on the sheet", () => {
    const { start, middle, end } = recordOf(`${TRIED}${BOTH}`);
    expect(start.rig).toMatchObject({
      name: "By hand, degree wheel",
      simulated: false,
      hello: null,
      byHand: { means: "degree wheel", readingLimitDeg: 1, camTurns: true, camSpringsBack: true },
    });
    const sheet = buildSheet([start, ...middle, end], { paper: "a4", vacuumUnit: "kPa" });
    expect(sheet.foot).toMatch(/^BY HAND\. Record /);
    const html = sheetHtml(sheet);
    expect(html).toContain("every figure was read by eye with a degree wheel");
    expect(html).toContain(
      "each reading within ± 1° (distributor), 20 rpm (distributor), 3.39 kPa",
    );
    expect(html).not.toContain("Rig last checked");
    expect(html).not.toMatch(/NaN|undefined|null/);
  });

  it("cannot be computed again from raw lines", () => {
    const { start, middle, end } = recordOf(BOTH);
    expect(() => replay([start, ...middle, end], new Uint8Array())).toThrow("RECORD_INCOMPLETE");
  });

  it("has each reading's uncertainty: two readings by eye, rectangular", () => {
    const [point] = points(recordOf("uncertainty: 0.6\n500 3"));
    // 0.6/√3 twice; the sum of two equal rectangles is a triangle of half width 1.2, of which 95 %
    // lie within 1.2 (1 − √0.05) = 0.9317.
    expect(point?.reading.standardUncertaintyDeg).toBeCloseTo(0.4899, 4);
    const expanded =
      (point?.reading.coverageFactor ?? 0) * (point?.reading.standardUncertaintyDeg ?? 0);
    expect(expanded).toBeCloseTo(0.9317, 2);
  });

  it("comes to the distributor from crankshaft figures, the initial timing taken off", () => {
    const head = "means: timing light\ndegrees: crankshaft\nrpm: crankshaft\ninitial: 10\n";
    const record = recordOf("1000 16\n2000 26", UNIT, head);
    expect(points(record).map(({ reading }) => [reading.speedRpm, reading.advanceDeg])).toEqual([
      [500, 3],
      [1000, 8],
    ]);
    expect(record.start.rig.byHand).toMatchObject({ readingLimitDeg: 0.5, speedLimitRpm: 10 });
  });
});

describe("the verdict", () => {
  it("is within only where everything asked for was read, both ways", () => {
    expect(verdictOf(`${TRIED}${BOTH}`)).toBe("within");
    expect(verdictOf(`${TRIED}500 3\n1000 8`)).toBe("unproven");
    expect(verdictOf(`${TRIED}500 3\nfalling\n500 3`)).toBe("unproven");
    expect(verdictOf(`${TRIED}750 5`)).toBe("unproven");
    expect(verdictOf(BOTH)).toBe("unproven");
    expect(verdictOf(`${TRIED}${BOTH}`, { ...UNIT, dwell: { degrees: "51 ± 4" } })).toBe(
      "unproven",
    );
    expect(verdictOf(`${TRIED}${BOTH}`, { ...UNIT, capsules: [CAPSULE] })).toBe("unproven");
    expect(verdictOf(`${TRIED}${BOTH}`, { ...UNIT, speed: undefined })).toBeNull();
  });

  it("is outside where one reading is, by more than its uncertainty, or the cam does not spring back", () => {
    expect(verdictOf(`${TRIED}500 7.5`)).toBe("outside");
    expect(verdictOf(`${TRIED}500 5.5`)).toBe("unproven");
    expect(verdictOf(`${BOTH}rising\ncam turns by hand: no`)).toBe("outside");
    const stuck = recordOf(`${BOTH}cam turns by hand: yes\ncam springs back: no`);
    expect(stuck.end.result.rows.at(-1)).toMatchObject({ about: "return", verdict: "outside" });
    const html = sheetHtml(
      buildSheet([stuck.start, ...stuck.middle, stuck.end], { paper: "a4", vacuumUnit: "kPa" }),
    );
    expect(html).toContain("it does not: OUTSIDE");
  });

  it("takes a reading for the printed row that it was meant for, the nearest one only", () => {
    const record = recordOf("490 3\n515 3.2\n530 3.3");
    expect(points(record).map(({ targetRpm }) => targetRpm)).toEqual([500, 515, 530]);
    expect(points(recordOf("475 3")).map(({ targetRpm }) => targetRpm)).toEqual([475]);
  });
});

describe("the hold by hand", () => {
  const unit = { ...UNIT, capsules: [CAPSULE] };
  const hold = (line: string) =>
    recordOf(`vacuum uncertainty: 1 kPa\n${line}`, unit).end.result.rows.find(
      ({ about }) => about === "hold",
    )?.verdict;

  it("is judged as specified", () => {
    expect(hold("50 kPa held 15 s dropped 2")).toBe("within");
    expect(hold("50 kPa held 15 s dropped 12")).toBe("outside");
    expect(hold("50 kPa held 15 s dropped 8")).toBe("unproven");
    expect(hold("50 kPa reached only 20")).toBe("outside");
  });

  it("an easier test proves no soundness, a harder one no fault", () => {
    expect(hold("50 kPa held 10 s dropped 2")).toBe("unproven");
    expect(hold("40 kPa held 15 s dropped 2")).toBe("unproven");
    expect(hold("40 kPa held 10 s dropped 12")).toBe("outside");
    expect(hold("60 kPa held 30 s dropped 2")).toBe("within");
    expect(hold("60 kPa held 30 s dropped 12")).toBe("unproven");
    expect(hold("60 kPa held 10 s dropped 2")).toBe("unproven");
    expect(hold("60 kPa held 10 s dropped 12")).toBe("unproven");
  });

  it("is of the capsule named, which the unit must have", () => {
    expect(() => recordOf("capsule: 2\n50 kPa held 15 s dropped 2", unit)).toThrow(
      "The notes are of capsule 2; the unit file has 1.",
    );
  });
});

describe("vacuum by hand", () => {
  const unit = {
    ...UNIT,
    capsules: [
      {
        ...CAPSULE,
        degrees: "distributor",
        source: "invented",
        rows: [{ at: 20, degrees: "2 to 8" }],
      },
    ],
  };

  it("counts from the reading without vacuum, where there is one", () => {
    const record = recordOf("vacuum rpm: 1000\n0 kPa 8\n20 kPa 13", unit);
    const [capsule] = record.end.result.capsules;
    expect(capsule?.rising.map(({ advanceDeg }) => advanceDeg)).toEqual([0, 5]);
  });

  it("says nothing of a capsule read on the weights' slope without it", () => {
    const [capsule] = recordOf("vacuum rpm: 1000\n20 kPa 13", unit).end.result.capsules;
    expect(capsule?.rising).toEqual([]);
    const [atRest] = recordOf("20 kPa 5", unit).end.result.capsules;
    expect(atRest?.rising.map(({ advanceDeg }) => advanceDeg)).toEqual([5]);
  });
});
