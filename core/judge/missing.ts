// Openings that did not come: at which speeds, at which vacuums, and how many of them.
import type { PointDocument, StepDocument } from "../documents.ts";
import type { MissingPlaces, MissingResult } from "../triggerResult.ts";
import type { Gathered, Sweep } from "./gathered.ts";

/** A single one, or fewer than one in two hundred, may be the rig's own. An assumption, no source. */
const LEAST = 2;
const LEAST_SHARE = 0.005;

/** One place of a sweep, both branches together. */
interface Place {
  readonly targetX: number;
  readonly x: number;
  readonly expected: number;
  readonly missing: number;
}

export function missingOf({ speedReadings, capsules, sparkless }: Gathered): MissingResult {
  const silentAt = (step: StepDocument["step"], capsule: number | null) =>
    sparkless.filter((one) => one.step === step && one.capsule === capsule);
  const overSpeed = [
    ...speedReadings.map((point) => readPlace(point, point.targetRpm, point.reading.speedRpm)),
    ...silentAt("speed", null).map(({ targetRpm }) => silentPlace(targetRpm)),
  ];
  return {
    overSpeed: missingIn(overSpeed, null),
    overVacuum: capsules.map(({ readings, sweep }, capsule) => {
      const overVacuum = [
        ...readings.map((point) => readPlace(point, point.targetPa ?? 0, point.reading.vacuumPa)),
        ...silentAt("vacuum", capsule).map(({ targetPa }) => silentPlace(targetPa ?? 0)),
      ];
      return missingIn(overVacuum, sweep);
    }),
  };
}

function readPlace({ reading }: PointDocument, targetX: number, x: number | null): Place {
  const { turns, lobes, setAside } = reading;
  return {
    targetX,
    x: x ?? targetX,
    expected: (turns - setAside.lostTurns) * lobes.length,
    missing: setAside.missingEvents,
  };
}

/** Where nothing came at all; how many should have is not on record. */
function silentPlace(targetX: number): Place {
  return { targetX, x: targetX, expected: Number.NaN, missing: Number.NaN };
}

function missingIn(all: readonly Place[], sweep: Sweep | null): MissingPlaces | null {
  const places = byTarget(all);
  const from = places.findIndex(isMissing);
  const to = places.findLastIndex(isMissing);
  const [first, last] = [places[from], places[to]];
  if (first === undefined || last === undefined) return null;
  const concerned = places.slice(from, to + 1).filter(isMissing);
  const sum = (count: (place: Place) => number) =>
    concerned.reduce((total, place) => total + count(place), 0);
  return {
    fromX: first.x,
    toX: last.x,
    share: sum(({ missing }) => missing) / sum(({ expected }) => expected),
    soundBelow: from,
    soundAbove: places.length - 1 - to,
    soundBetween: to + 1 - from - concerned.length,
    plateDeg: sweep === null ? null : plateAt(concerned, sweep),
  };
}

function isMissing({ missing, expected }: Place): boolean {
  return missing >= LEAST && missing >= LEAST_SHARE * expected;
}

/** In rising order; a place where nothing came lacks as many as its neighbours had to give. */
function byTarget(all: readonly Place[]): Place[] {
  const read = all.filter(({ expected }) => expected > 0);
  const usual = Math.max(LEAST, ...read.map(({ expected }) => expected));
  const places = new Map<number, Place>();
  for (const place of all) {
    const { targetX } = place;
    const { expected, missing } = Number.isNaN(place.expected)
      ? { expected: usual, missing: usual }
      : place;
    const before = places.get(targetX) ?? { x: place.x, expected: 0, missing: 0 };
    places.set(targetX, {
      targetX,
      x: before.x,
      expected: before.expected + expected,
      missing: before.missing + missing,
    });
  }
  return [...places.values()].sort((a, b) => a.x - b.x);
}

/** Advance by the capsule alone, both branches; null where none of the places has a reading. */
function plateAt(places: readonly Place[], { branches }: Sweep): MissingPlaces["plateDeg"] {
  const advancesDeg = [...branches.rising, ...branches.falling]
    .filter((point) => places.some(({ targetX }) => targetX === point.targetX))
    .map(({ advanceDeg }) => advanceDeg);
  if (advancesDeg.length === 0) return null;
  return { from: Math.min(...advancesDeg), to: Math.max(...advancesDeg) };
}
