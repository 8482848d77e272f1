// One process of the bar on the default plan: loads the program, measures the invented unit again and again, prints the seconds.
import { everydayRun } from "./everyday.ts";

const RUNS = 8;
const seconds: number[] = [];
for (let i = 0; i < RUNS; i++) {
  const fromMs = performance.now();
  await everydayRun();
  seconds.push((performance.now() - fromMs) / 1000);
}
process.stdout.write(JSON.stringify(seconds));
