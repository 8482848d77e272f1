// Two kinds of tests: quick ones of the source, and end-to-end ones of the built program in processes of their own.
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "unit",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/endToEnd/**"],
          testTimeout: 180_000,
        },
      },
      {
        test: {
          name: "end to end",
          include: ["tests/endToEnd/**/*.test.ts"],
          testTimeout: 180_000,
          hookTimeout: 60_000,
          // Real time on a pseudo-terminal wants a machine that nothing of equal rank keeps busy.
          fileParallelism: false,
        },
      },
    ],
  },
});
