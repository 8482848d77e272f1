// A share of the hostile inputs of `npm run storm`.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { Draw } from "../../accuracy/draw.ts";
import { tried } from "../../storm/bars/hostile.ts";
import { readersIn } from "../../storm/hostile/readers.ts";

it("is read or refused in words, by every reader", async () => {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-hostile-"));
  const draw = new Draw("hostile test", 0);
  const readers = await readersIn(folder);
  const crashes: string[] = [];
  let refused = 0;
  for (let i = 0; i < 20; i++) {
    for (const reader of readers) {
      const outcome = await tried(reader, draw);
      if (outcome === "refused") refused++;
      else if (outcome !== "read" && !outcome.startsWith("took"))
        crashes.push(`${reader.name}: ${outcome}`);
    }
  }
  rmSync(folder, { recursive: true });
  expect(crashes).toEqual([]);
  expect(refused).toBeGreaterThan(100);
});
