// Three kinds of tests: quick ones of the source, end-to-end ones of the built program in processes of
// their own, and those among them that play and measure in real time.
import { defineConfig } from "vitest/config";

const REAL_TIME = [
  "tests/endToEnd/pseudoTerminal.test.ts",
  "tests/endToEnd/published.test.ts",
  "tests/endToEnd/rigTest.test.ts",
  "tests/endToEnd/stops.test.ts",
];

const TEMP_FOLDER = "tests/tempFolder.ts";

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "unit",
          globalSetup: TEMP_FOLDER,
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/endToEnd/**"],
          // Their modules are loaded once for a worker's files, not for each anew: a third of the time.
          isolate: false,
          testTimeout: 180_000,
        },
      },
      {
        test: {
          name: "end to end",
          globalSetup: TEMP_FOLDER,
          include: ["tests/endToEnd/**/*.test.ts"],
          exclude: REAL_TIME,
          testTimeout: 180_000,
          hookTimeout: 60_000,
          fileParallelism: false,
          // Each run on the page plays many times as fast as life: more at once and a slow machine cannot keep up.
          maxConcurrency: 2,
        },
      },
      {
        test: {
          name: "real time",
          globalSetup: TEMP_FOLDER,
          include: REAL_TIME,
          testTimeout: 180_000,
          // Rigs on pseudo-terminals wait most of the while; nothing but they may keep the machine busy.
          maxWorkers: 3,
        },
      },
    ],
  },
});
