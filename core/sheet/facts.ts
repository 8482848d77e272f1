// The sheet's short facts: what came in, what was found in short, and under which conditions. Pure.
import type { ByHand } from "../byHand/byHand.ts";
import { CHECK_KINDS, type RigCalibration } from "../calibration/calibration.ts";
import type {
  HoldDocument,
  RigDescription,
  RigFindings,
  RunResult,
  StartDocument,
} from "../documents.ts";
import type { Plan } from "../plan.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { Band, Unit } from "../unit.ts";
import { crankshaftFromDistributor, type VacuumUnit } from "../units.ts";
import { type Travel, travelOf } from "./curves.ts";
import type { EarlierRun } from "./earlier.ts";
import { dateText, fixed, short, timeText, vacuumText } from "./figures.ts";
import type { Fact } from "./model.ts";
import { triggerText } from "./trigger.ts";

export function unitFacts({ unit, startedUtc, rig }: StartDocument): Fact[] {
  return [
    { label: "Unit", value: unit.description },
    { label: "Stamped number", value: unit.stampedNumber ?? "none read" },
    { label: "Tested", value: timeText(startedUtc) },
    { label: "Rotation", value: ENGLISH.papers.rotation(unit.rotation) },
    { label: "Cam", value: lobesText(unit.lobeAnglesDeg) },
    { label: "Trigger", value: triggerText(unit) },
    { label: "Drive", value: driveText(unit.driveRatio) },
    { label: "Rig", value: rigText(rig) },
  ];
}

function lobesText(anglesDeg: readonly number[]): string {
  const count = anglesDeg.length;
  const even = anglesDeg.every((angle, i) => Math.abs(angle - (i * 360) / count) < 0.005);
  if (count === 1) return "1 lobe";
  return even
    ? `${count} lobes, ${short(360 / count)}° apart`
    : `${count} lobes at ${anglesDeg.map((deg) => short(deg)).join(", ")}°`;
}

export function driveText(driveRatio: number): string {
  return driveRatio === 1
    ? "turns once a turn of the crankshaft"
    : `turns once in ${short(driveRatio)} turns of the crankshaft`;
}

function rigText({ name, simulated, byHand }: RigDescription): string {
  if (byHand !== undefined) return `none: by hand with a ${byHand.means}`;
  return simulated ? `${name} (simulated)` : name;
}

/** Start, middle and end of each sweep, hold, dwell, scatter, return: whatever there is. */
export function findingFacts(
  { unit, plan }: StartDocument,
  { speed, capsules, dwellDeg, scatterDeg, returnDeg }: RunResult,
  vacuumUnit: VacuumUnit,
): Fact[] {
  const speedText = (rpm: number) =>
    unit.driveRatio === 1
      ? `${fixed(rpm, 0)} rpm`
      : `${fixed(rpm, 0)} rpm (crankshaft ${fixed(crankshaftFromDistributor(rpm, unit.driveRatio), 0)})`;
  const facts: Fact[] = [
    ...travelFacts("Speed", travelOf(speed.rising, "speed"), unit, speedText),
    ...capsules.flatMap((capsule) => [
      ...travelFacts(capsule.name, travelOf(capsule.rising, "vacuum"), unit, (pa) =>
        vacuumText(pa, vacuumUnit),
      ),
      ...holdFacts(capsule.name, capsule.hold, vacuumUnit),
    ]),
  ];
  if (dwellDeg !== null) facts.push({ label: "Dwell", value: dwellText(dwellDeg, unit) });
  if (scatterDeg !== null) {
    const value = `${fixed(scatterDeg, 2)}° off even spacing, the worst lobe`;
    facts.push({ label: "Scatter", value });
  }
  if (returnDeg !== null) {
    const value = `${fixed(returnDeg, 2)}° left over at ${fixed(plan.referenceRpm, 0)} rpm after everything`;
    facts.push({ label: "Return", value });
  }
  return facts;
}

