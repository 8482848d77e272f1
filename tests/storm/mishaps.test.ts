// Any mishaps at any moments of a whole run: it ends by a name, at rest, and with no reading wrong.
import fc from "fast-check";
import { expect, it } from "vitest";
import { Draw } from "../../accuracy/draw.ts";
import { drawRun } from "../../storm/link/drawnRun.ts";
import type { Fault } from "../../storm/link/faults.ts";
import { storm } from "../../storm/link/stormRun.ts";
import type { Witness } from "../../storm/link/witness.ts";

const ENDINGS = ["completed", "stopped", "rig fault", "link lost", "not begun"];
const LATEST_MS = 40_000;

type Stop = (code: "STOPPED_BY_USER" | "STOPPED_PAGE_GONE") => void;
type Mishap = (witness: Witness, stop: Stop, user: { isAwake: boolean }) => void;

const MISHAPS: Readonly<Record<string, Mishap>> = {
  "guard opens": (witness) => witness.setGuard(false),
  "guard shuts": (witness) => witness.setGuard(true),
  "stop input pressed": (witness) => witness.setStopInput(true),
  "stop input released": (witness) => witness.setStopInput(false),
  "spindle jams": (witness) => witness.setJam(true),
  "spindle comes free": (witness) => witness.setJam(false),
  "board reboots": (witness) => witness.reboot(),
  "user stops": (_, stop) => stop("STOPPED_BY_USER"),
  "page is gone": (_, stop) => stop("STOPPED_PAGE_GONE"),
  "user asleep": (_, __, user) => {
    user.isAwake = false;
  },
  "user awake": (_, __, user) => {
    user.isAwake = true;
  },
};

const atMs = fc.integer({ min: 0, max: LATEST_MS });
const mishaps = fc.array(fc.tuple(fc.constantFrom(...Object.keys(MISHAPS)), atMs), {
  maxLength: 5,
});
const outs = fc.array(
  fc.record({ fromMs: atMs, forMs: fc.integer({ min: 1, max: 3000 }), sameName: fc.boolean() }),
  { maxLength: 1 },
);

it("leaves a named ending, a motor that is off and a vented line", async () => {
  const endings = new Set<string>();
  await fc.assert(
    fc.asyncProperty(fc.nat(1000), mishaps, outs, async (number, planned, cable) => {
      const user = { isAwake: true };
      const faults = cable.map(
        ({ fromMs, forMs, sameName }): Fault => ({
          kind: "unplugged",
          sameName,
          ways: ["fromRig", "toRig"],
          fromMs,
          toMs: fromMs + forMs,
        }),
      );
      const { runs, unsafe, hang } = await storm({
        drawn: drawRun(new Draw("mishaps", number)),
        seed: number,
        faults,
        undisturbedMs: 60_000,
        isFresh: () => user.isAwake,
        during: ({ scheduler, witness, stop }) => {
          for (const [name, ms] of planned) {
            scheduler.after(ms, () => MISHAPS[name]?.(witness, stop, user));
          }
        },
      });
      expect(unsafe).toEqual([]);
      expect(hang).toBeNull();
      for (const { ending, wrong } of runs) {
        expect(ENDINGS).toContain(ending);
        expect(wrong).toEqual([]);
        endings.add(ending);
      }
    }),
    { numRuns: 24, seed: 8 },
  );
  expect([...endings]).toEqual(
    expect.arrayContaining(["completed", "stopped", "rig fault", "link lost"]),
  );
});
