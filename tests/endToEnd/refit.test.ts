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

it("advises a spring of the drawer for a first spring of half the rate, with what to expect", async () => {
  const data = await measured("light-spring");
  const first = ["--drawer", DRAWER, "--first", "invented first 03"];
  const { status, out } = await run("refit", "--data", data, ...first, "--json");
  const { advice, seeToFirst } = JSON.parse(out);
  expect(seeToFirst).toEqual([]);
  expect(advice[0].steps[0]).toMatchObject({ kind: "spring", which: "first" });
  // Twice its 620 N/m: the drawer has 1270 N/m, and what else it lists near that.
  expect(advice[0].forecast).toHaveLength(12);
  expect([0, 1]).toContain(status);
  const text = await run("refit", "--data", data, ...first);
  expect(text.out).toMatch(/^1\. Fit "invented first \d\d" as the first spring/);
  expect(text.out).toMatch(/rising at 500 rpm: \d\.\d° ± \d\.\d°, limits 2\.00° to 4\.00°/);
});

it("says what is to be seen to first where the weights do not move", async () => {
  const { status, out, err } = await run("refit", "--data", await measured("stuck"));
  expect(status).toBe(65);
  expect(out).toBe("");
  expect(err).toContain("CURVE_UNTOLD: Weights or cam stuck, position unknown.");
});

it("knows no spring that the drawer does not list", async () => {
  const data = await measured("light-spring");
  const { status, err } = await run("refit", "--data", data, "--drawer", DRAWER, "--first", "none");
  expect(status).toBe(64);
  expect(err).toContain('The drawer has no spring "none".');
});
