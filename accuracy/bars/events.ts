// Bar: false and missing events in one turn out of twenty hardly move a result.
import { atMost, type Bar, beside } from "../bar.ts";
import { Draw } from "../draw.ts";
import { measureReadings } from "../standIn.ts";
import { drawTableUnit } from "../tableUnit.ts";

const LIMIT_DEG = 0.02;
/** Share of turns. A unit misses openings by the opening, so its share is that of the turn over the lobes. */
const TURNS_SHARE = 0.05;

export interface EventsResult {
  readonly points: number;
  /** Largest move of a point of the curve against the same unit and rig without such events. */
  readonly falseDeg: number;
  readonly missingDeg: number;
  /** Largest move of dwell by either, and of scatter. */
  readonly dwellDeg: number;
  readonly scatterDeg: number;
}

async function job(index: number): Promise<EventsResult> {
  const draw = new Draw("events", index);
  const lobes = draw.oneOf([4, 6, 8]);
  const unit = drawTableUnit(draw, lobes);
  const rig = {
    pickupEdges: draw.oneOf([1, 36]),
    couplingDeg: draw.uniform(0, 359.9),
    eventJitterUs: 1.5,
    indexJitterUs: 1,
  };
  const seed = draw.seed();
  const resultWith = async (events: Record<string, number>) => {
    const scenario = { ...unit.scenario, seed, rig: { ...rig, ...events } };
    return (await measureReadings({ unit: unit.unitFile, scenario })).end.result;
  };
  const clean = await resultWith({});
  const disturbed = [
    await resultWith({ falseEventShare: TURNS_SHARE }),
    await resultWith({ missingEventShare: TURNS_SHARE / lobes }),
  ];
  const before = [...clean.speed.rising, ...clean.speed.falling];
  // Both runs' speeds differ by their own noise, so each is held against the table at its own speed.
  const errorsOf = ({ speed }: typeof clean) =>
    [...speed.rising, ...speed.falling].map((p) => p.advanceDeg - unit.advanceDeg(p.x));
  const [falseDeg, missingDeg] = disturbed.map((result) => {
    const after = errorsOf(result);
    if (after.length !== before.length) return Number.POSITIVE_INFINITY;
    return Math.max(...errorsOf(clean).map((error, i) => Math.abs((after[i] as number) - error)));
  }) as [number, number];
  const moved = (value: (result: typeof clean) => number | null) =>
    Math.max(...disturbed.map((result) => Math.abs((value(result) ?? 0) - (value(clean) ?? 0))));
  return {
    points: 2 * before.length,
    falseDeg,
    missingDeg,
    dwellDeg: moved(({ dwellDeg }) => dwellDeg),
    scatterDeg: moved(({ scatterDeg }) => scatterDeg),
  };
}

export const events: Bar<EventsResult> = {
  name: "events",
  counts: { short: 40, long: 200 },
  job,
  figures: (results) => {
    const points = results.reduce((sum, result) => sum + result.points, 0);
    const worst = (value: (result: EventsResult) => number) => Math.max(...results.map(value));
    return [
      atMost(
        "curve moves, false events in 5 % of turns",
        worst((r) => r.falseDeg),
        LIMIT_DEG,
        points,
        "°",
      ),
      atMost(
        "curve moves, a missing event in 5 % of turns",
        worst((r) => r.missingDeg),
        LIMIT_DEG,
        points,
        "°",
      ),
      beside("… dwell moves by either", `${worst((r) => r.dwellDeg).toFixed(4)}°`, results.length),
      beside(
        "… scatter moves by either",
        `${worst((r) => r.scatterDeg).toFixed(4)}°`,
        results.length,
      ),
    ];
  },
};
