// A batch: the form of cases, the order of results, and going on after an interruption.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  type BatchChoice,
  type BatchSurroundings,
  carryOutBatch,
} from "../../server/batch/batch.ts";
import { FileTexts, inspectCase } from "../../server/batch/caseFile.ts";
import { caseTexts } from "../../server/batch/caseSource.ts";
import { Progress } from "../../server/batch/progress.ts";
import { resultOf } from "../../server/batch/result.ts";
import { example, freshFolder } from "../endToEnd/process.ts";

const UNIT = { description: "invented", lobes: 4, rotation: "cw" };
const PLAN = { referenceRpm: 200, speedsRpm: [600], rampRpmPerS: 1000, turnsPerReading: 3 };

const inspected = (given: unknown, folder = ".") =>
  inspectCase({ at: "c.jsonl:7", folder, text: JSON.stringify(given) }, new FileTexts());

describe("a case", () => {
  it.each([
    [{}, "c.jsonl:7, unit: is missing."],
    [{ unit: 3 }, "c.jsonl:7, unit: give the path of a file, or an object in its place."],
    [{ unit: UNIT, scenaro: "x" }, "c.jsonl:7, scenaro: there is no such field here."],
    [{ unit: { ...UNIT, lobes: 13 } }, "c.jsonl:7, unit, lobes: "],
    [
      { unit: UNIT, scenario: { mechanism: { speedTable: [[0, 0]] }, x: 1 } },
      "c.jsonl:7, scenario: ",
    ],
    [{ unit: UNIT, plan: { speedsRpm: [9000] } }, "9000 rpm is above"],
    [{ unit: UNIT, capsule: 2 }, "Capsule 2 was asked for"],
    [{ unit: "nowhere.unit.json" }, "nowhere.unit.json cannot be read"],
  ])("that is wrong is refused by its place: %j", (given, complaint) => {
    expect(inspected(given).error?.what).toContain(complaint);
  });

  it("takes files by paths from its own folder as it takes their content", async () => {
    const byPath = inspected({ unit: "everyday.unit.json" }, example(""));
    expect(byPath.error).toBeNull();
    expect(inspected({ unit: UNIT, plan: PLAN }).error).toBeNull();
  });

  it("has another digest where a file that it names has another content", () => {
    const folder = freshFolder();
    const digest = (lobes: number) => {
      writeFileSync(join(folder, "a.unit.json"), JSON.stringify({ ...UNIT, lobes }));
      return inspected({ unit: "a.unit.json" }, folder).digest;
    };
    expect(digest(4)).not.toBe(digest(6));
    expect(digest(4)).toBe(digest(4));
  });

  it("is measured to the same line each time, whatever was measured before", async () => {
    const text = {
      at: "a",
      folder: ".",
      text: JSON.stringify({ unit: UNIT, plan: PLAN }),
    };
    const files = new FileTexts();
    const [one, other] = [await resultOf(text, files), await resultOf(text, files)];
    expect(one).toMatchObject({ ending: "completed", simulated: true });
    expect(JSON.stringify(other)).toBe(JSON.stringify(one));
  });
});

async function atsOf(path: string): Promise<string[]> {
  const ats: string[] = [];
  for await (const { at } of caseTexts(path)) ats.push(at);
  return ats;
}

describe("the cases of a batch", () => {
  it("are those of the example, which are good", async () => {
    const files = new FileTexts();
    const errors: unknown[] = [];
    for await (const text of caseTexts(example("everyday.jsonl")))
      errors.push(inspectCase(text, files).error);
    expect(errors).toEqual([null, null, null]);
  });

  it("are lines of a file without the blank ones, cut at line feeds alone", async () => {
    const file = join(freshFolder(), "c.jsonl");
    writeFileSync(file, '{"name": "a\u2028b"}\n\n  \r\n{}\r\n{"no": "line feed"}');
    expect(await atsOf(file)).toEqual(["c.jsonl:1", "c.jsonl:4", "c.jsonl:5"]);
  });

  it("are all files of cases in a folder by their names, and no others", async () => {
    const folder = freshFolder();
    for (const name of ["b.case.json", "a.jsonl", "c.json", "d.scenario.json"])
      writeFileSync(join(folder, name), "{}\n");
    mkdirSync(join(folder, "e.case.json"));
    expect(await atsOf(folder)).toEqual(["a.jsonl:1", "b.case.json", "e.case.json"]);
  });
});

/** Stands for the threads: each case's result at once, in order. `after` hears of each. */
const measuring = (after: () => void = () => {}): BatchSurroundings["measured"] =>
  async function* (texts, onLine) {
    for await (const text of texts) {
      const { name, digest, error } = inspectCase(text, new FileTexts());
      const told =
        error === null ? { verdict: "within", ending: "completed" } : { error: error.told };
      const line = JSON.stringify({ at: text.at, name, digest, ...told });
      after();
      onLine(line);
      yield line;
    }
  };

interface Place extends BatchChoice {
  readonly out: string;
  readonly junit: string;
  readonly json: string;
}

function placeWith(lines: readonly string[]): Place {
  const folder = freshFolder();
  const cases = join(folder, "c.jsonl");
  writeFileSync(cases, lines.join("\n"));
  const [out, junit, json] = ["out.jsonl", "junit.xml", "sum.json"].map((name) =>
    join(folder, name),
  );
  return { cases, out, junit, json, resume: false } as Place;
}

