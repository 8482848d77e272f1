// A unit as it is typed on the page, and the unit file that says the same. What is left empty stays unsaid. Pure.

import type { Branch, ContactSets, Shaft, Trigger, VacuumPort } from "../unit.ts";
import type { RowFile } from "../unitFile/schema.ts";
import type { VacuumUnit } from "../units.ts";

/** All as typed: an empty text is nothing said. */
export interface TypedBand {
  /** As the manual prints them, a line each (unitFile/lines.ts). */
  readonly lines: string;
  readonly degrees: Shaft | "";
  readonly source: string;
  readonly toleranceDeg: string;
  readonly judgedOn: Branch | "both";
  readonly isOwnTarget: boolean;
  /** Of a file that is edited: rows that lines cannot say. They count while there are no lines. */
  readonly keptRows: readonly RowFile[] | null;
}

export interface TypedSpeed extends TypedBand {
  readonly rpm: Shaft | "";
  /** Initial timing that is part of the degrees. */
  readonly initialDeg: string;
}

export interface TypedCapsule extends TypedBand {
  readonly name: string;
  readonly acts: "advance" | "retard";
  readonly vacuum: VacuumUnit | "";
  readonly holdVacuum: string;
  readonly holdSeconds: string;
  readonly holdDropMax: string;
}

export const CONTACT_SETS = ["one", "overlapped", "staggered"] as const;
export const DWELL_UNITS = ["degrees", "percent"] as const;
export const TRIGGER_KINDS = ["contacts", "magnetic", "hall", "optical"] as const;

export interface TypedUnit {
  readonly description: string;
  readonly stampedNumber: string;
  readonly isInvented: boolean;
  readonly lobes: string;
  readonly rotation: "cw" | "ccw" | "";
  readonly trigger: Trigger["kind"];
  readonly firingEdge: "a" | "b" | "";
  readonly contactSets: (typeof CONTACT_SETS)[number];
  readonly dwell: string;
  readonly combinedDwell: string;
  readonly dwellUnit: (typeof DWELL_UNITS)[number];
  readonly springs: "" | "1" | "2";
  readonly speed: TypedSpeed;
  readonly capsules: readonly TypedCapsule[];
  readonly vacuumPort: VacuumPort | "";
  readonly initialTimingDeg: string;
  readonly setAtEngineRpm: string;
  readonly engineSource: string;
}

const NO_BAND: TypedBand = {
  lines: "",
  degrees: "",
  source: "",
  toleranceDeg: "",
  judgedOn: "both",
  isOwnTarget: false,
  keptRows: null,
};

export const EMPTY_CAPSULE: TypedCapsule = {
  ...NO_BAND,
  name: "",
  acts: "advance",
  vacuum: "",
  holdVacuum: "",
  holdSeconds: "",
  holdDropMax: "",
};

export const EMPTY_UNIT: TypedUnit = {
  description: "",
  stampedNumber: "",
  isInvented: false,
  lobes: "",
  rotation: "",
  trigger: "contacts",
  firingEdge: "",
  contactSets: "one",
  dwell: "",
  combinedDwell: "",
  dwellUnit: "degrees",
  springs: "",
  speed: { ...NO_BAND, rpm: "", initialDeg: "" },
  capsules: [],
  vacuumPort: "",
  initialTimingDeg: "",
  setAtEngineRpm: "",
  engineSource: "",
};

export const CAPSULES_MAX = 2;
const OWN_SOURCE = "The user's own target, typed as rows";

type Fields = Readonly<Record<string, unknown>>;

/**
 * The unit file's content. Whether it makes sense is for `unitFromFile` to say.
 * @param base the file that is edited, whose fields that are not typed stay; null: a new unit
 */
