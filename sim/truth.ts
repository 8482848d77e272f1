// What a scenario's unit truly does, for tests and accuracy figures: worked out from its physics, not measured.
import { Table } from "./advance.ts";
import { type Capsule, restingTravelMm, staysAt } from "./capsule.ts";
import { floatLateS } from "./contacts.ts";
import { installedMechanism } from "./installedUnit.ts";
import { byAngle, flanksAtRest } from "./lobes.ts";
import { type CentrifugalUnit, forcesAt, frictionTerms } from "./mechanism.ts";
import { pickupErrorsDeg } from "./pickup.ts";
import type { Scenario } from "./scenario.ts";
import { thresholdShiftDeg } from "./shiftedAdvance.ts";
import { condenserDelayS } from "./triggerInput.ts";

export type Branch = "rising" | "falling";

const DEG_PER_RAD = 180 / Math.PI;
const RPM_PER_RAD_S = 30 / Math.PI;
const PLACES = 4000;

/**
 * Cam advance by weights in distributor degrees from the mechanism's rest, where it stands after the
 * speed came up from rest (`rising`) to `speedRpm`, or down to it from `fromRpm` after having come
 * up to that (default: the rig's highest speed). Turned the right way. Where no speed holds it, it
 * has snapped on to where one does. A part that sticks is taken to move on without a halt once it has
 * broken away: one that creeps moves in steps and lags behind this.
 */
export function centrifugalAdvanceDeg(
  scenario: Scenario,
  speedRpm: number,
  branch: Branch,
  fromRpm = scenario.rig.speedMaxRpm,
): number {
  const unit = installedMechanism(scenario)?.centrifugal ?? null;
  if (unit === null) return tableDeg(scenario, "speedTable", speedRpm);
  if (unit.seizedDeg !== null) return unit.seizedDeg;
  if (branch === "rising") return risenDeg(unit, speedRpm);
  return fallenDeg(unit, risenDeg(unit, Math.max(fromRpm, speedRpm)), speedRpm);
}

/**
 * Advance by one capsule (negative for a retarding one) in distributor degrees, the others vented,
 * where the vacuum came up to `vacuumPa` below ambient, or down to it from the capsule's full travel.
 * One that sticks is taken to move on once it has broken away.
 */
export function vacuumAdvanceDeg(
  scenario: Scenario,
  vacuumPa: number,
  branch: Branch,
  capsule = 0,
): number {
  const mechanism = installedMechanism(scenario);
  if (mechanism === null) return tableDeg(scenario, "vacuumTable", vacuumPa / 1000);
  const found = mechanism.capsules[capsule];
  if (found === undefined) return 0;
  const travelMm = found.seizedMm ?? travelMmFrom(found, vacuumPa, branch);
  return ((found.acts === "advance" ? 1 : -1) * travelMm * DEG_PER_RAD) / found.radiusMm;
}

function travelMmFrom(capsule: Capsule, vacuumPa: number, branch: Branch): number {
  const fromMm = branch === "rising" ? 0 : capsule.travelMm;
  return staysAt(capsule, vacuumPa, fromMm) ? fromMm : restingTravelMm(capsule, vacuumPa, branch);
}

/**
 * Distributor rpm at which the weights begin to turn the cam (`rising`), or have let it come back
 * home (`falling`); null where they never do, and for tables.
 */
export function centrifugalStartRpm(scenario: Scenario, branch: Branch): number | null {
  const unit = movingUnit(scenario);
  if (unit === null) return null;
  if (branch === "rising") return neededRpm(unit, 0, branch, unit.stickRatio);
  // Home is reached once no place on the way holds the cam any more.
  const needed = placesUpTo(unit.stopDeg)
    .filter((deg) => deg >= unit.homeDeg)
    .map((deg) => neededRpm(unit, deg, branch));
  return lowest(needed);
}

/**
 * Distributor rpm at which the cam meets its stop (`rising`) or leaves it (`falling`); null where it
 * never does, and for tables.
 */
export function centrifugalStopRpm(scenario: Scenario, branch: Branch): number | null {
  const unit = movingUnit(scenario);
  if (unit === null) return null;
  if (branch === "falling") return neededRpm(unit, unit.stopDeg, branch, unit.stickRatio);
  const needed = placesUpTo(unit.stopDeg).map((deg, i) =>
    neededRpm(unit, deg, branch, i === 0 ? unit.stickRatio : 1),
  );
  return needed.includes(null) ? null : Math.max(...(needed as number[]));
}

/** By how much each lobe that is connected fires late against its nominal angle, their mean taken out. */
export function lobeDeviationsDeg(scenario: Scenario): { lobe: number; deviationDeg: number }[] {
  const { lobeAnglesDeg } = scenario.unit;
  const late = flanksAtRest(scenario)
    .filter(({ fires }) => fires)
    .map(({ lobe, deg }) => ({ lobe, deg: wrapped(deg - (lobeAnglesDeg[lobe] as number)) }))
    .sort((one, other) => one.lobe - other.lobe);
  const mean = late.reduce((sum, { deg }) => sum + deg, 0) / late.length;
  return late.map(({ lobe, deg }) => ({ lobe, deviationDeg: deg - mean }));
}

/**
 * Dwell in distributor degrees at low speed with the plate at rest, by the lobe of the opening that
 * ends it. Of a trigger without contacts: from each edge b to the next edge a.
 */
