// Under which conditions a run was made: the rig and its checks, or how it was read by hand, and what it goes by. Pure.
import type { ByHand } from "../byHand/byHand.ts";
import { CHECK_KINDS, type RigCalibration } from "../calibration/calibration.ts";
import type { RigDescription, RigFindings, StartDocument } from "../documents.ts";
import type { Plan } from "../plan.ts";
import { ENGLISH } from "../speech/english.ts";
import type { PaperSpeech, Speech } from "../speech/speech.ts";
import type { VacuumUnit } from "../units.ts";
import type { EarlierRun } from "./earlier.ts";
import { dateText, fixed, rpmText, short, timeText, vacuumText } from "./figures.ts";
import type { Fact } from "./model.ts";

/** Of the bytes that came from the rig, as they are kept: whoever has them can take it again. */
export interface RawFingerprint {
  readonly sha256Hex: string;
  readonly bytes: number;
}

/** Nothing where the record has raw lines that nobody took one of. */
function fingerprintFacts(
  { byHand }: RigDescription,
  fingerprint: RawFingerprint | null,
  { sheet }: PaperSpeech,
): Fact[] {
  const label = sheet.label.rawLines;
  if (byHand !== undefined) return [{ label, value: sheet.rawTyped }];
  if (fingerprint === null) return [];
  const { sha256Hex, bytes } = fingerprint;
  return [{ label, value: bytes === 0 ? sheet.rawNone : sheet.rawBytes(bytes, sha256Hex) }];
}

export function conditionFacts(
  { rig, plan, engineVersion, recordId }: StartDocument,
  found: RigFindings | null,
  vacuumUnit: VacuumUnit,
  fingerprint: RawFingerprint | null,
  say: PaperSpeech,
): Fact[] {
  const { byHand, scenario } = rig;
  const { sheet: words } = say;
  const facts: Fact[] = [
    ...(byHand === undefined
      ? rigFacts(rig, plan, found, say)
      : byHandFacts(byHand, vacuumUnit, say)),
    ...fingerprintFacts(rig, fingerprint, say),
    { label: words.label.program, value: `Bobweight ${engineVersion}` },
    { label: words.label.record, value: recordId },
  ];
  if (scenario !== null) {
    const value = words.scenario(scenario.name, scenario.seed);
    facts.push({ label: words.label.scenario, value });
  }
  return facts;
}

export function earlierFacts(earlier: readonly EarlierRun[], say: PaperSpeech): Fact[] {
  const { label, recordOf } = say.sheet;
  return earlier.map(({ name, recordId, startedUtc }) => ({
    label: name === "before" ? label.before : label.received,
    value: recordOf(timeText(startedUtc, say), recordId),
  }));
}

function rigFacts(
  { calibration, ambientPa, hello }: RigDescription,
  plan: Plan,
  found: RigFindings | null,
  say: PaperSpeech,
): Fact[] {
  const { label } = say.sheet;
  return [
    checkedFact({ calibration }, say),
    ...(found === null ? [] : [{ label: label.rigTold, value: rigFindingsText(found, say) }]),
    ...(hello === null ? [] : [{ label: label.board, value: hello.board }]),
    {
      label: label.ambient,
      value: ambientPa === null ? say.papers.notMeasured : `${fixed(ambientPa / 1000, 1, say)} kPa`,
    },
    { label: label.readings, value: readingsText(plan, say) },
  ];
}

export function checkedFact(
  { calibration }: Pick<RigDescription, "calibration">,
  say: Speech = ENGLISH,
): Fact {
  return { label: say.papers.label.rigChecked, value: checkedText(calibration, say) };
}

function byHandFacts(byHand: ByHand, vacuumUnit: VacuumUnit, say: PaperSpeech): Fact[] {
  const { readingLimitDeg, speedLimitRpm, vacuumLimitPa, camTurns, camSpringsBack } = byHand;
  const { label, byEye, atDistributor } = say.sheet;
  const limits = [
    atDistributor(`${short(readingLimitDeg, say)}°`),
    atDistributor(`${short(speedLimitRpm, say)} ${say.rpm}`),
    vacuumText(vacuumLimitPa, vacuumUnit, say),
  ];
  return [
    { label: label.byEye, value: byEye(byHand.means, limits) },
    { label: label.camTurns, value: triedText(camTurns, say) },
    { label: label.camSpringsBack, value: triedText(camSpringsBack, say) },
  ];
}

function triedText(tried: boolean | null, { sheet }: PaperSpeech): string {
  if (tried === null) return sheet.notTried;
  return tried ? sheet.yes : sheet.no;
}

function rigFindingsText(found: RigFindings, say: PaperSpeech): string {
  const { spacingErrorsDeg, rippleSeenDeg } = found;
  const { rigTold: words } = say.sheet;
  const degrees = (deg: number) => `${fixed(deg, 3, say)}°`;
  const edges =
    spacingErrorsDeg === null
      ? null
      : words.pickup(degrees(Math.max(...spacingErrorsDeg.map(Math.abs))));
  const seen = rippleSeenDeg === null ? null : words.seen(degrees(rippleSeenDeg));
  const unseen = words.unseen(
    degrees(found.rippleUnseenDegAt1000Rpm),
    rpmText(1000, say),
    degrees(found.rippleUnseenStandardUncertaintyDegAt1000Rpm),
  );
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

function readingsText(
  { turnsPerReading, secondsPerReading, referenceRpm }: Plan,
  say: PaperSpeech,
): string {
  return say.sheet.readings(
    turnsPerReading,
    fixed(secondsPerReading, 1, say),
    rpmText(referenceRpm, say),
  );
}
