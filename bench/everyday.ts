// The invented everyday unit on the stand-in rig, by the default plan.
import { readFileSync } from "node:fs";
import { measure } from "../accuracy/standIn.ts";
import type { EndDocument, StartDocument } from "../core/documents.ts";

/** From where it is built, `dist/node/bench`. */
const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), "utf8"));

/** One whole run on the virtual clock, bytes, findings and all. */
export async function everydayRun(): Promise<{
  readonly start: StartDocument;
  readonly end: EndDocument;
}> {
  const unit = example("everyday.unit.json");
  const { documents, end } = await measure({ unit, scenario: example("healthy.scenario.json") });
  const start = documents.find((document) => document.type === "start");
  if (start === undefined) throw new Error("a run without its start");
  return { start, end };
}
