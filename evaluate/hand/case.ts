// One gross fault on a drawn unit, or none, and six readings of it taken by hand.
import { Draw } from "../../accuracy/draw.ts";
import { drawRig } from "../../accuracy/drawn/rig.ts";
import type { ByHandMeans } from "../../core/byHand/byHand.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { pascalsFrom, vacuumFromPascals } from "../../core/units.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import { centrifugalAdvanceDeg, vacuumAdvanceDeg } from "../../sim/truth.ts";
import { type Faulting, faultingOf, withChanges } from "../drawn/change.ts";
import { dropPa, reachablePa } from "../drawn/figures.ts";
import { type File, type Ground, groundOf } from "../drawn/ground.ts";
import { type FaultKind, needsOf } from "../drawn/kinds.ts";
import { magnitudeAt, shareFor } from "../drawn/solve.ts";
import { drawWording, specificationOf } from "../drawn/specification.ts";
import { drawGoodUnit, scenarioOf } from "../drawn/unit.ts";
import { fiveVacuums, type HandPlace, sixSpeeds } from "./places.ts";

export type HandSweep = "speed" | "vacuum";

/** Those that degree marks show, and those that a hand pump shows. */
export const HAND_KINDS = {
  speed: [
    "weights-stuck",
    "weights-dry",
    "weights-not-returning",
    "spring-stretched",
    "spring-light",
    "spring-heavy",
    "first-spring-missing",
    "second-spring-missing",
    "stop-worn",
    "second-spring-loop-worn",
  ],
  vacuum: [
    "diaphragm-torn",
    "capsule-leak",
    "plate-stuck",
    "link-off",
    "plate-sticking",
    "capsule-spring-wrong",
  ],
} as const satisfies Record<HandSweep, readonly FaultKind[]>;

export type HandKind = (typeof HAND_KINDS)[HandSweep][number];

export interface HandCase {
  readonly kind: HandKind | null;
  readonly sweep: HandSweep;
  readonly unitFile: File;
  /** As `bobweight by-hand` takes them. */
  readonly notes: string;
  /** The largest change of a reading by the fault, over what the reader may be off. */
  readonly multiple: number;
}

/** Expanded uncertainty (95 %) of the reader, distributor degrees; and of his gauges, limits either way. */
const READER_DEG = 1;
const RPM_LIMIT = 10;
const VACUUM_LIMIT_PA = pascalsFrom(0.5, "inHg");
/** Degrees he rounds to. */
const MARK_DEG = 0.5;
/** Gross: moves a reading by so many times what the reader may be off. */
const GROSS = [4, 12] as const;
const TRIES = 2000;

/** A worn stop is given more room than on the rig: by hand only much of it shows. */
const STOP_SHARE = 0.9;

/** @throws where no drawn unit shows the fault so */
export function drawHandCase(
  name: string,
  index: number,
  sweep: HandSweep,
  kind: HandKind | null,
): HandCase {
  const draw = new Draw(name, index);
  for (let i = 0; i < TRIES; i++) {
    const found = attempt(draw, sweep, kind);
    if (found !== null) return found;
  }
  throw new Error(`no unit shows ${kind} grossly`);
}

function attempt(draw: Draw, sweep: HandSweep, kind: HandKind | null): HandCase | null {
  const needs = needsOf(kind === null ? [] : [kind]);
  const unit = drawGoodUnit(draw, { ...needs, capsule: needs.capsule || sweep === "vacuum" });
  const wording = drawWording(draw);
  const unitFile = specificationOf(draw, unit, parseScenario(scenarioOf(unit), "unit"), wording);
  if (unitFile === null) return null;
  const rig = drawRig(draw, unit.lobeAnglesDeg.length);
  const ground = groundOf(unit, wording, unitFile, rig, draw.seed());
  const specified = unitFromFile(unitFile, "drawn unit");
  // Without a hold in the specification nothing says how much a capsule may leak.
  if (kind === "capsule-leak" && specified.capsules[0]?.hold == null) return null;
  const faulty = kind === null ? sound(ground) : gross(draw, ground, sweep, kind, specified);
  if (faulty === null) return null;
  const read = sweep === "speed" ? speedNotes : vacuumNotes;
  return {
    kind,
    sweep,
    unitFile,
    notes: read(draw, faulty.scenario, specified),
    multiple: faulty.multiple,
  };
}

