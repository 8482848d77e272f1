// `bobweight springs`: a drawer listed, written again, and complained of.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { example, freshFolder, run } from "./process.ts";

const DRAWER = example("invented.springs.csv");

it("lists the example drawer, as text, as JSON and as CSV again", async () => {
  const text = await run("springs", DRAWER, "--stretch", "3");
  expect(text.status).toBe(0);
  expect(text.out.split("\n")).toHaveLength(45);
  expect(text.out).toMatch(/^name +in stock +N\/m +± N\/m +from +N at \+3\.0 mm$/m);
  const { out } = await run("springs", DRAWER, "--stretch", "3", "--json");
  const { springs } = JSON.parse(out);
  expect(springs[37]).toMatchObject({
    name: "invented measured 38",
    wire: null,
    rate: { from: "measurement", rateNPerM: 1050 },
  });
  // 0.5 N of initial tension and 1050 N/m over 3 mm.
  expect(springs[37].loads[0].loadN).toBeCloseTo(3.65, 9);
  const csv = join(freshFolder(), "again.csv");
  expect((await run("springs", DRAWER, "--csv", "--out", csv)).status).toBe(0);
  expect(readFileSync(csv, "utf8").split("\r\n")).toHaveLength(45);
  expect((await run("springs", csv, "--stretch", "3", "--json")).out).toBe(out);
});

it("names row and column of a mistake", async () => {
  const file = join(freshFolder(), "bad.csv");
  writeFileSync(file, "name,quantity,free_length_mm\na,1,x\n");
  const { status, out, err } = await run("springs", file);
  expect(status).toBe(65);
  expect(out).toBe("");
  expect(err).toContain(`${file}, line 2, column`);
  expect((await run("springs", DRAWER, "--json", "--csv")).status).toBe(64);
  expect((await run("springs", "nowhere.csv")).status).toBe(65);
});
