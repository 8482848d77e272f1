// What is wrong, told from a few readings taken by hand.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { byHandRecord } from "../../core/byHand/record.ts";
import type { FindingKind } from "../../core/findings/finding.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const FILE = JSON.parse(
  readFileSync(new URL("../../examples/everyday.unit.json", import.meta.url), "utf8"),
);
const HEAD = "means: timing light\ndegrees: distributor\nrpm: distributor\n";

function found(lines: string): FindingKind[] {
  const record = byHandRecord(byHandNotes(`${HEAD}${lines}`, "x.txt"), unitFromFile(FILE, "unit"), {
    recordId: "0198f3a2-6c11-7d4e-9b52-3f0c1a7be299",
    startedUtc: "2031-03-14T09:26:53.000Z",
    engineVersion: "0.0.0",
    unitFile: FILE,
    afterRecordId: null,
  });
  return (record.end.findings?.found ?? []).map(({ kind }) => kind);
}

describe("six speeds by eye", () => {
  it("of a sound unit tell nothing", () => {
    expect(found("300 0\n800 7.5\n1200 9\n2640 14\nfalling\n1200 10\n300 0.5")).toEqual([]);
  });

  it("tell weights that are stuck", () => {
    expect(found("300 0\n800 0.5\n1200 0\n2640 -0.5\nfalling\n1200 0\n300 0.5")[0]).toBe(
      "weights-stuck",
    );
  });

  it("tell a cam that stays out", () => {
    expect(found("300 0\n800 7\n1200 9.5\n2640 14\nfalling\n1200 9.5\n300 6")[0]).toBe(
      "weights-not-returning",
    );
  });

  it("tell travel beyond the stop", () => {
    expect(found("300 0\n800 7\n1200 9.5\n3600 19\nfalling\n1200 9.5\n300 0")[0]).toBe("stop-worn");
  });
});

describe("a hand pump", () => {
  const READ = "vacuum rpm: 0\nvacuum uncertainty: 0.5 inHg\n";

  it("finds no leak where a coarse gauge shows no fall, and nothing torn where it stands a mark low", () => {
    // 10 kPa are 2.95 inHg: read at 2.5 and 3 on marks of half an inch, they are the same place.
    const lines = "2.5 inHg 0\n6 inHg 4\n9 inHg 9\n12 inHg 11\nfalling\n6 inHg 4.5\n0 inHg 0\n";
    expect(found(`${READ}${lines}15 inHg held 15 s dropped 0`)).toEqual([]);
  });

  it("finds what leaks, what is torn, and a plate that does not follow", () => {
    expect(found(`${READ}15 inHg held 15 s dropped 6`)[0]).toBe("capsule-leak");
    expect(found(`${READ}15 inHg reached only 3`)[0]).toBe("diaphragm-torn");
    const still = "6 inHg 0\n9 inHg 0.5\n12 inHg 0\nfalling\n6 inHg 0\n0 inHg 0\n";
    expect(found(`${READ}${still}15 inHg held 15 s dropped 0`)[0]).toBe("plate-not-following");
  });
});
