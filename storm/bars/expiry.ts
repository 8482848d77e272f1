// Bar: the host is gone, in whatever way and at whatever moment: the rig has drive and pump off in its time.
import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { none } from "../figures.ts";
import { drawRun } from "../link/drawnRun.ts";
import type { Fault } from "../link/faults.ts";
import { type Storm, storm } from "../link/stormRun.ts";

const NAME = "expiry";
/** Clause 6.1. */
const LIMIT_MS = 500;
/** Most runs turn by the first of these and still do at the last. */
const MOMENT_MS = { from: 1000, to: 35_000 } as const;
const WAYS = ["link lost", "page closed", "server frozen"] as const;
const BOTH = ["fromRig", "toRig"] as const;

export interface ExpiryResult {
  readonly way: (typeof WAYS)[number];
  /** Whether the drive was on at that moment. */
  readonly driven: boolean;
  readonly storm: Storm;
}

async function job(index: number): Promise<ExpiryResult> {
  const draw = new Draw(NAME, index);
  const drawn = drawRun(draw);
  const way = draw.oneOf(WAYS);
  const atMs = draw.uniform(MOMENT_MS.from, MOMENT_MS.to);
  let driven = false;
  let isOpen = true;
  const played = await storm({
    drawn,
    seed: draw.seed(),
    faults: [...faultsOf(way, atMs), ...noise(draw)],
    undisturbedMs: 600_000,
    isFresh: () => isOpen,
    during: ({ scheduler, witness }) => {
      scheduler.after(atMs, () => {
        driven = witness.isDriven;
        if (way === "page closed") isOpen = false;
      });
    },
  });
  return { way, driven, storm: played };
}

function faultsOf(way: ExpiryResult["way"], fromMs: number): readonly Fault[] {
  const forEver = { ways: BOTH, fromMs, toMs: Number.POSITIVE_INFINITY };
  if (way === "link lost") return [{ kind: "unplugged", sameName: true, ...forEver }];
  // Of a server whose loop stands still the rig hears nothing more, and it hears nothing of the rig.
  if (way === "server frozen") return [{ kind: "stalled", kept: false, ...forEver }];
  return [];
}

/** The last stay-alives may be those that did not get through. */
function noise(draw: Draw): readonly Fault[] {
  if (!draw.chance(0.3)) return [];
  const share = draw.logUniform(1e-4, 3e-3);
  return [{ kind: "flipped", share, ways: ["toRig"], fromMs: 0, toMs: Number.POSITIVE_INFINITY }];
}

function figures(results: readonly ExpiryResult[]): readonly Figure[] {
  const driven = results.filter((one) => one.driven);
  const storms = results.map((one) => one.storm);
  const ways = WAYS.map((way) => {
    const own = driven.filter((one) => one.way === way);
    const worstMs = 1000 * Math.max(0, ...own.map((one) => one.storm.worstAliveS));
    return atMost(`${way}: last stay-alive to drive off`, worstMs, LIMIT_MS, own.length, " ms", 0);
  });
  return [
    ...ways,
    none("unsafe moments or ends", storms, (one) => one.unsafe),
    none("runs without an end in their time", storms, ({ hang }) => (hang === null ? [] : [hang])),
    none("completed without a host", driven, ({ storm: { runs } }) =>
      runs[0]?.ending === "completed" ? ["completed"] : [],
    ),
    beside("drive was off at the moment", String(results.length - driven.length), results.length),
  ];
}

export const expiry: Bar<ExpiryResult> = {
  name: NAME,
  counts: { short: 1000, long: 10_000 },
  job,
  figures,
};
