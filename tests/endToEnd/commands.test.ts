// The command line: exit statuses, JSON, and files, on the stand-in rig in virtual time.
import { once } from "node:events";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { example, type Finished, freshFolder, run, start } from "./process.ts";

const UNIT = ["--unit", example("everyday.unit.json")];
const STAND_IN = ["measure", "--rig", "stand-in", ...UNIT, "--fast"];

function scenario(name: string): string[] {
  return ["--scenario", example(`${name}.scenario.json`)];
}

interface Measured extends Finished {
  /** The data folder that has its record, and at first no other. */
  readonly data: string;
}

const measuredOnce = new Map<string, Promise<Measured>>();

/** One run of each example, for all tests that go by what it said or by its record. */
function measured(name: string): Promise<Measured> {
  const data = freshFolder();
  const done =
    measuredOnce.get(name) ??
    run(...STAND_IN, ...scenario(name), "--json", "--data", data).then((said) => ({
      ...said,
      data,
    }));
  measuredOnce.set(name, done);
  return done;
}

it("measures to its end and keeps the record though whoever read its output has gone", async () => {
  const data = freshFolder();
  const child = start([...STAND_IN, ...scenario("healthy"), "--json", "--data", data]);
  child.stdout?.destroy();
  child.stderr?.destroy();
  const [status] = await once(child, "exit");
  expect(status).toBe(0);
  const { out } = await run("export", "record", "--data", data);
  expect(out).toMatch(/"ending":\s*"completed"/);
}, 60_000);

describe("bobweight measure on the examples", () => {
  it.each([
    ["healthy", 0, "within"],
    ["stuck", 1, "outside"],
    ["torn-diaphragm", 1, "outside"],
    ["light-spring", 1, "outside"],
  ])("%s exits with %i: %s", async (name, status, verdict) => {
    const result = await measured(name);
    expect(result.status).toBe(status);
    const report = JSON.parse(result.out);
    expect(report).toMatchObject({ verdict, ending: "completed", simulated: true });
    for (const branch of ["rising", "falling"]) {
      expect(report.speed[branch].length).toBeGreaterThanOrEqual(12);
      for (const entry of report.speed[branch]) {
        expect(Object.keys(entry).sort()).toEqual([
          "advanceDeg",
          "expandedUncertaintyDeg",
          "rpm",
          "standardUncertaintyDeg",
        ]);
      }
    }
    expect(report.hold.reached).toBe(name !== "torn-diaphragm");
    expect(report.hold.seconds).toBe(15);
    expect(report.link.turnsGood).toBeGreaterThanOrEqual(name === "torn-diaphragm" ? 4000 : 5000);
    expect(report.dwellDeg).toBeCloseTo(51, 0);
    // About 14 degrees of cam travel: common practice, no source. A stuck cam shows none.
    const travel = Math.max(
      ...report.speed.rising.map((one: { advanceDeg: number }) => one.advanceDeg),
    );
    expect(travel).toBeCloseTo(name === "stuck" ? 0 : 14, 0);
  });

  it("gives the same figures for the same scenario, whenever it runs", async () => {
    const figures = ({ out }: Finished) => {
      const { recordId, ...rest } = JSON.parse(out);
      expect(recordId).toMatch(/^[0-9a-f-]{36}$/);
      return rest;
    };
    const again = await run(...STAND_IN, ...scenario("healthy"), "--json", "--no-record");
    expect(figures(again)).toEqual(figures(await measured("healthy")));
  });

  it("keeps a record, from which sheet, CSV and JSON are written", async () => {
    const { out, data } = await measured("healthy");
    const { recordId } = JSON.parse(out);
    const list = await run("sheet", "--list", "--data", data);
    expect(list.out).toMatch(
      new RegExp(`^${recordId}\t[^\t]+\twithin\tsimulated\t[^\t]+\t[^\t]+\n`),
    );
    const sheet = await run("sheet", recordId, "--paper", "letter", "--data", data);
    expect(sheet.status).toBe(0);
    expect(sheet.out).toContain("<!doctype html>");
    expect(sheet.out).toMatch(/simulated/i);
    const csv = await run("sheet", recordId, "--format", "csv", "--data", data);
    expect(csv.out.split("\r\n").length).toBeGreaterThan(40);
    const budget = await run("sheet", "--format", "budget", "--at", "1200", "--data", data);
    expect(budget.out).toMatch(/^advance .* at 1[12]\d\d\.\d rpm, rising$/m);
    expect(budget.out).toMatch(/^coverage factor for 95 % \d\.\d\d$/m);
    const json = await run("sheet", "--format", "json", "--data", data);
    expect(JSON.stringify(JSON.parse(json.out))).toContain(recordId);
  });
});

