// What sets two units apart whatever their curves are: cam, direction, capsules; and what parts can be exchanged.
import type { Unit } from "../unit.ts";
import type { Measured } from "./measured.ts";

export interface FormDifference {
  readonly what: "lobes" | "rotation" | "capsule" | "trigger" | "dwell";
  /** What is set or exchanged in a minute sets no two units apart. */
  readonly rulesOut: boolean;
  readonly text: string;
}

/** Nominal angles of one cam may be printed rounded. */
const SAME_ANGLE_DEG = 2;

export function formDifferences(measured: Measured, other: Unit): readonly FormDifference[] {
  const { unit } = measured;
  const differences: FormDifference[] = [];
  const differs = (what: FormDifference["what"], rulesOut: boolean, text: string) =>
    differences.push({ what, rulesOut, text });
  const [own, its] = [camOf(unit), camOf(other)];
  if (own.length !== its.length) differs("lobes", true, `${its.length} lobes, not ${own.length}`);
  else if (!isSameCam(own, its)) differs("lobes", true, "lobes at other angles");
  if (unit.rotation !== other.rotation) {
    differs("rotation", true, `turns ${turning(other)}, not ${turning(unit)}`);
  }
  const capsule = capsuleText(measured, other);
  if (capsule !== null) differs("capsule", true, capsule);
  if (unit.trigger.kind !== other.trigger.kind) {
    differs("trigger", false, `${other.trigger.kind} trigger, not ${unit.trigger.kind}`);
  }
  const dwell = dwellText(measured, other);
  if (dwell !== null) differs("dwell", false, dwell);
  return differences;
}

function camOf({ contactSets, lobeAnglesDeg }: Unit): readonly number[] {
  return contactSets?.lobeAnglesDeg ?? lobeAnglesDeg;
}

/** Whichever lobe is counted as the first. */
function isSameCam(one: readonly number[], other: readonly number[]): boolean {
  const gaps = (angles: readonly number[]) =>
    angles.map((angle, i) => (angles[i + 1] ?? 360) - angle);
  const [own, its] = [gaps(one), gaps(other)];
  return own.some((_, from) =>
    own.every((gap, i) => Math.abs(gap - (its[(from + i) % its.length] ?? 0)) <= SAME_ANGLE_DEG),
  );
}

function turning({ rotation }: Unit): string {
  return rotation === "cw" ? "clockwise" : "anticlockwise";
}

/** Null where the capsules go together, as far as they were looked at. */
function capsuleText({ unit, capsules }: Measured, other: Unit): string | null {
  const [own, its] = [unit.capsules.length, other.capsules.length];
  if (own === 0 && its > 0) return "has a capsule, and this one has none";
  if (its === 0 && own > 0) return "has no capsule, and this one has";
  const missing = capsules.find(({ acts }) => other.capsules.every((one) => one.acts !== acts));
  return missing === undefined ? null : `has no capsule that gives ${missing.acts}`;
}

/** By the setting of the gap. */
function dwellText({ result: { dwellDeg } }: Measured, other: Unit): string | null {
  const { min, max } = other.dwellLimitsDeg ?? { min: null, max: null };
  if (dwellDeg === null || (dwellDeg >= (min ?? dwellDeg) && dwellDeg <= (max ?? dwellDeg))) {
    return null;
  }
  return `dwell is ${dwellDeg.toFixed(1)}°, wanted ${limit(min)} to ${limit(max)}°: set the gap`;
}

function limit(deg: number | null): string {
  return deg === null ? "…" : Number(deg.toFixed(1)).toString();
}