interface Faulty {
  readonly scenario: Scenario;
  readonly multiple: number;
}

function sound({ scenario }: Ground): Faulty {
  return { scenario, multiple: 0 };
}

function gross(
  draw: Draw,
  ground: Ground,
  sweep: HandSweep,
  kind: HandKind,
  unit: Unit,
): Faulty | null {
  const wanted = draw.logUniform(...GROSS);
  const faulting = faultingFor(kind, draw, ground);
  const read = (scenario: Scenario) => truths(scenario, sweep, kind, unit);
  const good = read(ground.scenario);
  const faultyAt = (share: number): Faulty | null => {
    const change = faulting.change(magnitudeAt(faulting, share));
    try {
      const scenario = parseScenario(withChanges(ground.content, [change]), "faulty unit");
      const moved = read(scenario).map((one, i) => Math.abs(one - (good[i] as number)));
      return { scenario, multiple: Math.max(...moved) };
    } catch {
      // The mechanism has no room for so much of it.
      return null;
    }
  };
  if (faultyAt(1) === null) return null;
  const share =
    faulting.from === faulting.to ? 1 : shareFor(wanted, (at) => faultyAt(at)?.multiple ?? 0);
  const faulty = share === null ? null : faultyAt(share);
  return faulty === null || faulty.multiple < GROSS[0] ? null : faulty;
}

function faultingFor(kind: HandKind, draw: Draw, { unit, bench }: Ground): Faulting {
  const faulting = faultingOf(kind, draw, unit, bench.plan);
  return kind === "stop-worn" ? { ...faulting, to: STOP_SHARE * unit.mechanism.stopDeg } : faulting;
}

/** What the six readings would be without the reader, each over what he may be off. */
function truths(
  scenario: Scenario,
  sweep: HandSweep,
  kind: HandKind,
  unit: Unit,
): readonly number[] {
  if (sweep === "speed") return speedTruths(scenario, sixSpeeds(bandOf(unit, "speed")));
  const capsule = unit.capsules[0];
  // Only a leak shows in the hold before it shows in a reading.
  if (kind === "capsule-leak" || kind === "diaphragm-torn") {
    const hold = holdOf(unit);
    const lacking = hold.vacuumPa - Math.min(hold.vacuumPa, reachablePa(scenario));
    return [(dropPa(scenario, hold) + lacking) / VACUUM_LIMIT_PA];
  }
  return capsule === undefined ? [] : vacuumTruths(scenario, fiveVacuums(bandOf(unit, "vacuum")));
}

/** Counted from where the cam stands at rest, and where it had come from. */
function speedTruths(scenario: Scenario, places: readonly HandPlace[]): readonly number[] {
  const topRpm = Math.max(...places.map(({ x }) => x));
  const restDeg = centrifugalAdvanceDeg(scenario, 1, "rising");
  return places.map(
    ({ x, branch }) => centrifugalAdvanceDeg(scenario, x, branch, topRpm) - restDeg,
  );
}

function vacuumTruths(scenario: Scenario, places: readonly HandPlace[]): readonly number[] {
  const restDeg = vacuumAdvanceDeg(scenario, 0, "rising");
  return places.map(({ x, branch }) => vacuumAdvanceDeg(scenario, x, branch) - restDeg);
}

function bandOf(unit: Unit, sweep: HandSweep) {
  const band = sweep === "speed" ? unit.speedBand : (unit.capsules[0]?.band ?? null);
  if (band === null) throw new Error(`the unit has no band over ${sweep}`);
  return band;
}

