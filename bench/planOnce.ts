// One process of the bar on the default plan: loads the program, measures the invented unit again and again, prints the seconds.
import { readFileSync } from "node:fs";
import { measure } from "../accuracy/standIn.ts";

const RUNS = 8;
const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), "utf8"));
const choice = {
  unit: example("everyday.unit.json"),
  scenario: example("healthy.scenario.json"),
};
const seconds: number[] = [];
for (let i = 0; i < RUNS; i++) {
  const fromMs = performance.now();
  await measure(choice);
  seconds.push((performance.now() - fromMs) / 1000);
}
process.stdout.write(JSON.stringify(seconds));
