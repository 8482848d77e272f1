// Bar: the advised change brings units with a wrong spring into their band, the first time or the second.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
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
import { percent, shareAtLeast, shareBeside } from "../shares.ts";
import { after, drawerFor, installedIn, isWithin, opened } from "../workshop.ts";
import { WorkshopReading } from "../workshopReading.ts";

const KINDS = ["spring-light", "spring-heavy", "spring-stretched"] as const;
const FIRST_MIN = 0.9;
const SECOND_MIN = 0.99;

/** Draws that nothing was tuned on. */
const DRAWS = "refit by likely geometries";
/** Of the chance that is told: the advices of each such stretch are counted together. */
const STRETCHES = [0, 0.5, 0.8, 0.95, 1.01] as const;

export interface Refitted {
  readonly index: number;
  readonly kind: string;
  readonly first: boolean;
  readonly second: boolean;
  /** Chance told for the first advice. */
  readonly chance: number;
  /** The same where springs and posts are read with errors. */
  readonly asRead: Pick<Refitted, "first" | "second" | "chance">;
  /** By the spring that corrects the start alone. */
  readonly byStart: boolean;
  readonly steps: readonly (readonly Step[])[];
}

async function job(index: number): Promise<Refitted> {
  const kind = KINDS[index % KINDS.length] as (typeof KINDS)[number];
  const drawn = drawCase(DRAWS, index, { kinds: [kind], clarity: "clear" });
  const start = opened(drawn.scenario);
  const seen = await visit(drawn, start);
  const reading = new WorkshopReading(new Draw(`${DRAWS}, as read`, index));
  const { first, second, chance } = await refitted(drawn, start, seen, reading);
  return {
    index,
    kind,
    ...(await refitted(drawn, start, seen, null)),
    asRead: { first, second, chance },
    byStart: isWithin(byStartAlone(drawn, start, seen.band), seen.band),
  };
}

interface Visit extends Omit<Curve, "installed"> {
  readonly band: Band;
}

async function visit({ unitFile, rig }: DrawnCase, scenario: File): Promise<Visit> {
  const run = await measure({ unit: unitFile, scenario, rig });
  const start = run.documents.find((document) => document.type === "start");
  const band = start?.unit.speedBand ?? null;
  if (start === undefined || band === null) throw new Error("the unit has no band");
  const { rising, falling } = run.end.result.speed;
  return { rising, falling, referenceRpm: start.plan.referenceRpm, band };
}

/** Once, and where that did not do once more. */
async function refitted(
  drawn: DrawnCase,
  start: File,
  seen: Visit,
  reading: WorkshopReading | null,
): Promise<Pick<Refitted, "first" | "second" | "chance" | "steps">> {
  const exact = drawerFor(drawn.healthy.scenario);
  const drawer = reading?.drawer(exact) ?? exact;
  const changed = (scenario: File, { band, ...points }: Visit, earlier: readonly Curve[]) => {
    const installed = reading?.installed(installedIn(scenario)) ?? installedIn(scenario);
    const states = [{ ...points, installed }, ...earlier];
    const unit = measuredUnit(states, specified(band));
    const advice = unit === null ? undefined : advise(unit, band, drawer, installed).advice[0];
    const steps = advice?.steps ?? [];
    reading?.changed(steps);
    const next = after(scenario, steps, exact);
    return { next, steps, states, chance: advice?.chance ?? 0, met: isWithin(next, band) };
  };
  const one = changed(start, seen, []);
  const { met: first, chance } = one;
  if (first) return { first, second: true, chance, steps: [one.steps] };
  const two = changed(one.next, await visit(drawn, one.next), one.states);
  return { first, second: two.met, chance, steps: [one.steps, two.steps] };
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
      ...reliability("… told for the first", results),
      ...asRead(results.map((one) => one.asRead)),
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

type Told = Pick<Refitted, "first" | "second" | "chance">;

function asRead(results: readonly Told[]): readonly Figure[] {
  const [of, what] = [results.length, "… springs and posts read with errors:"];
  const first = results.filter((one) => one.first).length;
  const second = results.filter((one) => one.second).length;
  return [
    shareBeside(`${what} after the first`, first, of),
    shareBeside(`${what} after the second`, second, of),
    ...reliability(`${what} told for the first`, results),
  ];
}

/** The mean chance told beside the share that came in, of all and by stretches of the chance. */
function reliability(what: string, results: readonly Told[]): readonly Figure[] {
  const line = (name: string, among: readonly Told[]) => {
    const told = among.reduce((sum, { chance }) => sum + chance, 0) / among.length;
    const share = among.filter(({ first }) => first).length / among.length;
    return beside(name, `${percent(told)}, within ${percent(share)}`, among.length);
  };
  const stretches = STRETCHES.slice(1).flatMap((to, i) => {
    const from = STRETCHES[i] as number;
    const among = results.filter(({ chance }) => chance >= from && chance < to);
    const upTo = Math.min(1, to).toFixed(2);
    return among.length === 0 ? [] : [line(`${what}, ${from.toFixed(2)} to ${upTo}`, among)];
  });
  return results.length === 0 ? [] : [line(what, results), ...stretches];
}
