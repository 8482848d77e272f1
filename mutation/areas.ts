// What is changed, and which tests have to notice.

export interface Area {
  readonly name: string;
  /** Files that are changed, from the project's folder. */
  readonly files: readonly string[];
  /** Patterns of the tests that have to notice, and no others. */
  readonly tests: readonly string[];
  /** Of so many of 100 mutants the short run tries one each; `--long` tries all. */
  readonly drawnPercent: number;
}

export const AREAS: readonly Area[] = [
  {
    name: "codec",
    files: ["core/codec/*.ts", "core/turns.ts", "core/lineOrder.ts"],
    tests: ["tests/codec/*.test.ts", "tests/angles/assembler.test.ts"],
    drawnPercent: 35,
  },
  {
    name: "angles",
    files: ["core/angles/*.ts"],
    tests: [
      "tests/angles/*.test.ts",
      "tests/chain/contactSets.test.ts",
      "tests/chain/triggerKinds.test.ts",
    ],
    drawnPercent: 35,
  },
  {
    name: "safety",
    files: [
      // Stay-alive only while fresh, a stop before all that waits, and nothing after it.
      "server/link/rigLink.ts",
      "server/run/rig.ts",
      "server/run/moves.ts",
      "server/run/watch.ts",
      "server/run/run.ts",
      // Who comes in, and who controls.
      "server/http/gate.ts",
      "server/http/entrance.ts",
      "server/http/rate.ts",
      "server/http/runDesk.ts",
      // No farther than unit and rig allow.
      "core/planFile/reach.ts",
      "core/planFile/walk.ts",
    ],
    tests: [
      "tests/run/{link,commands,ramps}.test.ts",
      "tests/run/{run,stops,moves,readings,vacuums,waiting,watching}.test.ts",
      "tests/http/{gate,gateAlone}.test.ts",
      "tests/http/entrance.test.ts",
      "tests/http/desk.test.ts",
      "tests/http/rate.test.ts",
      "tests/chain/endings.test.ts",
      "tests/judge/{planFile,walkLimits,reach}.test.ts",
    ],
    drawnPercent: 35,
  },
];
