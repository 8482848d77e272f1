// `npm run bench:profile`: where the time goes, as a picture in docs/ and as numbers on standard output.
import { writeFileSync } from "node:fs";
import { Session } from "node:inspector/promises";
import { everydayRun } from "./everyday.ts";
import { type Profiled, partsOf, pictureOf, tableOf } from "./profile.ts";
import { readingsOf } from "./readings.ts";
import { record } from "./recording.ts";

const PICTURE = new URL("../../../docs/time.svg", import.meta.url);
const SAMPLE_US = 200;

async function profiled(
  what: string,
  times: number,
  work: () => number | Promise<unknown>,
): Promise<Profiled> {
  // Once before, so that it is code at work that is looked at and not code being compiled.
  await work();
  const session = new Session();
  session.connect();
  await session.post("Profiler.enable");
  await session.post("Profiler.setSamplingInterval", { interval: SAMPLE_US });
  await session.post("Profiler.start");
  for (let i = 0; i < times; i++) await work();
  const { profile } = await session.post("Profiler.stop");
  session.disconnect();
  return { what, parts: partsOf(profile) };
}

const recording = await record(36);
const all = [
  await profiled("Bytes to readings, 36 pickup edges", 100, () => readingsOf(recording)),
  await profiled("Default plan on the virtual clock", 5, () => everydayRun()),
];
writeFileSync(PICTURE, pictureOf(all));
for (const one of all) process.stdout.write(`${tableOf(one)}\n`);
