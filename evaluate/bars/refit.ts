// Bar: the advised change brings units with a wrong spring into their band, the first time or the second.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { measure } from "../../accuracy/standIn.ts";
import { advise } from "../../core/refit/advise.ts";
import type { Curve } from "../../core/refit/geometry.ts";
import { measuredUnit } from "../../core/refit/measuredUnit.ts";
import type { Step } from "../../core/refit/step.ts";
import { specified } from "../../core/refit/target.ts";
import type { Band } from "../../core/unit.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { centrifugalStartRpm } from "../../sim/truth.ts";
import { type DrawnCase, drawCase } from "../drawn/case.ts";
import type { File } from "../drawn/ground.ts";
import { shareAtLeast, shareBeside } from "../shares.ts";
import { after, drawerFor, installedIn, isWithin, opened } from "../workshop.ts";

const KINDS = ["spring-light", "spring-heavy", "spring-stretched"] as const;
const FIRST_MIN = 0.9;
const SECOND_MIN = 0.99;

interface Refitted {
  readonly index: number;
  readonly kind: string;
  readonly first: boolean;
  readonly second: boolean;
  /** By the spring that corrects the start alone. */
  readonly byStart: boolean;
  readonly steps: readonly (readonly Step[])[];
}

async function job(index: number): Promise<Refitted> {
  const kind = KINDS[index % KINDS.length] as (typeof KINDS)[number];
  const drawn = drawCase("refit", index, { kinds: [kind], clarity: "clear" });
  const start = opened(drawn.scenario);
  const { next, steps, band, states } = await changed(drawn, start, []);
  const first = isWithin(next, band);
  const again = first ? null : await changed(drawn, next, states);
  return {
    index,
    kind,
    first,
    second: again === null || isWithin(again.next, band),
    byStart: isWithin(byStartAlone(drawn, start, band), band),
    steps: [steps, ...(again === null ? [] : [again.steps])],
  };
}

/** Measured, advised by this and all earlier states, and changed once. */
async function changed(
  { unitFile, rig, healthy }: DrawnCase,
  scenario: File,
  earlier: readonly Curve[],
) {
  const run = await measure({ unit: unitFile, scenario, rig });
  const start = run.documents.find((document) => document.type === "start");
  const band = start?.unit.speedBand ?? null;
  if (start === undefined || band === null) throw new Error("the unit has no band");
  const { rising, falling } = run.end.result.speed;
  const installed = installedIn(scenario);
  const { referenceRpm } = start.plan;
  const states = [{ rising, falling, installed, referenceRpm }, ...earlier];
  const unit = measuredUnit(states, specified(band));
  if (unit === null) return { next: scenario, steps: [], band, states };
  const drawer = drawerFor(healthy.scenario);
  const steps = advise(unit, band, drawer, installed).advice[0]?.steps ?? [];
  return { next: after(scenario, steps, drawer), steps, band, states };
}

/** What a hand does without a forecast: the first spring whose load puts the start right. */
function byStartAlone({ healthy }: DrawnCase, scenario: File, band: Band): File {
  const row = band.rows.find(({ kind }) => kind === "start" || kind === "noneBelow");
  const drawer = drawerFor(healthy.scenario).filter(({ name }) => name.startsWith("1"));
  const begins = (file: File) => startRpm(file);
  const wanted =
    row?.kind === "start"
      ? (row.fromX + row.toX) / 2
      : row?.kind === "noneBelow"
        ? 1.1 * row.x
        : begins(scenario);
  let best = { off: Math.abs(begins(scenario) - wanted), file: scenario };
  for (const { name } of drawer) {
    const file = after(scenario, [{ kind: "spring", which: "first", name }], drawer);
    const off = Math.abs(begins(file) - wanted);
    if (off < best.off) best = { off, file };
  }
  return best.file;
}

function startRpm(file: File): number {
  return centrifugalStartRpm(parseScenario(file, "unit"), "rising") ?? 0;
}

export const refit: Bar<Refitted> = {
  name: "refit",
  counts: { short: 100, long: 400 },
  job,
  figures: (results): readonly Figure[] => {
    const count = (is: (one: Refitted) => boolean) => results.filter(is).length;
    const of = results.length;
    const first = count((one) => one.first);
    const second = count((one) => one.second);
    return [
      shareAtLeast("within the band after the first advised change", first, of, FIRST_MIN),
      shareAtLeast("… after the second", second, of, SECOND_MIN),
      shareBeside(
        "… by the spring that corrects the start alone",
        count((one) => one.byStart),
        of,
      ),
      ...results
        .filter(({ second }) => !second)
        .map(({ index, kind, steps }) =>
          beside(
            "… not within",
            `${kind} ${index}: ${steps.map((one) => one.map((step) => step.kind).join(" + ") || "nothing").join(", then ")}`,
            1,
          ),
        ),
    ];
  },
};
