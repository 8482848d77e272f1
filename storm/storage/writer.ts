// A child process that writes until it is killed: `node writer.js FOLDER JOB`. Every line that it prints is a promise.
import { writeSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { Draw } from "../../accuracy/draw.ts";
import { openStore } from "../../server/store/store.ts";
import type { Acknowledged } from "./acknowledged.ts";
import { writeRecord, writeText } from "./writing.ts";

const STDOUT = 1;
const LINES_EVERY_MS = 15;

const [folder = "", job = ""] = process.argv.slice(2);
const store = await openStore(folder);
const writing = {
  store,
  draw: new Draw("writer", Number(job)),
  acknowledge: (one: Acknowledged) => {
    writeSync(STDOUT, `${JSON.stringify(one)}\n`);
  },
  pause: () => pause(LINES_EVERY_MS),
};
for (;;) {
  await writeRecord(writing);
  await writeText(writing);
}