const around = (change: Partial<BatchSurroundings> = {}): BatchSurroundings => ({
  measured: measuring(),
  put: async () => {},
  say: () => {},
  isStopped: () => false,
  ...change,
});

const LINES = ["a", "b", "c", "d", "e"].map((name) => JSON.stringify({ name, unit: UNIT }));
const textsOf = ({ out, junit, json }: Place) =>
  [out, junit, json].map((file) => readFileSync(file, "utf8"));

/** Stops after so many cases. */
function stopping(after: number): Partial<BatchSurroundings> {
  let done = 0;
  return {
    measured: measuring(() => {
      done++;
    }),
    isStopped: () => done >= after,
  };
}

describe("a batch", () => {
  it("goes on after an interruption to the same files as without one", async () => {
    const whole = placeWith(LINES);
    await carryOutBatch(whole, around());
    const place = placeWith(LINES);
    const first = await carryOutBatch(place, around(stopping(2)));
    expect(first).toMatchObject({ total: 5, tally: { cases: 2 } });
    expect(() => textsOf(place)).toThrow("junit.xml");
    let measured = 0;
    const rest = measuring(() => {
      measured++;
    });
    await carryOutBatch({ ...place, resume: true }, around({ measured: rest }));
    expect(measured).toBe(3);
    expect(textsOf(place)).toEqual(textsOf(whole));
  });

  it.each([
    ["half a line", (text: string) => text.slice(0, -30)],
    ["a whole one without its line feed", (text: string) => text.slice(0, -1)],
    ["a line of noughts", (text: string) => `${text}\0\0\0\0\n`],
    ["half a character", (text: string) => `${text}{"at":"\u00e4`],
  ])("leaves out what an interruption tore: %s", async (_, tear) => {
    const place = placeWith(LINES);
    await carryOutBatch(place, around());
    const whole = textsOf(place);
    const torn = Buffer.from(tear(readFileSync(place.out, "utf8")));
    writeFileSync(place.out, torn.at(-1) === 0xa4 ? torn.subarray(0, -1) : torn);
    await carryOutBatch({ ...place, resume: true }, around());
    expect(textsOf(place)).toEqual(whole);
  });

  it("does not go on with results of other cases, nor over any, nor among its cases", async () => {
    const place = placeWith(LINES);
    await carryOutBatch(place, around(stopping(3)));
    await expect(carryOutBatch(place, around())).rejects.toThrow("has results already");
    const before = readFileSync(place.out, "utf8");
    const resumed = { ...place, resume: true };
    writeFileSync(place.cases, [LINES[0], '{"unit": "x"}', ...LINES.slice(2)].join("\n"));
    await expect(carryOutBatch(resumed, around())).rejects.toThrow(
      "line 2 is the result of another",
    );
    writeFileSync(place.cases, LINES.slice(0, 2).join("\n"));
    await expect(carryOutBatch(resumed, around())).rejects.toThrow("none of the cases");
    writeFileSync(place.cases, LINES.join("\n"));
    writeFileSync(place.out, `no result\n${before}`);
    await expect(carryOutBatch(resumed, around())).rejects.toThrow("line 1: this is no result");
    expect(readFileSync(place.out, "utf8")).toBe(`no result\n${before}`);
    const folder = freshFolder();
    const among = { ...place, cases: folder, out: join(folder, "results.jsonl") };
    await expect(carryOutBatch(among, around())).rejects.toThrow("read as cases");
    await expect(carryOutBatch({ ...place, cases: folder }, around())).rejects.toThrow("already");
  });

  it("measures the others where some have mistakes, and has told of these before", async () => {
    const place = placeWith([LINES[0] as string, "{", '{"unit": 1}', LINES[1] as string]);
    const told: string[] = [];
    const { tally } = await carryOutBatch(
      place,
      around({
        say: (text) => told.push(text),
        measured: (texts, onLine) => {
          expect(told).toHaveLength(3);
          return measuring()(texts, onLine);
        },
      }),
    );
    expect(told[0]).toMatch(/^c\.jsonl:2: FILE_NOT_JSON: .* Mend the JSON at the place named\.$/);
    expect(tally).toMatchObject({ cases: 4, within: 2, notMeasured: 2, bugs: 0 });
    expect(readFileSync(place.junit, "utf8").match(/<error type="FILE_/g)).toHaveLength(2);
  });

  it("that is stopped while it is checked touches no file", async () => {
    const place = placeWith(LINES);
    await carryOutBatch(place, around(stopping(3)));
    const before = readFileSync(place.out, "utf8");
    writeFileSync(place.junit, "of before");
    let looks = 0;
    const outcome = await carryOutBatch(
      { ...place, resume: true },
      around({ isStopped: () => ++looks > 2 }),
    );
    expect(outcome).toMatchObject({ total: 2, isWhole: false, tally: { cases: 0 } });
    expect(readFileSync(place.out, "utf8")).toBe(before);
    expect(readFileSync(place.junit, "utf8")).toBe("of before");
  });

  it("tells the time that is left every few seconds", () => {
    let nowMs = 0;
    const told: string[] = [];
    const progress = new Progress(
      100,
      (text) => told.push(text),
      () => nowMs,
    );
    for (let i = 0; i < 100; i++) {
      nowMs += 1000;
      progress.step();
    }
    expect(told).toHaveLength(19);
    expect(told[0]).toBe("5 of 100 done, 2 min left");
    expect(told[18]).toBe("95 of 100 done, 5 s left");
  });
});
