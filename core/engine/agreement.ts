// The owner's readings beside the marks to expect: each agrees, does not, or cannot tell, and what all of them say.
import type { Verdict } from "../documents.ts";
import { decide } from "../judge/decision.ts";
import { fixed, rpmText } from "../sheet/figures.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { Unit } from "../unit.ts";
import { distributorFromCrankshaft } from "../units.ts";
import { advanceAt } from "./advance.ts";
import {
  type EngineConditions,
  type EngineCurves,
  engineMark,
  type MarkRange,
  rangeOf,
} from "./marks.ts";
import type { EngineReading } from "./readingsFile.ts";

/** What a timing light read by eye on a running engine is good for. Common practice, no source. */
export const READING_BAND_CRANKSHAFT_DEG = 2;

export type Agreement = "agrees" | "does not" | "cannot tell";

export interface JudgedReading extends EngineReading {
  readonly distributorRpm: number;
  /** The reading taken back to the distributor; with the line on, weights and capsule together. Null where the curve does not reach the speed of the initial timing. */
  readonly advanceDistributorDeg: number | null;
  /** By the bench curves; null where they do not tell. */
  readonly expected: MarkRange | null;
  /** How far outside of what was expected, 0 inside; null without. */
  readonly offCrankshaftDeg: number | null;
  readonly agreement: Agreement;
  /** Of line-plugged readings against the specification; null where it does not tell. */
  readonly specification: Verdict | null;
  readonly sentence: string;
}

export interface JudgedReadings {
  readonly readings: readonly JudgedReading[];
  /** What the readings say together, in plain sentences. */
  readonly summary: readonly string[];
}

export function judgeReadings(
  unit: Unit,
  curves: EngineCurves,
  conditions: EngineConditions,
  readings: readonly EngineReading[],
  say: Speech = ENGLISH,
): JudgedReadings {
  const judged = readings.map((reading) => judgeReading(unit, curves, conditions, reading, say));
  return { readings: judged, summary: summaryOf(judged, conditions, say) };
}

function judgeReading(
  unit: Unit,
  curves: EngineCurves,
  conditions: EngineConditions,
  reading: EngineReading,
  say: Speech,
): JudgedReading {
  const { engineRpm, markCrankshaftDeg, vacuumLine } = reading;
  const { settings } = conditions;
  const mark = engineMark(unit, curves, conditions, engineRpm);
  const { rising, falling } = mark.plugged;
  const plugged = rising && rangeOf(rising, falling ?? rising);
  const expected = vacuumLine === "plugged" ? plugged : mark.unloaded;
  const offCrankshaftDeg = expected && outsideBy(markCrankshaftDeg, expected);
  const agreement = agreementOf(expected, offCrankshaftDeg);
  const setAtRpm = distributorFromCrankshaft(settings.atEngineRpm, unit.driveRatio);
  const there = advanceAt("speed", curves?.speed.rising ?? [], setAtRpm);
  const gained = distributorFromCrankshaft(
    markCrankshaftDeg - settings.initialTimingCrankshaftDeg,
    unit.driveRatio,
  );
  return {
    ...reading,
    distributorRpm: distributorFromCrankshaft(engineRpm, unit.driveRatio),
    advanceDistributorDeg: there && there.advanceDeg + gained,
    expected,
    offCrankshaftDeg,
    agreement,
    specification:
      vacuumLine === "on" || mark.specified === null
        ? null
        : decide(markCrankshaftDeg, READING_BAND_CRANKSHAFT_DEG, mark.specified),
    sentence: sentenceOf(reading, expected, agreement, say),
  };
}

function outsideBy(mark: number, { fromCrankshaftDeg, toCrankshaftDeg }: MarkRange): number {
  return mark - Math.min(Math.max(mark, fromCrankshaftDeg), toCrankshaftDeg);
}

