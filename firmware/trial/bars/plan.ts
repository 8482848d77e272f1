// Bar: the default plan on a published curve, through the image.
import { atMost, type Bar } from "../../../accuracy/bar.ts";
import { measureReadings } from "../../../accuracy/standIn.ts";
import { type ImageEdges, imageBoards, rigFor } from "../images.ts";
import { offPrinted, PRINTED_POINTS, PUBLISHED_MECHANISM, PUBLISHED_UNIT } from "../published.ts";

const EDGES: readonly ImageEdges[] = [1, 36];

export interface PlanResult {
  readonly edges: ImageEdges;
  readonly farthestDeg: number;
  readonly points: number;
}

async function job(index: number): Promise<PlanResult> {
  const edges = EDGES[index] as ImageEdges;
  const { end } = await measureReadings({
    unit: PUBLISHED_UNIT,
    scenario: { mechanism: PUBLISHED_MECHANISM, rig: rigFor(edges) },
    makeBoard: imageBoards(edges),
  });
  const offs = offPrinted(end.result.rows);
  // A point that was not measured is no good point.
  const farthestDeg = offs.length < PRINTED_POINTS ? Number.POSITIVE_INFINITY : Math.max(...offs);
  return { edges, farthestDeg, points: offs.length };
}

export const plan: Bar<PlanResult> = {
  name: "plan",
  // In the short share the same curve is measured by a shorter plan, over a pseudo-terminal (paced.ts).
  counts: { short: 0, long: EDGES.length },
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
