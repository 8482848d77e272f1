// The tests of one area, whose patterns the environment has.
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: JSON.parse(process.env.MUTATION_TESTS ?? "[]"),
    globalSetup: "tests/tempFolder.ts",
    isolate: false,
    testTimeout: 180_000,
  },
});
