// Bar: the same unit clamped anew measures the same, whatever coupling, reference and bench temperature are then.
import type { CurvePoint, RunResult } from "../../core/documents.ts";
import { atMost, type Bar } from "../bar.ts";
import { Draw } from "../draw.ts";
import { drawRig } from "../drawn/rig.ts";
import { drawUnit } from "../drawn/unit.ts";
import { measureReadings } from "../standIn.ts";

const CURVE_DEG = 0.3;
const START_RPM = 25;
const CLAMPINGS = 10;
/** Common practice for a workshop, no source. */
const BENCH_C = { from: 15, to: 30 } as const;

export interface ReclampResult {
  readonly curveDeg: number;
  readonly startRpm: number;
  readonly points: number;
}

async function job(index: number): Promise<ReclampResult> {
  const draw = new Draw("reclamp", index);
  const unit = drawUnit(draw);
  const rig = drawRig(draw, unit.lobes);
  const plateSeed = draw.seed();
  const runs: RunResult[] = [];
  for (let i = 0; i < CLAMPINGS; i++) {
    const settings = { ...rig.settings, couplingDeg: draw.uniform(0, 359.9) };
    const scenario = {
      ...unit.scenario,
      // The seed is also the bush's and the pickup's, which stay the same.
      seed: plateSeed,
      temperatureC: draw.uniform(BENCH_C.from, BENCH_C.to),
      rig: settings,
    };
    const plan = { referenceRpm: draw.whole(60, 120), hold: false };
    const { end } = await measureReadings({ unit: unit.unitFile, scenario, plan, rig: rig.stated });
    runs.push(end.result);
  }
  const curves = runs.map(({ speed }) => [
    ...speed.rising.map((point) => at(point, "up")),
    ...speed.falling.map((point) => at(point, "down")),
  ]);
  const places = [...new Set(curves.flatMap((curve) => curve.map(({ place }) => place)))];
  const spreads = places.map((place) =>
    range(curves.flatMap((curve) => curve.filter((p) => p.place === place).map((p) => p.deg))),
  );
  const starts = (["rising", "falling"] as const).map((branch) =>
    range(
      runs.flatMap(({ rows }) =>
        rows
          .filter((row) => row.unit === "rpm" && row.branch === branch && row.measured !== null)
          .map((row) => row.measured as number),
      ),
    ),
  );
  return {
    curveDeg: Math.max(...spreads),
    startRpm: Math.max(...starts),
    points: curves.flat().length,
  };
}

function at({ targetX, advanceDeg }: CurvePoint, way: string) {
  return { place: `${way} ${targetX}`, deg: advanceDeg };
}

function range(values: readonly number[]): number {
  return values.length === 0 ? Number.NaN : Math.max(...values) - Math.min(...values);
}

export const reclamp: Bar<ReclampResult> = {
  name: "reclamp",
  counts: { short: 12, long: 60 },
  job,
  figures: (results) => {
    const points = results.reduce((sum, result) => sum + result.points, 0);
    const worst = (value: (result: ReclampResult) => number) => Math.max(...results.map(value));
    return [
      atMost(
        "curve spans over ten clampings",
        worst((r) => r.curveDeg),
        CURVE_DEG,
        points,
        "°",
      ),
      atMost(
        "start of advance spans over ten clampings",
        worst((r) => r.startRpm),
        START_RPM,
        results.length * CLAMPINGS,
        " rpm",
        1,
      ),
    ];
  },
};
