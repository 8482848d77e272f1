// A workshop at a drawn unit: what springs are in it, a drawer of others, and what becomes of it by a step.
import type { DrawerSpring } from "../core/drawer/drawer.ts";
import type { Installed } from "../core/refit/installed.ts";
import type { Step } from "../core/refit/step.ts";
import type { Band } from "../core/unit.ts";
import { installedMechanism } from "../sim/installedUnit.ts";
import { type CentrifugalUnit, placesAt, type Spring } from "../sim/mechanism.ts";
import { parseScenario } from "../sim/scenario.ts";
import { centrifugalAdvanceDeg } from "../sim/truth.ts";
import type { File } from "./drawn/ground.ts";

const MM = 1e-3;
const RATIOS = Array.from({ length: 38 }, (_, i) => 0.4 * 1.05 ** i);
const RATE_SHARE = 0.03;
const KNEE_STEP_DEG = 1;

/** The scenario with its spring faults worked into the springs, so that they can be changed like others. */
export function opened(scenario: File): File {
  const unit = unitOf(scenario);
  const faults = (scenario.faults as { fault: string }[]).filter(
    ({ fault }) => !fault.startsWith("spring-"),
  );
  return {
    ...scenario,
    faults,
    mechanism: { ...(scenario.mechanism as object), springs: unit.springs },
  };
}

/** Without error. */
export function installedIn(scenario: File): Installed {
  const unit = unitOf(scenario);
  const [first, second] = unit.springs.map((spring, i) => ({
    spring: asDrawerSpring(`in, ${i + 1}`, spring, 1),
    restLengthM: lengthMm(unit, i) * MM,
    stopLengthM: lengthMm(unit, i, unit.stopDeg) * MM,
  }));
  return { first: first ?? null, second: second ?? null };
}

/** Springs of many rates, as long and as tight as those of the scenario's unit. */
export function drawerFor(scenario: File): readonly DrawerSpring[] {
  return unitOf(scenario).springs.flatMap((spring, i) =>
    RATIOS.map((ratio) =>
      asDrawerSpring(`${i + 1} × ${ratio.toFixed(3)}`, scaled(spring, ratio), 4),
    ),
  );
}

export function after(
  scenario: File,
  steps: readonly Step[],
  drawer: readonly DrawerSpring[],
): File {
  const unit = unitOf(scenario);
  let springs = unit.springs;
  let { stopDeg } = unit;
  const change = (which: number, by: (spring: Spring) => Spring) => {
    springs = springs.map((spring, i) => (i === which ? by(spring) : spring));
  };
  for (const step of steps) {
    if (step.kind === "stop") stopDeg += step.deg;
    else if (step.kind === "spring") {
      const found = drawer.find(({ name }) => name === step.name);
      if (found === undefined) throw new Error(`no spring ${step.name}`);
      change(step.which === "first" ? 0 : 1, (was) => ({
        ...was,
        rateNPerMm: (found.measuredRate?.rateNPerM ?? 0) * MM,
        lengthMm: found.freeLengthM / MM,
        tensionN: found.initialTensionN,
        slackMm: found.loopLengthM / MM,
      }));
    } else if (step.kind === "first post") {
      // Posts farther apart stretch the spring as a shorter one would be.
      change(0, (was) => {
        if (step.bendM !== null) return { ...was, lengthMm: was.lengthMm - step.bendM / MM };
        const stretchMm = lengthMm({ ...unit, springs }, 0) - was.lengthMm - was.slackMm;
        const loadN = was.tensionN + was.rateNPerMm * Math.max(0, stretchMm);
        return {
          ...was,
          lengthMm: was.lengthMm - (((step.loadRatio ?? 1) - 1) * loadN) / was.rateNPerMm,
        };
      });
    } else {
      change(1, (was) => ({
        ...was,
        slackMm: Math.max(0, was.slackMm + step.kneeDeg * mmPerDeg({ ...unit, springs }, 1)),
      }));
    }
  }
  return {
    ...scenario,
    mechanism: { ...(scenario.mechanism as object), springs, stopDeg },
  };
}

/** Whether the true curve lies within every printed row. */
export function isWithin(scenario: File, band: Band): boolean {
  const parsed = parseScenario(scenario, "changed unit");
  const branches = band.judgedOn === "both" ? (["rising", "falling"] as const) : [band.judgedOn];
  return branches.every((branch) => {
    const at = (rpm: number) => centrifugalAdvanceDeg(parsed, rpm, branch);
    return band.rows.every((row) => {
      if (row.kind === "start") return at(row.fromX) < STARTED_DEG && at(row.toX) > 0;
      const deg = at(row.x ?? MOST_RPM);
      return deg <= (row.limitsDeg.max ?? deg) && deg >= (row.limitsDeg.min ?? deg);
    });
  });
}

const STARTED_DEG = 0.05;
const MOST_RPM = 10_000;

function unitOf(scenario: File): CentrifugalUnit {
  const unit = installedMechanism(parseScenario(scenario, "unit"))?.centrifugal ?? null;
  if (unit === null) throw new Error("the unit has no weights");
  return unit;
}

function lengthMm(unit: CentrifugalUnit, spring: number, advanceDeg = 0): number {
  const place = placesAt(unit, advanceDeg).springs[spring];
  if (place === undefined) throw new Error("no such spring");
  return Math.hypot(place.base.x - place.moving.x, place.base.y - place.moving.y);
}

function mmPerDeg(unit: CentrifugalUnit, spring: number): number {
  return (lengthMm(unit, spring, KNEE_STEP_DEG) - lengthMm(unit, spring)) / KNEE_STEP_DEG;
}

function scaled(spring: Spring, ratio: number): Spring {
  return { ...spring, rateNPerMm: spring.rateNPerMm * ratio, tensionN: spring.tensionN * ratio };
}

function asDrawerSpring(name: string, spring: Spring, quantity: number): DrawerSpring {
  const rateNPerM = spring.rateNPerMm / MM;
  return {
    name,
    quantity,
    wire: null,
    measuredRate: { rateNPerM, expandedUncertaintyNPerM: RATE_SHARE * rateNPerM },
    freeLengthM: spring.lengthMm * MM,
    initialTensionN: spring.tensionN,
    loopLengthM: spring.slackMm * MM,
  };
}