export function dwellsDeg(scenario: Scenario): { lobe: number; dwellDeg: number }[] {
  const flanks = byAngle(flanksAtRest(scenario));
  return flanks
    .flatMap((flank, i) => {
      if (flank.edge !== "a") return [];
      const before = flanks.at(i - 1) as (typeof flanks)[number];
      const dwellDeg = (flank.deg - before.deg + 360) % 360;
      return [{ lobe: flank.lobe, dwellDeg }];
    })
    .sort((one, other) => one.lobe - other.lobe);
}

/** By how many degrees a floating contact arm closes late at a speed, so that dwell is less. */
export function dwellLossDeg({ pulses }: Scenario, speedRpm: number): number {
  return floatLateS(pulses.float, speedRpm) * speedRpm * 6;
}

/** By how much the pickup's edges stand late against even spacing, met the unit's way round. */
export function pickupDeviationsDeg(scenario: Scenario): number[] {
  return pickupErrorsDeg(scenario.rig, scenario.seed);
}

/**
 * By how many degrees the ticks of the firing edge come late at a speed, beside the mechanism: input
 * delay, condenser (where the opening fires) and magnetic threshold. What a host sees that corrects
 * none of it.
 */
export function sensedLateDeg(scenario: Scenario, speedRpm: number): number {
  const { rig, pulses, unit } = scenario;
  const condenserS = unit.firingEdge === "a" ? condenserDelayS(rig, pulses) : 0;
  const lateS = rig.delayUs * 1e-6 + condenserS;
  return lateS * speedRpm * 6 + thresholdShiftDeg(pulses, speedRpm);
}

function tableDeg(scenario: Scenario, name: "speedTable" | "vacuumTable", x: number): number {
  const { mechanism } = scenario;
  const points = "weights" in mechanism ? undefined : mechanism[name];
  return points === undefined ? 0 : new Table(points).at(x);
}

function movingUnit(scenario: Scenario): CentrifugalUnit | null {
  const unit = installedMechanism(scenario)?.centrifugal ?? null;
  return unit === null || unit.seizedDeg !== null ? null : unit;
}

function placesUpTo(stopDeg: number): number[] {
  return Array.from({ length: PLACES + 1 }, (_, i) => (stopDeg * i) / PLACES);
}

/** Torque towards advance that is left at a place after friction, + where the cam moves on. */
function surplusNm(
  unit: CentrifugalUnit,
  deg: number,
  speedRpm: number,
  branch: Branch,
  stick: number,
): number {
  const omega2 = (speedRpm / RPM_PER_RAD_S) ** 2;
  const { leverKgM2, restoringNm } = forcesAt(unit, deg);
  const { fixedNm, perOmega2 } = frictionTerms(unit);
  const frictionNm = stick * (fixedNm + perOmega2 * omega2);
  const driveNm = omega2 * leverKgM2 - restoringNm - unit.rubbingBlockNmm / 1000;
  return branch === "rising" ? driveNm - frictionNm : driveNm + frictionNm;
}

/** Where a cam at home comes to rest as the speed comes up. */
function risenDeg(unit: CentrifugalUnit, speedRpm: number): number {
  if (surplusNm(unit, 0, speedRpm, "rising", unit.stickRatio) <= 0) return 0;
  return firstPlace(0, unit.stopDeg, (deg) => surplusNm(unit, deg, speedRpm, "rising", 1) <= 0);
}

/** Where a cam at `fromDeg` comes to rest as the speed comes down. */
function fallenDeg(unit: CentrifugalUnit, fromDeg: number, speedRpm: number): number {
  if (surplusNm(unit, fromDeg, speedRpm, "falling", unit.stickRatio) >= 0) return fromDeg;
  const homeDeg = fromDeg >= unit.homeDeg ? unit.homeDeg : 0;
  return firstPlace(fromDeg, homeDeg, (deg) => surplusNm(unit, deg, speedRpm, "falling", 1) >= 0);
}

/** The first place on the way at which the cam rests, else the end of the way. */
function firstPlace(fromDeg: number, toDeg: number, rests: (deg: number) => boolean): number {
  let moving = fromDeg;
  if (rests(moving)) return moving;
  for (let i = 1; i <= PLACES; i++) {
    const deg = fromDeg + ((toDeg - fromDeg) * i) / PLACES;
    if (rests(deg)) return edgeOf(moving, deg, rests);
    moving = deg;
  }
  return toDeg;
}

/** Halves the way between a place that moves and one that rests. */
function edgeOf(movingDeg: number, restingDeg: number, rests: (deg: number) => boolean): number {
  let [moving, resting] = [movingDeg, restingDeg];
  for (let i = 0; i < 40; i++) {
    const middle = (moving + resting) / 2;
    if (rests(middle)) resting = middle;
    else moving = middle;
  }
  return resting;
}

/** Speed at which friction and springs just hold the cam at a place; null where none does. */
function neededRpm(unit: CentrifugalUnit, deg: number, branch: Branch, stick = 1): number | null {
  const sign = branch === "rising" ? 1 : -1;
  const { leverKgM2, restoringNm } = forcesAt(unit, deg);
  const { fixedNm, perOmega2 } = frictionTerms(unit);
  const heldNm = restoringNm + unit.rubbingBlockNmm / 1000 + sign * stick * fixedNm;
  const lever = leverKgM2 - sign * stick * perOmega2;
  // Nothing holds it back, or friction grows faster with speed than the weights' pull.
  if (heldNm <= 0) return branch === "rising" ? 0 : null;
  return lever <= 0 ? null : Math.sqrt(heldNm / lever) * RPM_PER_RAD_S;
}

function lowest(speeds: readonly (number | null)[]): number | null {
  return speeds.includes(null) ? null : Math.min(...(speeds as number[]));
}

function wrapped(deg: number): number {
  return deg - 360 * Math.round(deg / 360);
}