function travelFacts(
  label: string,
  travel: Travel | null,
  { driveRatio }: Unit,
  place: (x: number) => string,
): Fact[] {
  if (travel === null) return [];
  const { begins, halfwayX, endDeg, endX } = travel;
  const crankshaft =
    driveRatio === 1
      ? ""
      : ` (crankshaft ${fixed(crankshaftFromDistributor(endDeg, driveRatio), 1)}°)`;
  const parts = [
    `${begins.kind === "found" ? "begins at" : "has begun by"} ${place(begins.x)}`,
    halfwayX === null ? null : `halfway, ${fixed(endDeg / 2, 1)}°, at ${place(halfwayX)}`,
    `goes to ${fixed(endDeg, 1)}°${crankshaft}, reached at ${place(endX)}`,
  ];
  return [{ label: `${label}, rising`, value: parts.filter((part) => part !== null).join("; ") }];
}

function holdFacts(name: string, hold: HoldDocument | null, vacuumUnit: VacuumUnit): Fact[] {
  if (hold === null) return [];
  const pascals = (pa: number) => vacuumText(pa, vacuumUnit);
  const label = `${name}, hold`;
  const effort =
    hold.pumpEffort === null ? "by hand" : `with pump at ${fixed(hold.pumpEffort * 100, 0)} %`;
  const value = hold.reached
    ? `${pascals(hold.targetPa)} reached ${effort}; lost ${pascals(hold.startPa - hold.endPa)} in ${fixed(hold.seconds, 0)} s`
    : `${pascals(hold.targetPa)} NOT reached: ${pascals(hold.startPa)} ${effort}`;
  return [{ label, value }];
}

export function dwellText(
  dwellDeg: number,
  { lobeAnglesDeg }: Unit,
  say: Speech = ENGLISH,
): string {
  const share = (100 * dwellDeg * lobeAnglesDeg.length) / 360;
  return say.papers.dwellShare(`${fixed(dwellDeg, 1, say)}°`, fixed(share, 0, say));
}

export function specificationFacts(
  unit: Pick<Unit, "speedBand" | "capsules">,
  say: Speech = ENGLISH,
): Fact[] {
  return [
    ...bandFacts(say.papers.limits.speed, unit.speedBand, say),
    ...unit.capsules.flatMap(({ name, band }) => bandFacts(name, band, say)),
  ];
}

function bandFacts(label: string, band: Band | null, say: Speech): Fact[] {
  if (band === null) return [];
  const { limits } = say.papers;
  const tolerance =
    band.workshopToleranceDeg === null
      ? band.isOwnTarget === true
        ? limits.typed
        : limits.printed
      : limits.workshop(`${short(band.workshopToleranceDeg, say)}°`);
  return [
    {
      label: band.isOwnTarget === true ? limits.ownLabel(label) : limits.label(label),
      value: `${band.source}. ${limits[band.judgedOn]} ${tolerance}`,
    },
  ];
}

/** Of the bytes that came from the rig, as they are kept: whoever has them can take it again. */
export interface RawFingerprint {
  readonly sha256Hex: string;
  readonly bytes: number;
}

/** Nothing where the record has raw lines that nobody took one of. */
function fingerprintFacts({ byHand }: RigDescription, fingerprint: RawFingerprint | null): Fact[] {
  const label = "Raw record";
  if (byHand !== undefined) return [{ label, value: "none: typed in, no rig sent anything" }];
  if (fingerprint === null) return [];
  const { sha256Hex, bytes } = fingerprint;
  return [{ label, value: bytes === 0 ? "none kept" : `${bytes} bytes, SHA-256 ${sha256Hex}` }];
}

export function conditionFacts(
  { rig, plan, engineVersion, recordId }: StartDocument,
  found: RigFindings | null,
  vacuumUnit: VacuumUnit,
  fingerprint: RawFingerprint | null,
): Fact[] {
  const { byHand, scenario } = rig;
  const facts: Fact[] = [
    ...(byHand === undefined ? rigFacts(rig, plan, found) : byHandFacts(byHand, vacuumUnit)),
    ...fingerprintFacts(rig, fingerprint),
    { label: "Program", value: `Bobweight ${engineVersion}` },
    { label: "Record", value: recordId },
  ];
  if (scenario !== null) {
    facts.push({ label: "Scenario", value: `${scenario.name}, seed ${scenario.seed}` });
  }
  return facts;
}

