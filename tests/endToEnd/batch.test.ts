// Many simulated units by the built program: over its threads, interrupted and gone on with, as JUnit and JSON.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { example, finished, freshFolder, run, start } from "./process.ts";

const folder = freshFolder();
const cases = join(folder, "cases.jsonl");
const SPEED = { degrees: "distributor", rpm: "distributor", source: "invented", toleranceDeg: 1 };
const UNIT = {
  description: "invented",
  lobes: 4,
  rotation: "cw",
  speedMaxRpm: 2200,
  speed: { ...SPEED, rows: [{ at: 800, degrees: 7 }] },
};

/** Short ones and, now and then, one of several times their length, so that threads overtake each other. */
function caseLine(i: number): string {
  const scenario = example(`${i % 2 === 0 ? "healthy" : "stuck"}.scenario.json`);
  const speedsRpm = i % 5 === 0 ? [400, 800, 1200, 1600, 2000] : [800];
  const plan = { speedsRpm, turnsPerReading: 3 };
  return JSON.stringify({
    name: `unit ${i}`,
    unit: UNIT,
    scenario,
    plan,
  });
}

const COUNT = 14;
const place = (name: string) => join(folder, name);
const batch = (name: string, ...more: string[]) => [
  "batch",
  cases,
  ...["--out", place(`${name}.jsonl`), "--junit", place(`${name}.xml`)],
  ...["--json", place(`${name}.json`), ...more],
];
const filesOf = (name: string) =>
  ["jsonl", "xml", "json"].map((ending) => readFileSync(place(`${name}.${ending}`), "utf8"));

beforeAll(async () => {
  const lines = Array.from({ length: COUNT }, (_, i) => caseLine(i));
  writeFileSync(cases, [...lines, '{"unit": "nowhere.unit.json"}'].join("\n"));
  const whole = await run(...batch("whole", "--workers", "1"));
  expect(whole.status).toBe(65);
  expect(whole.err).toContain("cases.jsonl:15: FILE_UNREADABLE");
  expect(whole.err).toContain("15 of 15 simulated units done: 7 within, 7 outside, 1 not");
});

describe("bobweight batch", () => {
  it("writes the same bytes whatever the number of workers, in the order of the cases", async () => {
    expect((await run(...batch("three", "--workers", "3"))).status).toBe(65);
    expect(filesOf("three")).toEqual(filesOf("whole"));
    const results = filesOf("whole")[0]
      ?.trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(results?.map(({ at }) => at)).toEqual(
      Array.from({ length: COUNT + 1 }, (_, i) => `cases.jsonl:${i + 1}`),
    );
    expect(results?.[1]).toMatchObject({ name: "unit 1", verdict: "outside", simulated: true });
  });

  it("ends cleanly on Ctrl-C, and goes on to the same files", async () => {
    const child = start(batch("cut", "--workers", "2"));
    const end = finished(child);
    const out = place("cut.jsonl");
    while (!existsSync(out) || readFileSync(out, "utf8").split("\n").length < 4) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    child.kill("SIGINT");
    const cut = await end;
    expect(cut.status).toBe(75);
    expect(cut.err).toContain("--resume goes on");
    const kept = readFileSync(out, "utf8");
    const count = kept.split("\n").length - 1;
    expect(count).toBeGreaterThanOrEqual(3);
    expect(count).toBeLessThan(COUNT);
    expect(filesOf("whole")[0]?.startsWith(kept)).toBe(true);
    expect(existsSync(place("cut.xml"))).toBe(false);
    const rest = await run(...batch("cut", "--resume"));
    expect(rest.status).toBe(65);
    expect(rest.err).toContain(`${count} of 15 cases have their results already.`);
    expect(filesOf("cut")).toEqual(filesOf("whole"));
  });

  it("goes on after it was killed", async () => {
    const child = start(batch("killed", "--workers", "2"));
    const end = finished(child);
    const out = place("killed.jsonl");
    while (!existsSync(out) || readFileSync(out, "utf8").split("\n").length < 3) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    child.kill("SIGKILL");
    await end;
    await run(...batch("killed", "--resume"));
    expect(filesOf("killed")).toEqual(filesOf("whole"));
  });

  it("tells by its exit status what came of it, and what is wrong with its use", async () => {
    const folderOf = (lines: readonly string[]) => {
      const file = join(freshFolder(), "some.jsonl");
      writeFileSync(file, lines.join("\n"));
      return file;
    };
    const sound = await run("batch", folderOf([caseLine(2)]));
    expect(sound.status).toBe(0);
    expect(JSON.parse(sound.out)).toMatchObject({ at: "some.jsonl:1", verdict: "within" });
    expect((await run("batch", folderOf([caseLine(2), caseLine(1)]))).status).toBe(1);
    expect((await run("batch", folderOf([]))).status).toBe(64);
    expect((await run("batch", "nowhere.jsonl")).status).toBe(65);
    expect((await run("batch", cases, "--resume")).status).toBe(64);
    expect((await run("batch", cases, "--out", join(folder, "no", "such"))).status).toBe(74);
  });
});

describe("bobweight measure --junit", () => {
  it("writes a case for each printed row", async () => {
    const file = place("measured.xml");
    const measured = await run(
      ...["measure", "--rig", "stand-in", "--fast", "--no-record", "--junit", file],
      ...["--unit", example("everyday.unit.json"), "--plan", example("short.plan.json")],
      ...["--scenario", example("stuck.scenario.json"), "--json"],
    );
    expect(measured.status).toBe(1);
    const { rows } = JSON.parse(measured.out);
    const outside = rows.filter(({ verdict }: { verdict: string }) => verdict === "outside");
    const xml = readFileSync(file, "utf8");
    expect(outside.length).toBeGreaterThan(0);
    expect(xml.match(/<failure type="outside"/g)).toHaveLength(outside.length);
    expect(xml.match(/<testcase /g)).toHaveLength(rows.length + 1);
  });
});

describe("bobweight tolerance", () => {
  const study = (...more: string[]) =>
    run(
      ...["tolerance", example("everyday.unit.json"), example("healthy.scenario.json")],
      ...["--plan", example("short.plan.json"), ...more],
    );

  it("gives the same study whatever the number of workers, as JSON and as a page", async () => {
    const page = place("study.html");
    const asked = ["--spring-rates", "20", "--count", "4", "--out", page];
    const [one, two] = [
      await study(...asked, "--workers", "1"),
      await study(...asked, "--workers", "2"),
    ];
    expect(one.status).toBe(0);
    expect(two.out).toBe(one.out);
    const report = JSON.parse(one.out);
    expect(report).toMatchObject({ simulated: true, units: 4, notCompleted: 0 });
    for (const { within, outside, unproven } of report.rows)
      expect(within + outside + unproven).toBe(4);
    const at800 = report.rows[0].measured;
    expect(at800.p5).toBeLessThan(at800.p95 - 0.1);
    expect(report.curves).toHaveLength(4);
    const html = readFileSync(page, "utf8");
    expect(html).toContain("SIMULATED.");
    expect(html.match(/<svg /g)).toHaveLength(4);
  });

  it("wants spreads, and a mechanism to vary", async () => {
    expect((await study()).status).toBe(64);
    const tables = join(folder, "tables.scenario.json");
    writeFileSync(tables, '{"mechanism": {"speedTable": [[0, 0], [2000, 10]]}}');
    const refused = await run(
      ...["tolerance", example("everyday.unit.json"), tables, "--friction", "10"],
    );
    expect(refused.status).toBe(65);
    expect(refused.err).toContain("tables have no parts to vary");
  });
});