/** The band by the rule of the judge. A range wider than the band's own width proves nothing by being met. */
function agreementOf(expected: MarkRange | null, off: number | null): Agreement {
  if (expected === null || off === null) return "cannot tell";
  const band = { min: -READING_BAND_CRANKSHAFT_DEG, max: READING_BAND_CRANKSHAFT_DEG };
  const verdict = decide(off, expected.expandedUncertaintyCrankshaftDeg, band);
  if (verdict === "outside") return "does not";
  const width = expected.toCrankshaftDeg - expected.fromCrankshaftDeg;
  return verdict === "within" && width <= 2 * READING_BAND_CRANKSHAFT_DEG
    ? "agrees"
    : "cannot tell";
}

function sentenceOf(
  { engineRpm, markCrankshaftDeg, vacuumLine }: EngineReading,
  expected: MarkRange | null,
  agreement: Agreement,
  say: Speech,
): string {
  const { engine: words } = say;
  const says =
    expected === null ? words.noExpectation : words.expected(agreement, rangeText(expected, say));
  const mark = `${fixed(markCrankshaftDeg, 1, say)}°`;
  return words.sentence(mark, rpmText(engineRpm, say), vacuumLine, says);
}

/** `18.0°`, or `18.0 to 24.0°`. */
export function rangeText(
  { fromCrankshaftDeg: from, toCrankshaftDeg: to }: MarkRange,
  say: Speech = ENGLISH,
): string {
  const low = fixed(from, 1, say);
  const high = fixed(to, 1, say);
  return low === high ? `${low}°` : say.papers.between(low, `${high}°`);
}

/** A reading with the middle of what was expected. */
interface Pair {
  readonly read: number;
  readonly wanted: number;
}

function summaryOf(
  readings: readonly JudgedReading[],
  { settings }: EngineConditions,
  say: Speech,
): readonly string[] {
  const { engine: words } = say;
  const count = (agreement: Agreement) =>
    readings.filter((reading) => reading.agreement === agreement).length;
  const counts = words.counts(
    count("agrees"),
    readings.length,
    count("does not"),
    count("cannot tell"),
  );
  const plugged = readings.filter(({ vacuumLine }) => vacuumLine === "plugged");
  const isOff = ({ agreement }: JudgedReading) => agreement === "does not";
  if (plugged.some(isOff)) {
    return [counts, patternOf(plugged, settings.initialTimingCrankshaftDeg, say)];
  }
  const withLine = readings.filter(({ vacuumLine }) => vacuumLine === "on");
  if (withLine.some(isOff) && plugged.some(({ agreement }) => agreement === "agrees")) {
    return [counts, words.lookAtLine];
  }
  return [counts];
}

/** Marks must be expected this far apart before an offset can be told from a curve that is off. */
const TELLING_CRANKSHAFT_DEG = 3 * READING_BAND_CRANKSHAFT_DEG;

/** What is off in line-plugged readings of which at least one does not agree. */
function patternOf(readings: readonly JudgedReading[], initial: number, say: Speech): string {
  const { engine: words } = say;
  const pairs = readings.flatMap(({ markCrankshaftDeg: read, expected }): Pair[] =>
    expected === null
      ? []
      : [{ read, wanted: (expected.fromCrankshaftDeg + expected.toCrankshaftDeg) / 2 }],
  );
  const wanted = pairs.map((pair) => pair.wanted);
  if (Math.max(...wanted) - Math.min(...wanted) < TELLING_CRANKSHAFT_DEG) return words.tooClose;
  const offset = pairs.reduce((sum, { read, wanted }) => sum + read - wanted, 0) / pairs.length;
  const fits = (mark: (wanted: number) => number) =>
    pairs.every(({ read, wanted }) => Math.abs(read - mark(wanted)) <= READING_BAND_CRANKSHAFT_DEG);
  if (fits((wanted) => wanted + offset)) {
    return words.offset(`${fixed(Math.abs(offset), 1, say)}°`, offset > 0);
  }
  for (const scale of [2, 0.5]) {
    if (fits((wanted) => initial + scale * (wanted - initial))) return words.scaled(scale === 2);
  }
  return words.unlike;
}
