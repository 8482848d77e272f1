// A bench as a child process, which writes records one after another until it is killed, and hands them over to the
// database meanwhile: `node benchWriter.js FOLDER JOB`. Every line that it prints is a promise.
import { writeSync } from "node:fs";
import { setImmediate as pause } from "node:timers/promises";
import { Draw } from "../../accuracy/draw.ts";
import { databaseUrlFrom } from "../../server/commands/data.ts";
import { openStore } from "../../server/store/store.ts";
import { writeRecord } from "./writing.ts";

const STDOUT = 1;

const [folder = "", job = ""] = process.argv.slice(2);
const store = await openStore(folder, databaseUrlFrom(undefined));
const writing = {
  store,
  draw: new Draw("bench writer", Number(job)),
  acknowledge: (one: object) => {
    writeSync(STDOUT, `${JSON.stringify(one)}\n`);
  },
  // The database is spoken to in between.
  pause: () => pause(),
};
for (;;) await writeRecord(writing);
