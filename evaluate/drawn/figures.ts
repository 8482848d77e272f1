// What a run of the default plan would read of a unit, by its truth, and how much of a change can be told there.
import { installedCapsule } from "../../accuracy/truth.ts";
import type { Plan } from "../../core/plan.ts";
import type { Scenario } from "../../sim/scenario.ts";
import {
  type Branch,
  centrifugalAdvanceDeg,
  dwellLossDeg,
  dwellsDeg,
  lobeDeviationsDeg,
  sensedLateDeg,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import { VacuumLine } from "../../sim/vacuumLine.ts";
import type { Section } from "./kinds.ts";

export interface Figure {
  readonly measure: string;
  /** Distributor rpm or pascals; null where it has no place on an axis. */
  readonly at: number | null;
  readonly unit: "deg" | "Pa" | "share";
  readonly value: number;
  /** Expanded uncertainty of a decision on it: of the reading, and of what good units differ by. */
  readonly expanded: number;
}

/** What the figures of a case are read by. */
export interface Bench {
  readonly plan: Plan;
  /** As many as the run is made with. */
  readonly turnsPerReading: number;
  /** Of the printed rows, distributor degrees: they stand off a good unit's curve by so much. */
  readonly rowsExpandedDeg: number;
  /** Of the angle that advance by speed is counted from, where that is more than of any reading. */
  readonly referenceExpandedDeg: number;
  readonly sensorStandardUncertaintyPa: number;
}

/**
 * Expanded uncertainty of a reading's angle against others of the run, about what the drawn rigs have, and
 * what passes in a good unit besides (the ranges of unit.ts; common practice, no source).
 */
const READING_DEG = 0.05;
const GOOD = {
  gapDeg: 0.3,
  returnDeg: 0.1,
  lobeDeg: 0.3,
  dwellDeg: 0.5,
  dwellFallDeg: 0.2,
  /** Of the drop that is allowed. */
  dropShare: 0.3,
  openingsShare: 0.005,
} as const;
const BRANCHES = ["rising", "falling"] as const;
const STEP_S = 0.01;
const PUMPED_S = 60;

export function figuresOf(section: Section, scenario: Scenario, bench: Bench): readonly Figure[] {
  switch (section) {
    case "speed":
      return speedFigures(scenario, bench);
    case "vacuum":
      return vacuumFigures(scenario, bench);
    case "hold":
      return holdFigures(scenario, bench);
    case "lobes":
      return lobeFigures(scenario);
    case "dwell":
      return dwellFigures(scenario, bench);
    case "openings":
      return openingFigures(scenario, bench);
    case "rows":
      return [];
  }
}

/** Counted from the reference as the program does, edges as late as an input that corrects nothing has them. */
function speedFigures(scenario: Scenario, bench: Bench): readonly Figure[] {
  const { referenceRpm, speedsRpm } = bench.plan;
  const topRpm = Math.max(...speedsRpm);
  const sensed = (rpm: number, branch: Branch) =>
    centrifugalAdvanceDeg(scenario, rpm, branch, topRpm) - sensedLateDeg(scenario, rpm);
  const zeroDeg = sensed(referenceRpm, "rising");
  const curves = BRANCHES.map((branch) => speedsRpm.map((rpm) => sensed(rpm, branch) - zeroDeg));
  const homeDeg = sensed(referenceRpm, "falling") - zeroDeg;
  const standsDeg = Math.hypot(bench.rowsExpandedDeg, bench.referenceExpandedDeg);
  return [
    ...curveFigures("advance", speedsRpm, curves, standsDeg),
    figure("return", referenceRpm, "deg", homeDeg, GOOD.returnDeg),
  ];
}

/** Where the pump cannot draw the vacuum, what it can draw. */
function vacuumFigures(scenario: Scenario, bench: Bench): readonly Figure[] {
  const capsule = installedCapsule(scenario);
  if (capsule === null) return [];
  const vacuumsPa = bench.plan.capsules[0]?.vacuumsPa ?? [];
  const mostPa = reachablePa(scenario);
  const curves = BRANCHES.map((branch) =>
    vacuumsPa.map((pa) => vacuumAdvanceDeg(scenario, Math.min(pa, mostPa), branch)),
  );
  const rangePa = (capsule.rateNPerMm * capsule.travelMm) / (capsule.areaMm2 * 1e-6);
  const fullDeg = Math.abs(vacuumAdvanceDeg(scenario, 1e6, "rising"));
  const bySensor = ((2 * fullDeg) / rangePa) * bench.sensorStandardUncertaintyPa;
  const homeDeg = vacuumAdvanceDeg(scenario, 0, "falling");
  return [
    ...curveFigures(
      "vacuum advance",
      vacuumsPa,
      curves,
      Math.hypot(bench.rowsExpandedDeg, bySensor),
    ),
    figure("vacuum return", 0, "deg", homeDeg, GOOD.returnDeg),
  ];
}

function curveFigures(
  measure: string,
  places: readonly number[],
  [rising = [], falling = []]: readonly (readonly number[])[],
  rowsExpandedDeg: number,
): readonly Figure[] {
  return places.flatMap((at, i) => {
    const [up, down] = [rising[i] as number, falling[i] as number];
    return [
      figure(`${measure}, rising`, at, "deg", up, rowsExpandedDeg),
      figure(`${measure}, falling`, at, "deg", down, rowsExpandedDeg),
      figure(`${measure}, gap`, at, "deg", down - up, GOOD.gapDeg),
    ];
  });
}

function figure(
  measure: string,
  at: number | null,
  unit: Figure["unit"],
  value: number,
  good: number,
): Figure {
  return { measure, at, unit, value, expanded: Math.hypot(good, unit === "deg" ? READING_DEG : 0) };
}

/** The pump at its most against the capsule's leaks. */
export function reachablePa(scenario: Scenario): number {
  const leaks = installedCapsule(scenario)?.leaks ?? [];
  const line = new VacuumLine(scenario.rig);
  for (let i = 0; i < PUMPED_S / STEP_S; i++) line.step(STEP_S, "control", 1, 0, leaks);
  return line.vacuumPa;
}

function holdFigures(scenario: Scenario, { plan, ...bench }: Bench): readonly Figure[] {
  const hold = plan.capsules[0]?.hold ?? null;
  if (hold === null) return [];
  const good = GOOD.dropShare * hold.dropMaxPa;
  return [
    figure(
      "drop",
      hold.vacuumPa,
      "Pa",
      dropPa(scenario, hold),
      Math.hypot(good, bench.sensorStandardUncertaintyPa),
    ),
  ];
}

/** By how much the vacuum falls, closed off at what is wanted or as near to it as the pump gets. */
export function dropPa(
  scenario: Scenario,
  hold: { readonly vacuumPa: number; readonly settleS: number; readonly seconds: number },
): number {
  const leaks = installedCapsule(scenario)?.leaks ?? [];
  const line = new VacuumLine(scenario.rig);
  line.vacuumPa = Math.min(hold.vacuumPa, reachablePa(scenario));
  const rest = (seconds: number) => {
    for (let i = 0; i < seconds / STEP_S; i++) line.step(STEP_S, "hold", 0, 0, leaks);
    return line.vacuumPa;
  };
  const fromPa = rest(hold.settleS);
  return fromPa - rest(hold.seconds);
}

/** What stays with a lobe, as long as the coupling is not re-seated. */
function lobeFigures(scenario: Scenario): readonly Figure[] {
  const { rig, unit } = scenario;
  const sense = unit.rotation === "cw" ? 1 : -1;
  const late = lobeDeviationsDeg(scenario).map(({ lobe, deviationDeg }) => {
    const shaftDeg = rig.couplingDeg + (unit.lobeAnglesDeg[lobe] as number);
    const angleDeg = sense * shaftDeg - rig.couplingRunOutPhaseDeg;
    return deviationDeg - sense * rig.couplingRunOutDeg * Math.cos((angleDeg * Math.PI) / 180);
  });
  const mean = late.reduce((sum, deg) => sum + deg, 0) / late.length;
  return late.map((deg, lobe) =>
    figure(`deviation of lobe ${lobe + 1}`, null, "deg", deg - mean, GOOD.lobeDeg),
  );
}

function dwellFigures(scenario: Scenario, { plan }: Bench): readonly Figure[] {
  if (scenario.unit.triggerKind !== "contacts") return [];
  const lobes = dwellsDeg(scenario);
  const mean = lobes.reduce((sum, { dwellDeg }) => sum + dwellDeg, 0) / lobes.length;
  const topRpm = Math.max(...plan.speedsRpm);
  const fallDeg = dwellLossDeg(scenario, topRpm);
  return [
    figure("dwell", null, "deg", mean, GOOD.dwellDeg),
    figure("fall of dwell", topRpm, "deg", fallDeg, GOOD.dwellFallDeg),
  ];
}

/**
 * Openings lost at each vacuum of the sweep. Where none of n is missing, the share that may be is below
 * 3/n with 95 % confidence (the rule of three, from memory).
 */
function openingFigures(scenario: Scenario, { plan, turnsPerReading }: Bench): readonly Figure[] {
  const openings = BRANCHES.length * turnsPerReading * scenario.unit.lobeAnglesDeg.length;
  const expanded = Math.max(GOOD.openingsShare, 3 / openings);
  return (plan.capsules[0]?.vacuumsPa ?? []).map((pa) => {
    const plateDeg = vacuumAdvanceDeg(scenario, pa, "rising");
    const kept = scenario.pulses.breakingLeads
      .filter(({ plateFromDeg, plateToDeg }) => plateDeg >= plateFromDeg && plateDeg <= plateToDeg)
      .reduce((product, { share }) => product * (1 - share), 1);
    return figure("openings missing", pa, "share", 1 - kept, expanded);
  });
}