export function earlierFacts(earlier: readonly EarlierRun[]): Fact[] {
  return earlier.map(({ name, recordId, startedUtc }) => ({
    label: name === "before" ? "Before the change" : "As received",
    value: `${timeText(startedUtc)}, record ${recordId}`,
  }));
}

function rigFacts(
  { calibration, ambientPa, hello }: RigDescription,
  plan: Plan,
  found: RigFindings | null,
): Fact[] {
  return [
    checkedFact({ calibration }),
    ...(found === null ? [] : [{ label: "Rig, as this run tells", value: rigFindingsText(found) }]),
    ...(hello === null ? [] : [{ label: "Board", value: hello.board }]),
    {
      label: "Ambient pressure",
      value: ambientPa === null ? "not measured" : `${fixed(ambientPa / 1000, 1)} kPa`,
    },
    { label: "Readings", value: readingsText(plan) },
  ];
}

export function checkedFact(
  { calibration }: Pick<RigDescription, "calibration">,
  say: Speech = ENGLISH,
): Fact {
  return { label: say.papers.label.rigChecked, value: checkedText(calibration, say) };
}

function byHandFacts(byHand: ByHand, vacuumUnit: VacuumUnit): Fact[] {
  const { readingLimitDeg, speedLimitRpm, vacuumLimitPa, camTurns, camSpringsBack } = byHand;
  const limits = [
    `${short(readingLimitDeg)}° (distributor)`,
    `${short(speedLimitRpm)} rpm (distributor)`,
    vacuumText(vacuumLimitPa, vacuumUnit),
  ];
  return [
    {
      label: "Read by eye",
      value: `${byHand.means}, each reading within ± ${limits.join(", ")}`,
    },
    { label: "Cam turns by hand", value: triedText(camTurns) },
    { label: "Cam springs back", value: triedText(camSpringsBack) },
  ];
}

function triedText(tried: boolean | null): string {
  if (tried === null) return "not tried";
  return tried ? "yes" : "NO";
}

function rigFindingsText(found: RigFindings): string {
  const { spacingErrorsDeg, rippleSeenDeg } = found;
  const edges =
    spacingErrorsDeg === null
      ? null
      : `pickup edges up to ${fixed(Math.max(...spacingErrorsDeg.map(Math.abs)), 3)}° off, taken out`;
  const seen =
    rippleSeenDeg === null
      ? null
      : `ripple of the drive up to ${fixed(rippleSeenDeg, 3)}° at the slowest, taken out`;
  const unseenDeg = fixed(found.rippleUnseenDegAt1000Rpm, 3);
  const uncertainDeg = fixed(found.rippleUnseenStandardUncertaintyDegAt1000Rpm, 3);
  const unseen = `ripple not seen ${unseenDeg}° at 1000 rpm, standard uncertainty ${uncertainDeg}°`;
  return [edges, seen, unseen].filter((part) => part !== null).join("; ");
}

/** `delay 2031-03-14, vacuum sensor 2031-02-01; pickup and coupling never`. */
function checkedText(calibration: RigCalibration | null, say: Speech): string {
  const { checks } = say.papers;
  const checked = CHECK_KINDS.flatMap((kind) => {
    const check = calibration?.[kind] ?? null;
    return check === null ? [] : [`${checks[kind]} ${dateText(check.checkedUtc, say)}`];
  });
  if (checked.length === 0) return checks.noneEver;
  const never = CHECK_KINDS.filter((kind) => (calibration?.[kind] ?? null) === null);
  if (never.length === 0) return checked.join(", ");
  const names = listText(
    never.map((kind) => checks[kind]),
    checks.and,
  );
  return `${checked.join(", ")}; ${checks.never(names)}`;
}

function listText(words: readonly string[], and: string): string {
  return [words.slice(0, -1).join(", "), ...words.slice(-1)].filter(Boolean).join(` ${and} `);
}

function readingsText({ turnsPerReading, secondsPerReading, referenceRpm }: Plan): string {
  return `mean of at most ${turnsPerReading} turns or ${fixed(secondsPerReading, 1)} s, advance counted from ${fixed(referenceRpm, 0)} rpm`;
}