describe("a run after a change", () => {
  it("is drawn and judged beside the record as received, which stays as it was", async () => {
    const { out, data } = await measured("light-spring");
    const first = JSON.parse(out).recordId;
    const asReceived = (await run("sheet", first, "--format", "json", "--data", data)).out;
    const changed = ["--json", "--data", data, "--after", first];
    const { recordId: second } = JSON.parse(
      (await run(...STAND_IN, ...scenario("healthy"), ...changed)).out,
    );
    const alone = await run("sheet", first, "--data", data);
    expect(alone.out).not.toContain("as received");
    const sheet = await run("sheet", second, "--data", data);
    expect(sheet.out).toContain("as received as a dotted line");
    expect(sheet.out).toMatch(/<th[^>]*>as received, \d{4}-\d\d-\d\d<\/th><th[^>]*>after<\/th>/);
    expect(sheet.out).toContain(`record ${first}`);
    expect(sheet.out).toMatch(/: OUTSIDE<\/td><td>[^<]*: within<\/td><\/tr>/);
    expect((await run("sheet", first, "--format", "json", "--data", data)).out).toBe(asReceived);
    const other = ["--unit", example("quiet-six.unit.json")];
    const refused = await run(
      ...["measure", "--rig", "stand-in", "--fast", "--data", data, ...other, "--after", first],
    );
    expect(refused.status).toBe(65);
    expect(refused.err).toContain("RECORD_OTHER_UNIT");
  });
});

describe("exit statuses", () => {
  const statusOf = async (...args: string[]) => (await run(...args)).status;

  it("64 for wrong usage", async () => {
    expect(await statusOf("measure", ...UNIT)).toBe(64);
    expect(await statusOf("measure", "--rig", "/dev/null", ...UNIT, "--fast")).toBe(64);
    expect(await statusOf("dance")).toBe(64);
    expect(await statusOf("simulate", "--scenario", example("healthy.scenario.json"))).toBe(64);
    expect(await statusOf("schema", "toString")).toBe(64);
  });

  it("65 for bad input, with file and place on standard error", async () => {
    const file = join(freshFolder(), "bad.unit.json");
    writeFileSync(file, '{"description": "x", "lobes": 13, "rotation": "cw"}');
    const result = await run(
      "measure",
      "--rig",
      "stand-in",
      "--unit",
      file,
      "--fast",
      "--no-record",
    );
    expect(result.status).toBe(65);
    expect(result.out).toBe("");
    expect(result.err).toContain(file);
    expect(result.err).toContain("lobes");
    expect(await statusOf("measure", "--rig", "stand-in", "--unit", "nowhere.json", "--fast")).toBe(
      65,
    );
    const plan = join(freshFolder(), "fast.plan.json");
    writeFileSync(plan, '{"speedsRpm": [500, 4000]}');
    const beyond = await run(...STAND_IN, ...scenario("healthy"), "--plan", plan, "--no-record");
    expect(beyond.status).toBe(65);
    expect(beyond.err).toContain("PLAN_BEYOND_LIMITS");
  });

  it("69 for a rig that is not there", async () => {
    expect(await statusOf("measure", "--rig", "/dev/ttyNowhere", ...UNIT, "--no-record")).toBe(69);
  });

  it("74 where records cannot be kept", async () => {
    const file = join(freshFolder(), "file");
    writeFileSync(file, "");
    expect(await statusOf(...STAND_IN, ...scenario("healthy"), "--data", join(file, "data"))).toBe(
      74,
    );
  });

  it("75 for a rig fault", async () => {
    const file = join(freshFolder(), "guard.scenario.json");
    const healthy = JSON.parse(readFileSync(example("healthy.scenario.json"), "utf8"));
    writeFileSync(
      file,
      JSON.stringify({ ...healthy, incidents: [{ what: "guardOpens", atS: 30 }] }),
    );
    const result = await run(...STAND_IN, "--scenario", file, "--json", "--no-record");
    expect(result.status).toBe(75);
    expect(JSON.parse(result.out)).toMatchObject({
      ending: "rig fault",
      reason: { code: "RIG_GUARD_OPEN" },
    });
  });
});
