// `bobweight engine`: marks from a record on file, the owner's readings against them, and the printed sheet.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBrowser } from "./browser.ts";
import { example, freshFolder, run } from "./process.ts";

const UNIT = example("everyday.unit.json");
const READINGS = ["--readings", example("invented-early.readings.csv")];
const data = freshFolder();
const engine = (...args: string[]) => run("engine", ...args, "--data", data);

beforeAll(async () => {
  const rig = ["--rig", "stand-in", "--scenario", example("healthy.scenario.json"), "--fast"];
  await run("measure", ...rig, "--unit", UNIT, "--data", data);
});

describe("bobweight engine", () => {
  it("gives the marks of the newest record by its unit's engine block", async () => {
    const { status, out } = await engine("--format", "json");
    expect(status).toBe(0);
    const report = JSON.parse(out);
    expect(report).toMatchObject({
      invented: true,
      simulated: true,
      settings: { initialTimingCrankshaftDeg: 8, atEngineRpm: 600, vacuumPort: "ported" },
      readings: null,
    });
    const speeds = report.marks.map((mark: { engineRpm: number }) => mark.engineRpm);
    expect(speeds).toEqual([600, 1000, 1600, 2400, 3200, 4000]);
    // Specified 7 ± 1 distributor degrees at 800 rpm: 8 + 2 × 7.
    expect(Math.abs(report.marks[2].plugged.rising.markCrankshaftDeg - 22)).toBeLessThan(2);
  });

  it("takes options before the file", async () => {
    const { out } = await engine("--initial-timing", "12", "--speeds", "600", "--format", "json");
    const report = JSON.parse(out);
    expect(report.settings).toMatchObject({ atEngineRpm: 0, source: null });
    expect(report.marks[0].plugged.rising.markCrankshaftDeg).toBeCloseTo(12, 0);
  });

  it("holds readings against them: 4° early throughout is the initial timing", async () => {
    const { status, err } = await engine(...READINGS, "--format", "csv");
    expect(status).toBe(1);
    expect(err).toContain("too early: the initial timing differs, not the curve");
  });

  it("speaks the settings' language on its sheet, and English to other programs", async () => {
    await run("settings", "--set", "language=de", "--data", data);
    const { out, err } = await engine(...READINGS);
    expect(out).toContain("<h1>Marken für die Stroboskoplampe</h1>");
    expect(err).toContain("zu früh: Die Grundeinstellung ist anders, nicht die Kurve");
    const alone = await run("engine", "--unit", UNIT, "--data", data);
    expect(alone.out).toContain("Allein nach der Vorgabe; kein Verteiler wurde gemessen");
    const json = JSON.parse((await engine(...READINGS, "--format", "json")).out);
    expect(json.summary[1]).toContain("too early: the initial timing differs, not the curve");
    const asked = await engine("--language", "en");
    expect(asked.out).toContain("<h1>Marks for the timing light</h1>");
    await run("settings", "--set", "language=en", "--data", data);
  });

  it("works from a specification alone, and says what is missing", async () => {
    const { status, out } = await run("engine", "--unit", UNIT, "--format", "json");
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ recordId: null, simulated: null });
    const bare = await run("engine", "--unit", example("quiet-six.unit.json"));
    expect(bare.status).toBe(65);
    expect(bare.err).toContain("--initial-timing");
    expect((await engine("some-record", "--unit", UNIT)).status).toBe(64);
    expect((await engine("no-such-record")).status).toBe(65);
  });

  describe("printed", () => {
    let browser: Browser;

    beforeAll(async () => {
      browser = await openBrowser();
    });

    afterAll(async () => {
      await browser?.close();
    });

    it.each([
      ["a4", "en"],
      ["letter", "en"],
      ["a4", "de"],
      ["letter", "de"],
    ])("is one page of %s, %s", async (paper, language) => {
      const sheet = join(data, `${paper}-${language}.html`);
      const how = ["--paper", paper, "--language", language];
      await engine(...READINGS, ...how, "--out", sheet);
      const page = await browser.newPage();
      await page.goto(pathToFileURL(sheet).href);
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pdf.toString("latin1").match(/\/Type \/Page\b/g)).toHaveLength(1);
    });
  });
});
