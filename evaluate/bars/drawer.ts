// Bar: advice over a drawer of 1,000 springs comes while one waits.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { measure } from "../../accuracy/standIn.ts";
import { type DrawerSpring, rateOf } from "../../core/drawer/drawer.ts";
import { MUSIC_WIRE_SHEAR_MODULUS_PA } from "../../core/drawer/spring.ts";
import { advise } from "../../core/refit/advise.ts";
import type { Installed } from "../../core/refit/installed.ts";
import { type MeasuredUnit, measuredUnit } from "../../core/refit/measuredUnit.ts";
import { specified } from "../../core/refit/target.ts";
import type { Band } from "../../core/unit.ts";
import { drawCase } from "../drawn/case.ts";
import { installedIn, opened } from "../workshop.ts";

const SPRINGS = 1000;
const LIMIT_S = 2;
const KINDS = ["spring-light", "spring-stretched"] as const;

interface Advised {
  readonly seconds: number;
}

interface Bench {
  readonly unit: MeasuredUnit;
  readonly band: Band;
  readonly installed: Installed;
}

async function job(index: number): Promise<Advised> {
  const { unit, band, installed } = await benchOf(index);
  const drawer = drawDrawer(new Draw("drawer springs", index), installed);
  // Waiting time, which is never less than the processor's own.
  const fromMs = performance.now();
  advise(unit, band, drawer, installed);
  return { seconds: (performance.now() - fromMs) / 1000 };
}

/** A measured unit with a second spring that was seen: without one there would be no pairs. */
async function benchOf(index: number): Promise<Bench> {
  for (let i = 0; ; i++) {
    const kind = KINDS[index % KINDS.length] as (typeof KINDS)[number];
    const drawn = drawCase(`drawer ${i}`, index, { kinds: [kind], clarity: "clear" });
    const scenario = opened(drawn.scenario);
    const installed = installedIn(scenario);
    if (installed.second === null) continue;
    const { unitFile: unit, rig } = drawn;
    const { documents, end } = await measure({ unit, scenario, rig });
    const start = documents.find((document) => document.type === "start");
    const band = start?.unit.speedBand ?? null;
    if (start === undefined || band === null) throw new Error("the unit has no band");
    const { referenceRpm } = start.plan;
    const { rising, falling } = end.result.speed;
    const measured = measuredUnit([{ rising, falling, installed, referenceRpm }], specified(band));
    if (measured !== null && measured.kneeDeg !== null) return { unit: measured, band, installed };
  }
}

const RATE_RATIOS = [0.3, 3] as const;
/** How far apart springs may be in length and still hang alike. */
const LENGTH_LIMIT_M = 0.25e-3;
const COIL_DIAMETER_M = 6e-3;
const RATE_SHARE = 0.03;

/**
 * Around the springs that are in, all as long as the second one, so that each can be either of a pair.
 * Half with a measured rate, half with wire and coils only.
 */
export function drawDrawer(draw: Draw, { first, second }: Installed): readonly DrawerSpring[] {
  if (first === null || second === null) throw new Error("the unit has no two springs");
  return Array.from({ length: SPRINGS }, (_, i): DrawerSpring => {
    const like = draw.oneOf([first.spring, second.spring]);
    const ratio = draw.logUniform(...RATE_RATIOS);
    const rateNPerM = ratio * rateOf(like).rateNPerM;
    const loopLengthM = second.spring.loopLengthM;
    return {
      name: `spring ${i + 1}`,
      quantity: 1,
      freeLengthM: second.spring.freeLengthM + draw.uniform(-LENGTH_LIMIT_M, LENGTH_LIMIT_M),
      initialTensionN: ratio * like.initialTensionN,
      loopLengthM,
      ...(i % 2 === 0
        ? {
            wire: null,
            measuredRate: { rateNPerM, expandedUncertaintyNPerM: RATE_SHARE * rateNPerM },
          }
        : { wire: wireFor(rateNPerM, draw.uniform(8, 16)), measuredRate: null }),
    };
  });
}

/** d = (8 k D³ n / G)^¼, from k = G d⁴ / (8 D³ n). */
function wireFor(rateNPerM: number, activeCoils: number): DrawerSpring["wire"] {
  const shearModulusPa = MUSIC_WIRE_SHEAR_MODULUS_PA;
  const meanCoilDiameterM = COIL_DIAMETER_M;
  const wireDiameterM =
    ((8 * rateNPerM * meanCoilDiameterM ** 3 * activeCoils) / shearModulusPa) ** 0.25;
  return { wireDiameterM, meanCoilDiameterM, activeCoils, shearModulusPa };
}

export const drawer: Bar<Advised> = {
  name: "drawer",
  counts: { short: 20, long: 60 },
  job,
  figures: (results): readonly Figure[] => {
    const times = results.map(({ seconds }) => seconds).sort((a, b) => a - b);
    const worst = times.at(-1) ?? Number.NaN;
    const median = times[Math.floor(times.length / 2)] ?? Number.NaN;
    return [
      {
        what: `advice over a drawer of ${SPRINGS} springs, all pairs: worst`,
        measured: secondsText(worst),
        limit: `≤ ${LIMIT_S} s`,
        count: results.length,
        met: worst <= LIMIT_S,
      },
      beside("… the median unit's", secondsText(median), results.length),
    ];
  },
};

function secondsText(seconds: number): string {
  return `${seconds.toFixed(2)} s`;
}
