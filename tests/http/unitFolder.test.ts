// Unit files that lie in the data folder: on hand like all others, and those that cannot be read told of.
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { WorkshopBench } from "../../server/bench.ts";
import { openStore } from "../../server/store/store.ts";

const EXAMPLE = new URL("../../examples/everyday.unit.json", import.meta.url);

it("lists files of the data folder by their names, and says what is wrong with one", async () => {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-units-"));
  const store = await openStore(folder);
  const everyday = JSON.parse(readFileSync(EXAMPLE, "utf8"));
  const own = { ...everyday, description: "One of the folder" };
  writeFileSync(join(folder, "everyday.unit.json"), JSON.stringify(own));
  writeFileSync(join(folder, "broken.unit.json"), '{"lobes": "four"}');
  writeFileSync(join(folder, "other.json"), "{}");
  const id = await store.units.add(
    JSON.stringify({ ...everyday, description: "One that was added" }),
  );
  const bench = new WorkshopBench(store, folder, async () => []);
  const { units, passedOver } = await bench.units();
  const told = units.map((unit) => [
    unit.id,
    unit.fileName,
    (unit.file as { description: string }).description,
  ]);
  expect(told).toContainEqual(["everyday", null, everyday.description]);
  expect(told).toContainEqual([id, null, "One that was added"]);
  expect(told.at(-1)).toEqual(["everyday.unit.json", "everyday.unit.json", "One of the folder"]);
  expect(passedOver).toEqual([expect.stringMatching(/^broken\.unit\.json/)]);
  const choices = await bench.choices();
  expect(choices.units.at(-1)).toMatchObject({
    id: "everyday.unit.json",
    description: "One of the folder",
  });
  const notes = readFileSync(new URL("invented-timing-light.by-hand.txt", EXAMPLE), "utf8");
  const record = await store.record(
    await bench.byHand({ unitId: "everyday.unit.json", notes, jobId: null }),
  );
  expect(record.head.unitDescription).toBe("One of the folder");
  await store.close();
});
