// Bar: the default plan on a published curve, through the image.
import { atMost, type Bar } from "../../../accuracy/bar.ts";
import { measureReadings } from "../../../accuracy/standIn.ts";
import { pascalsFrom } from "../../../core/units.ts";
import { type ImageEdges, imageBoards, rigFor } from "../images.ts";

/** Lotus Europa workshop manual, four-cylinder, non-emission engine: distributor rpm and degrees, mmHg. */
const SPEED = [
  [550, 0],
  [920, 7.8],
  [1000, 8],
  [2000, 13],
  [3000, 18],
] as const;
const VACUUM = [
  [100, 1.5],
  [200, 4.6],
  [300, 6.5],
  [400, 7],
] as const;
const EDGES: readonly ImageEdges[] = [1, 36];

export interface PlanResult {
  readonly edges: ImageEdges;
  readonly farthestDeg: number;
  readonly points: number;
}

async function job(index: number): Promise<PlanResult> {
  const edges = EDGES[index] as ImageEdges;
  const source = "Lotus Europa workshop manual";
  const judged = { degrees: "distributor", judgedOn: "rising", source };
  const { end } = await measureReadings({
    unit: {
      description: source,
      lobes: 4,
      rotation: "cw",
      speed: {
        ...judged,
        rpm: "distributor",
        rows: SPEED.map(([at, degrees]) => ({ at, degrees })),
      },
      capsules: [
        {
          ...judged,
          name: "capsule",
          acts: "advance",
          vacuum: "mmHg",
          rows: VACUUM.map(([at, degrees]) => ({ at, degrees })),
        },
      ],
    },
    scenario: {
      mechanism: {
        speedTable: [[0, 0], ...SPEED],
        vacuumTable: [[0, 0], ...VACUUM.map(([at, deg]) => [pascalsFrom(at, "mmHg") / 1000, deg])],
      },
      rig: rigFor(edges),
    },
    makeBoard: imageBoards(edges),
  });
  const off = (about: "speed" | "vacuum", x: number, deg: number) => {
    const row = end.result.rows.find(
      (one) => one.about === about && Math.abs((one.x ?? Number.NaN) - x) < 1,
    );
    return Math.abs((row?.measured ?? Number.POSITIVE_INFINITY) - deg);
  };
  const farthestDeg = Math.max(
    ...SPEED.map(([rpm, deg]) => off("speed", rpm, deg)),
    ...VACUUM.map(([mmHg, deg]) => off("vacuum", pascalsFrom(mmHg, "mmHg"), deg)),
  );
  return { edges, farthestDeg, points: SPEED.length + VACUUM.length };
}

export const plan: Bar<PlanResult> = {
  name: "plan",
  counts: { short: 1, long: EDGES.length },
  job,
  figures: (results) =>
    results.map(({ edges, farthestDeg, points }) =>
      atMost(
        `printed points of a published curve, ${edges} pickup edges a turn: farthest`,
        farthestDeg,
        0.05,
        points,
        "°",
      ),
    ),
};