/** As specified, else for 15 s at the highest printed vacuum (common practice, no source). */
function holdOf(unit: Unit) {
  const hold = unit.capsules[0]?.hold ?? null;
  const top = Math.max(...fiveVacuums(bandOf(unit, "vacuum")).map(({ x }) => x));
  return { vacuumPa: hold?.vacuumPa ?? top, seconds: hold?.seconds ?? 15, settleS: 2 };
}

function speedNotes(draw: Draw, scenario: Scenario, unit: Unit): string {
  const places = sixSpeeds(bandOf(unit, "speed"));
  const meant = places.map(({ branch, x }) => ({ branch, x: Math.round(x / 10) * 10 }));
  const reader = new Reader(draw);
  const truly = meant.map(({ branch, x }) => ({
    branch,
    x: Math.max(1, x + reader.off(RPM_LIMIT)),
  }));
  const degrees = speedTruths(scenario, truly).map((deg) => reader.degrees(deg));
  return notesOf(
    "timing light",
    meant.map(({ branch, x }, i) => ({ branch, line: `${x} ${degrees[i]}` })),
  );
}

function vacuumNotes(draw: Draw, scenario: Scenario, unit: Unit): string {
  const reader = new Reader(draw);
  const reachedPa = reachablePa(scenario);
  const inHg = (pa: number) => (Math.round(vacuumFromPascals(pa, "inHg") * 2) / 2).toFixed(1);
  const lines = fiveVacuums(bandOf(unit, "vacuum")).flatMap(({ branch, x }) => {
    const meantPa = pascalsFrom(Number(inHg(x)), "inHg");
    if (meantPa > reachedPa) return [];
    const trulyPa = meantPa === 0 ? 0 : Math.max(0, meantPa + reader.off(VACUUM_LIMIT_PA));
    const [deg = 0] = vacuumTruths(scenario, [{ branch, x: trulyPa }]);
    return [{ branch, line: `${inHg(meantPa)} inHg ${reader.degrees(deg)}` }];
  });
  return notesOf("degree wheel", [
    ...lines,
    { branch: "falling", line: holdLine(reader, scenario, holdOf(unit), inHg) },
  ]);
}

function holdLine(
  reader: Reader,
  scenario: Scenario,
  hold: ReturnType<typeof holdOf>,
  inHg: (pa: number) => string,
): string {
  const reachedPa = reachablePa(scenario);
  const wanted = inHg(hold.vacuumPa);
  if (reachedPa < hold.vacuumPa - VACUUM_LIMIT_PA) {
    return `${wanted} inHg reached only ${inHg(reachedPa)}`;
  }
  const drop = Math.max(0, dropPa(scenario, hold) + reader.off(VACUUM_LIMIT_PA));
  return `${wanted} inHg held ${hold.seconds} s dropped ${inHg(Math.min(drop, hold.vacuumPa))}`;
}

/** Errors of one man at one unit: his zero, set by eye, stands in all his readings. */
class Reader {
  private readonly draw: Draw;
  private readonly zeroDeg: number;

  constructor(draw: Draw) {
    this.draw = draw;
    this.zeroDeg = draw.normal(READER_DEG / 2);
  }

  degrees(trueDeg: number): string {
    const read = trueDeg + this.zeroDeg + this.draw.normal(READER_DEG / 2);
    return (Math.round(read / MARK_DEG) * MARK_DEG).toFixed(1);
  }

  off(limit: number): number {
    return this.draw.uniform(-limit, limit);
  }
}

function notesOf(
  means: ByHandMeans,
  lines: readonly { readonly branch: HandPlace["branch"]; readonly line: string }[],
): string {
  const of = (branch: HandPlace["branch"]) =>
    lines.filter((one) => one.branch === branch).map(({ line }) => line);
  return [
    `means: ${means}`,
    "degrees: distributor",
    "rpm: distributor",
    `uncertainty: ${READER_DEG}`,
    `rpm uncertainty: ${RPM_LIMIT}`,
    "vacuum uncertainty: 0.5 inHg",
    ...of("rising"),
    "falling",
    ...of("falling"),
  ].join("\n");
}
