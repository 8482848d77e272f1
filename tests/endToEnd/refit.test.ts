// `bobweight refit`: advice from a record, and what it refuses.
import { expect, it } from "vitest";
import { example, freshFolder, run } from "./process.ts";

const DRAWER = example("invented.springs.csv");
const UNIT = example("everyday.unit.json");

async function measured(scenario: string): Promise<string> {
  const data = freshFolder();
  const rig = ["--rig", "stand-in", "--fast", "--data", data];
  await run("measure", ...rig, "--unit", UNIT, "--scenario", example(`${scenario}.scenario.json`));
  return data;
}

let measuredOnce: Promise<string> | null = null;

/** One record for all tests that only read it. */
function lightSpring(): Promise<string> {
  measuredOnce ??= measured("light-spring");
  return measuredOnce;
}

it("advises a spring of the drawer for a first spring of half the rate, with what to expect", async () => {
  const data = await lightSpring();
  const first = ["--drawer", DRAWER, "--first", "invented first 03"];
  const { status, out } = await run("refit", "--data", data, ...first, "--json");
  const { advice, seeToFirst, capsules } = JSON.parse(out);
  expect(capsules).toMatchObject([{ name: "advance capsule", action: "leave" }]);
  expect(seeToFirst).toEqual([]);
  expect(advice[0].steps[0]).toMatchObject({ kind: "spring", which: "first" });
  // Twice its 620 N/m: the drawer has 1270 N/m, and what else it lists near that.
  expect(advice[0].forecast).toHaveLength(12);
  expect([0, 1]).toContain(status);
  // The same from the drawer that is kept.
  expect((await run("springs", DRAWER, "--keep", "--data", data)).status).toBe(0);
  const text = await run("refit", "newest", "--data", data, "--first", "invented first 03");
  expect(text.out).toMatch(/^1\. Fit "invented first \d\d" as the first spring/);
  expect(text.out).toMatch(/rising at 500 rpm: \d\.\d° ± \d\.\d°, limits 2\.00° to 4\.00°/);
});

interface Forecast {
  readonly x: number;
  readonly branch: "rising" | "falling";
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
}

const FIRST = ["--first", "invented found 41@20.73..24.62"];
const SECOND = ["--second", "invented found 43@12.11..14.90"];

it("by the springs' dimensions names the right one, and forecasts what the sound unit reads", async () => {
  const data = await lightSpring();
  const args = ["--data", data, "--drawer", DRAWER, ...FIRST, ...SECOND, "--json"];
  const { status, out } = await run("refit", ...args);
  const [best] = JSON.parse(out).advice;
  expect(best.steps).toEqual([{ kind: "spring", which: "first", name: "invented measured 42" }]);
  expect(status).toBe(0);
  const rig = ["--rig", "stand-in", "--fast", "--data", freshFolder(), "--json"];
  const scenario = example("healthy.scenario.json");
  const healthy = await run("measure", ...rig, "--unit", UNIT, "--scenario", scenario);
  const { rising, falling } = JSON.parse(healthy.out).speed;
  const off: number[] = best.forecast.map(
    ({ x, branch, advanceDeg, standardUncertaintyDeg }: Forecast) => {
      const points: { rpm: number; advanceDeg: number }[] = branch === "rising" ? rising : falling;
      const read = points.find(({ rpm }) => Math.abs(rpm - x) < 1);
      return Math.abs((read?.advanceDeg ?? 99) - advanceDeg) / standardUncertaintyDeg;
    },
  );
  expect(off).toHaveLength(12);
  // One of twelve may lie beyond two standard uncertainties, none beyond three.
  expect(off.filter((times) => times > 2).length).toBeLessThanOrEqual(1);
  expect(Math.max(...off)).toBeLessThan(3);
});

it("learns from an earlier record of the same posts with another spring in", async () => {
  const data = await lightSpring();
  const args = ["--data", data, "--drawer", DRAWER, ...FIRST, ...SECOND];
  const alone = await run("refit", ...args, "--json");
  const { recordId } = JSON.parse(alone.out);
  const earlier = ["--earlier", `${recordId}=invented found 41+invented found 43`];
  const { status, out } = await run("refit", ...args, ...earlier, "--json");
  expect(status).toBe(0);
  expect(JSON.parse(out).advice[0].steps[0].name).toBe("invented measured 42");
  const wrong = await run("refit", ...args, "--earlier", `${recordId}=none`);
  expect(wrong.status).toBe(64);
  expect(wrong.err).toContain('The drawer has no spring "none".');
});

it("says what is to be seen to first where the weights do not move", async () => {
  const { status, out, err } = await run("refit", "--data", await measured("stuck"));
  expect(status).toBe(65);
  expect(out).toBe("");
  expect(err).toContain("CURVE_UNTOLD: Weights or cam stuck, position unknown.");
});

it("knows no spring that the drawer does not list", async () => {
  const data = await lightSpring();
  const { status, err } = await run("refit", "--data", data, "--drawer", DRAWER, "--first", "none");
  expect(status).toBe(64);
  expect(err).toContain('The drawer has no spring "none".');
});
