// Unit files: JSON that a workshop writes by hand from its manual, converted once to a Unit.

import * as z from "zod";
import type { TriggerEdge } from "./codec/rigLines.ts";
import { type Said, said } from "./said.ts";
import type { Capsule, ConnectedContacts, EngineSettings, Trigger, Unit } from "./unit.ts";
import { ATMOSPHERE_PA, capsuleBand, speedBand } from "./unitFile/bands.ts";
import { contactsOf } from "./unitFile/dwell.ts";
import { Place, parseShape } from "./unitFile/place.ts";
import {
  type CapsuleFile,
  type EngineFile,
  type UnitFile,
  unitFileSchema,
} from "./unitFile/schema.ts";
import { pascalsFrom } from "./units.ts";

const DRIVE_RATIO = 2;
/** Common practice where a manual prints one figure only, no source. */
const WORKSHOP_TOLERANCE_DEG = 1;
const LOBE_SPACING_MIN_DEG = 5;

/**
 * The unit that a file describes. Fields that are absent stay unknown: no band, no dwell limits, no
 * capsule are all fine.
 *
 * @param file parsed JSON (`parseJsonFile`)
 * @param name of the file, for complaints
 * @param connected of two sets of contacts those that the rig is on; null: all there are. Lobes and
 *   dwell of the unit are those of what is connected.
 * @throws FILE_INVALID naming the field, what is wrong and what to do
 */
export function unitFromFile(
  file: unknown,
  name: string | Said,
  connected: ConnectedContacts | null = null,
): Unit {
  const shape = parseShape(unitFileSchema, file, name);
  const place = new Place(name);
  const driveRatio = shape.driveRatio ?? DRIVE_RATIO;
  const all = lobes(shape, place);
  const trigger = triggerOf(shape, place);
  const contacts = contactsOf(shape, all, connected, place);
  if (shape.scatterMaxDeg !== undefined && all.length < 2) {
    place.in("scatterMaxDeg").fail(said("one lobe cannot scatter. Take the field out"));
  }
  const tolerance = shape.workshopToleranceDeg ?? WORKSHOP_TOLERANCE_DEG;
  const capsules = shape.capsules ?? [];
  return {
    description: shape.description,
    stampedNumber: shape.stampedNumber ?? null,
    invented: shape.invented ?? false,
    ...contacts,
    rotation: shape.rotation,
    driveRatio,
    trigger,
    speedMaxRpm: shape.speedMaxRpm ?? null,
    capsules: capsules.map((one, i) =>
      capsuleOf(one, driveRatio, tolerance, place.in("capsules").in(i)),
    ),
    // A single lobe of one of two staggered sets cannot scatter either.
    scatterMaxDeg: contacts.lobeAnglesDeg.length < 2 ? null : (shape.scatterMaxDeg ?? null),
    speedBand:
      shape.speed === undefined
        ? null
        : speedBand(shape.speed, driveRatio, tolerance, place.in("speed")),
    springs: shape.springs ?? null,
    engine: shape.engine === undefined ? null : engineOf(shape.engine),
  };
}

/** JSON Schema (2020-12) of a unit file, for editors. */
export function unitFileJsonSchema(): object {
  return z.toJSONSchema(unitFileSchema, { io: "input" });
}

function engineOf(file: EngineFile): EngineSettings {
  return {
    initialTimingCrankshaftDeg: file.initialTimingCrankshaftDeg,
    atEngineRpm: file.atEngineRpm ?? 0,
    vacuumPort: file.vacuumPort,
    idleEngineRpm: file.idleEngineRpm ?? null,
    engineSpeedsRpm: file.engineSpeedsRpm?.toSorted((a, b) => a - b) ?? null,
    source: file.source,
  };
}

function lobes(shape: UnitFile, place: Place): readonly number[] {
  const { lobes: count, lobeAnglesDeg: angles } = shape;
  if (angles === undefined) {
    if (count === undefined)
      return place.in("lobes").fail(said("is missing, and so is lobeAnglesDeg"));
    return Array.from({ length: count }, (_, i) => (i * 360) / count);
  }
  const here = place.in("lobeAnglesDeg");
  if (count !== undefined) here.fail(said("give either `lobes` or `lobeAnglesDeg`, not both"));
  if (angles[0] !== 0)
    here.in(0).fail(said("the first lobe stands at 0. Count the others from it"));
  for (const [i, angle] of angles.entries()) {
    const next = angles[i + 1] ?? 360;
    if (next - angle < LOBE_SPACING_MIN_DEG) {
      here
        .in(i)
        .fail(said("the next lobe must come at least {}° after {}°", LOBE_SPACING_MIN_DEG, angle));
    }
  }
  return angles;
}

function triggerOf(shape: UnitFile, place: Place): Trigger {
  const kind = shape.trigger?.kind ?? "contacts";
  const firingEdge: TriggerEdge | undefined = shape.trigger?.firingEdge;
  if (firingEdge !== undefined) return { kind, firingEdge };
  // Contacts fire when they open; which edge of another trigger fires depends on its amplifier.
  if (kind === "contacts") return { kind, firingEdge: "a" };
  return place
    .in("trigger")
    .in("firingEdge")
    .fail(said('is missing: say whether this {} trigger fires on edge "a" or "b"', kind));
}

function capsuleOf(
  file: CapsuleFile,
  driveRatio: number,
  tolerance: number,
  place: Place,
): Capsule {
  const acts = file.acts ?? "advance";
  return {
    name: file.name,
    acts,
    band: capsuleBand(file, driveRatio, tolerance, place),
    hold: holdLimits(file, place.in("hold")),
  };
}

function holdLimits({ hold, vacuum: unit }: CapsuleFile, place: Place): Capsule["hold"] {
  if (hold === undefined) return null;
  if (unit === undefined)
    return place.in("vacuum").fail(said("has no unit: say it in the capsule's `vacuum`"));
  const vacuumPa = pascalsFrom(hold.vacuum, unit);
  if (vacuumPa > ATMOSPHERE_PA)
    place.in("vacuum").fail(said("{} {} is more than there can be", hold.vacuum, unit));
  if (hold.dropMax >= hold.vacuum)
    place.in("dropMax").fail(said("must be less than the vacuum itself"));
  return { vacuumPa, seconds: hold.seconds, dropMaxPa: pascalsFrom(hold.dropMax, unit) };
}
