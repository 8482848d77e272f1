// A unit file as it would be typed on the page, for editing it. Pure.
import type { CapsuleFile, DwellFile, RowFile, SpeedFile, UnitFile } from "../unitFile/schema.ts";
import {
  EMPTY_CAPSULE,
  EMPTY_UNIT,
  type TypedBand,
  type TypedCapsule,
  type TypedUnit,
} from "./typed.ts";

/** @param file of a unit that `unitFromFile` takes */
export function typedFrom(file: UnitFile): TypedUnit {
  const { trigger, dwell, secondSet, engine } = file;
  const combined = secondSet?.combinedDwell;
  return {
    ...EMPTY_UNIT,
    description: file.description,
    stampedNumber: file.stampedNumber ?? "",
    isInvented: file.invented ?? false,
    lobes: text(file.lobes ?? file.lobeAnglesDeg?.length),
    rotation: file.rotation,
    trigger: trigger?.kind ?? "contacts",
    firingEdge: trigger?.firingEdge ?? "",
    contactSets: secondSet?.arrangement ?? "one",
    dwell: dwellText(dwell),
    combinedDwell: dwellText(combined),
    dwellUnit: (dwell ?? combined)?.percent === undefined ? "degrees" : "percent",
    springs: file.springs === undefined ? "" : file.springs === 1 ? "1" : "2",
    speed: {
      ...EMPTY_UNIT.speed,
      ...(file.speed === undefined ? {} : bandOf(file.speed)),
      rpm: file.speed?.rpm ?? "",
      initialDeg: text(file.speed?.includesInitialDeg),
    },
    capsules: (file.capsules ?? []).map(capsuleOf),
    vacuumPort: engine?.vacuumPort ?? "",
    initialTimingDeg: text(engine?.initialTimingCrankshaftDeg),
    setAtEngineRpm: text(engine?.atEngineRpm),
    engineSource: engine?.source ?? "",
  };
}

function capsuleOf(file: CapsuleFile): TypedCapsule {
  return {
    ...EMPTY_CAPSULE,
    ...bandOf(file),
    name: file.name,
    acts: file.acts ?? "advance",
    vacuum: file.vacuum ?? "",
    holdVacuum: text(file.hold?.vacuum),
    holdSeconds: text(file.hold?.seconds),
    holdDropMax: text(file.hold?.dropMax),
  };
}

function bandOf(file: SpeedFile | CapsuleFile): TypedBand {
  const { lines, rows, degrees, source, toleranceDeg, judgedOn, ownTarget } = file;
  const asLines = rows === undefined ? null : linesOf(rows);
  return {
    lines:
      lines === undefined
        ? (asLines ?? []).join("\n")
        : (typeof lines === "string" ? lines.split(/[;\r\n]+/) : lines)
            .map((line) => line.trim())
            .join("\n"),
    degrees: degrees ?? "",
    source: source ?? "",
    toleranceDeg: text(toleranceDeg),
    judgedOn: judgedOn ?? "both",
    isOwnTarget: ownTarget ?? false,
    keptRows: asLines === null ? (rows ?? null) : null,
  };
}

/** Rows as lines that read the same; null where one of them says what a line cannot. */
function linesOf(rows: readonly RowFile[]): readonly string[] | null {
  const lines = rows.map(lineOf);
  return lines.every((line) => line !== null) ? lines : null;
}

function lineOf(row: RowFile): string | null {
  const { at, noneBelow, start, endBy, degrees, min, max, tolerance, printed } = row;
  if (tolerance !== undefined || printed !== undefined) return null;
  if (noneBelow !== undefined) return max === undefined ? `no advance below ${noneBelow}` : null;
  if (start !== undefined) return `starts at ${start}`;
  if (min !== undefined || max !== undefined || degrees === undefined) return null;
  if (at !== undefined) return `${degrees} at ${at}`;
  return endBy === null ? `max ${degrees}` : `max ${degrees} by ${endBy}`;
}

function dwellText(dwell: DwellFile | undefined): string {
  return text(dwell?.degrees ?? dwell?.percent);
}

function text(value: string | number | undefined): string {
  return value === undefined ? "" : String(value);
}