export function unitFileOf(typed: TypedUnit, base: Fields | null): Fields {
  const { lobeAnglesDeg } = base ?? {};
  return said({
    ...base,
    description: typed.description.trim(),
    stampedNumber: typed.stampedNumber.trim(),
    invented: typed.isInvented ? true : undefined,
    // Angles of lobes that do not stand evenly are no field of the page.
    lobes: lobeAnglesDeg === undefined ? number(typed.lobes) : undefined,
    rotation: typed.rotation,
    trigger: { kind: typed.trigger, firingEdge: typed.firingEdge || undefined },
    dwell: dwellOf(typed.dwell, typed),
    secondSet:
      typed.contactSets === "one"
        ? undefined
        : said({
            ...asFields(base?.secondSet),
            arrangement: typed.contactSets satisfies ContactSets["arrangement"],
            combinedDwell: dwellOf(typed.combinedDwell, typed),
          }),
    springs: number(typed.springs),
    speed: speedOf(typed.speed),
    capsules: typed.capsules.length === 0 ? undefined : typed.capsules.map((one) => capsuleOf(one)),
    engine: engineOf(typed, asFields(base?.engine)),
  });
}

function speedOf(speed: TypedSpeed): Fields | undefined {
  const band = bandOf(speed);
  if (band === null) return undefined;
  return said({ ...band, rpm: speed.rpm, includesInitialDeg: number(speed.initialDeg) });
}

function capsuleOf(capsule: TypedCapsule): Fields {
  const { name, acts, vacuum, holdVacuum, holdSeconds, holdDropMax } = capsule;
  const holds = [holdVacuum, holdSeconds, holdDropMax].some((text) => text.trim() !== "");
  return said({
    name: name.trim(),
    acts,
    ...bandOf(capsule),
    vacuum,
    hold: holds
      ? {
          vacuum: number(holdVacuum),
          seconds: number(holdSeconds),
          dropMax: number(holdDropMax),
        }
      : undefined,
  });
}

/** Null where neither lines are typed nor rows kept. */
function bandOf(band: TypedBand): Fields | null {
  const lines = linesIn(band.lines);
  if (lines.length === 0 && band.keptRows === null) return null;
  const source = band.source.trim();
  return said({
    ...(lines.length === 0 ? { rows: band.keptRows } : { lines: lines.map(({ text }) => text) }),
    degrees: band.degrees,
    source: source === "" && band.isOwnTarget ? OWN_SOURCE : source,
    toleranceDeg: number(band.toleranceDeg),
    judgedOn: band.judgedOn,
    ownTarget: band.isOwnTarget ? true : undefined,
  });
}

function engineOf(typed: TypedUnit, base: Fields): Fields | undefined {
  const { vacuumPort, initialTimingDeg, setAtEngineRpm, engineSource } = typed;
  const isSaid = [vacuumPort, initialTimingDeg, setAtEngineRpm, engineSource].some(
    (text) => text.trim() !== "",
  );
  if (!isSaid) return undefined;
  return said({
    ...base,
    initialTimingCrankshaftDeg: number(initialTimingDeg),
    atEngineRpm: number(setAtEngineRpm),
    vacuumPort,
    source: engineSource.trim(),
  });
}

function dwellOf(text: string, { dwellUnit }: TypedUnit): Fields | undefined {
  return text.trim() === "" ? undefined : { [dwellUnit]: text.trim() };
}

/** Lines with something on them, numbered as they stand. */
export function linesIn(
  text: string,
): readonly { readonly number: number; readonly text: string }[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ number: i + 1, text: line.trim() }))
    .filter((line) => line.text !== "");
}

/** What is no number stays as it was typed, so that whoever checks the file can say so. */
function number(text: string): number | string | undefined {
  const plain = text.trim().replace(",", ".");
  if (plain === "") return undefined;
  const value = Number(plain);
  return Number.isFinite(value) ? value : text.trim();
}

function asFields(value: unknown): Fields {
  return typeof value === "object" && value !== null ? (value as Fields) : {};
}

/** Without what was left empty. */
function said(fields: Fields): Fields {
  return Object.fromEntries(
    Object.entries(fields).filter(([, value]) => value !== undefined && value !== ""),
  );
}
