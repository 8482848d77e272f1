// The worker thread of a batch: answers each case with the line of its result.
import { parentPort } from "node:worker_threads";
import { type CaseText, FileTexts } from "./caseFile.ts";
import { resultOf } from "./result.ts";

const files = new FileTexts();
parentPort?.on("message", async (text: CaseText) => {
  parentPort?.postMessage(JSON.stringify(await resultOf(text, files)));
});
