// What a run produces: a stream of small documents. The store appends them, the page draws them, the
// command prints them; there is no second path. All are plain JSON.
import type { ByHand } from "./byHand/byHand.ts";
import type { RigCalibration } from "./calibration/calibration.ts";
import type { Hello } from "./codec/rigLines.ts";
import type { Told } from "./errors.ts";
import type { Findings } from "./findings/finding.ts";
import type { MechanismFit } from "./mechanism/fitted.ts";
import type { Plan } from "./plan.ts";
import type { TriggerResult } from "./triggerResult.ts";
import type { Branch, Limits, Unit } from "./unit.ts";

export type Verdict = "within" | "outside" | "unproven";
export type Ending = "completed" | "stopped" | "rig fault" | "link lost";
export type StepName = "reference" | "hold" | "vacuum" | "speed" | "return";

/** What a standard uncertainty is made of (core/angles/budget.ts says how large each is). */
export type PartName =
  | "between readings"
  | "sensor"
  | "repeatability"
  | "tick"
  | "interpolation"
  | "drift"
  | "reference"
  | "pickup"
  | "ripple not seen"
  | "ripple elsewhere"
  | "zero"
  | "delay"
  | "speed"
  | "vacuum"
  /** A degree wheel or a timing light, by eye. */
  | "reading"
  /** Of a record whose version did not keep the parts apart (core/olderRecords.ts). */
  | "together";

/** One line of an uncertainty budget, in the unit of the figure it belongs to. */
export interface UncertaintyPart {
  readonly name: PartName;
  readonly standardUncertainty: number;
  /** Null: infinite. */
  readonly degreesOfFreedom: number | null;
  /** The distribution that stands for what is known (JCGM 101). */
  readonly shape: "normal" | "rectangular";
  /** The same error stands in other readings of the run: it does not average out between them. */
  readonly shared: boolean;
}

/** One averaged value with its uncertainty. Angles in distributor degrees. */
export interface Reading {
  readonly speedRpm: number;
  readonly speedStandardUncertaintyRpm: number;
  /** 95 % coverage. */
  readonly speedExpandedUncertaintyRpm: number;
  /**
   * Farthest that the speed went in the direction of a speed sweep on the way here and while reading:
   * friction may hold the weights where that left them. Null outside a speed sweep.
   */
  readonly farthestRpm: number | null;
  /** Index tick of the first turn on that way. */
  readonly wayFromTick: number | null;
  /** Null on a rig without vacuum sensor. */
  readonly vacuumPa: number | null;
  readonly vacuumStandardUncertaintyPa: number;
  readonly advanceDeg: number;
  /** Of the angle alone; what speed or vacuum add by the slope of the curve comes with the curve. */
  readonly standardUncertaintyDeg: number;
  /** Of the angle alone: its parts, in quadrature the standard uncertainty. */
  readonly budget: readonly UncertaintyPart[];
  /** Times the standard uncertainty is 95 % coverage. */
  readonly coverageFactor: number;
  /** Standard deviation of the turns' advances within the reading. */
  readonly spreadDeg: number;
  readonly turns: number;
  /** Events of these turns that were not used, with the reason. */
  readonly setAside: SetAside;
  /** Mean angle from closing to opening; null for a trigger without dwell or where it cannot be told. */
  readonly dwellDeg: number | null;
  readonly dwellStandardUncertaintyDeg: number;
  /** Each lobe's mean deviation from its nominal place, the mean of all removed. */
  readonly lobeDeviationsDeg: readonly number[];
  /** In the order of the lobes. */
  readonly lobes: readonly LobeFigures[];
  readonly scatter: Scatter;
  /** Half open span of rig ticks that was averaged, by index ticks. */
  readonly fromTick: number;
  readonly toTick: number;
}

/** What one lobe's events tell in a reading. */
export interface LobeFigures {
  /** Mean place in degrees after the index, 0 to 360; null without events. */
  readonly angleDeg: number | null;
  /** Standard uncertainty of the deviation from the nominal place. */
  readonly standardUncertaintyDeg: number;
  /** Standard deviation of a single event about the lobe's own mean. */
  readonly spreadDeg: number;
  readonly dwellDeg: number | null;
  readonly events: number;
  /** Openings that did not come. */
  readonly missing: number;
}

/** The lobes' deviations parted by where they come from. */
export interface Scatter {
  /** Amplitude of what goes once round with the turn; null with fewer than four lobes. */
  readonly oncePerTurnDeg: number | null;
  /** Where round the turn it is largest (late), in degrees after the index. */
  readonly oncePerTurnAtDeg: number | null;
  /** Largest deviation either way with the once-per-turn part taken off. */
  readonly fixedDeg: number;
  /** Standard deviation of single events about their lobes' means. */
  readonly randomDeg: number;
}

export interface SetAside {
  /** Turns of which the rig says that an edge was lost. */
  readonly lostTurns: number;
  readonly missingEvents: number;
  /** Firing edges that belong to no lobe. */
  readonly extraEvents: number;
  /** Short double edges, as ignition noise makes them. */
  readonly noiseEvents: number;
  /** Closings that opened again for a moment. */
  readonly bounces: number;
}

export interface StartDocument {
  readonly type: "start";
  readonly recordId: string;
  readonly startedUtc: string;
  readonly unit: Unit;
  /** The unit file as it was given, unconverted. */
  readonly unitFile: unknown;
  readonly plan: Plan;
  readonly rig: RigDescription;
  readonly engineVersion: string;
  /** Seconds of rig time the plan should take. */
  readonly expectedS: number;
  /** The record of the same unit that a change came after: this run measures again. Null: it follows none. */
  readonly afterRecordId: string | null;
  /** Left out where nothing is kept, and by versions that named none. */
  readonly bench?: BenchName;
}

/** The bench that a record was made on. */
export interface BenchName {
  /** A UUID that lasts as long as the bench's data folder. */
  readonly id: string;
  /** By which people know it; it may change. */
  readonly name: string;
}

export interface RigDescription {
  readonly name: string;
  /** The sheet and the page say plainly when no real rig was used. */
  readonly simulated: boolean;
  /** Name and seed of the scenario on the stand-in rig. */
  readonly scenario: { readonly name: string; readonly seed: number } | null;
  /** Null: there was no rig, the unit was read by hand. */
  readonly hello: Hello | null;
  /** Only of what was read by hand. */
  readonly byHand?: ByHand;
  /** What was found of the rig's own errors, and when; null: never checked. */
  readonly calibration: RigCalibration | null;
  readonly vacuumSensorStandardUncertaintyPa: number;
  /** Of the delay from the unit firing to the tick, as far as it is not known. */
  readonly triggerDelayStandardUncertaintyUs: number;
  readonly ambientPa: number | null;
}

/** A rig that has said what it is. */
export interface PresentRig extends RigDescription {
  readonly hello: Hello;
}

/** A step begins. `done` of `total` readings are behind us. */
export interface StepDocument {
  readonly type: "step";
  readonly step: StepName;
  readonly capsule: number | null;
  readonly branch: Branch | null;
  readonly targetRpm: number;
  readonly targetPa: number | null;
  readonly done: number;
  readonly total: number;
  readonly remainingS: number;
}

/** Ten a second while running; not stored, since raw lines can make it again. */
export interface LiveDocument {
  readonly type: "live";
  readonly runS: number;
  readonly speedRpm: number;
  readonly targetRpm: number;
  /** Null until the reference is known, or where the events cannot be told. */
  readonly advanceDeg: number | null;
  readonly vacuumPa: number | null;
  readonly targetPa: number | null;
  readonly lobeDeviationsDeg: readonly number[];
}

export interface PointDocument {
  readonly type: "point";
  /** `reference`: the zero of advance. `return`: the same condition again at the end. */
  readonly sweep: "reference" | "speed" | "vacuum" | "return";
  readonly capsule: number | null;
  readonly branch: Branch | null;
  readonly targetRpm: number;
  readonly targetPa: number | null;
  readonly reading: Reading;
}

export interface HoldDocument {
  readonly type: "hold";
  readonly capsule: number;
  readonly targetPa: number;
  /** Whether the target was reached before the line was closed off. */
  readonly reached: boolean;
  /** Vacuum when the clock started and when it stopped. */
  readonly startPa: number;
  readonly endPa: number;
  readonly seconds: number;
  /** Pump's drive just before closing off, 0 to 1; null: pumped by hand. */
  readonly pumpEffort: number | null;
  /** Pairs of seconds since closing off and pascals, at most a few hundred. */
  readonly trace: readonly (readonly [number, number])[];
  /** Rig tick of the first vacuum line after closing off. */
  readonly fromTick: number;
}

/**
 * All readings again, once the whole run has told what it can of pickup and ripple. They take the
 * place of those that came with the points, in the same order.
 */
export interface FinalDocument {
  readonly type: "final";
  readonly readings: readonly Reading[];
  readonly rig: RigFindings;
}

/** What a run told of the rig itself. */
export interface RigFindings {
  /** Misplacement of each pickup edge after the index; null where it could not be learnt. */
  readonly spacingErrorsDeg: readonly number[] | null;
  /** Largest ripple angle either way that the pickup showed, at the slowest reading; null without pickup edges. */
  readonly rippleSeenDeg: number | null;
  /** Ripple that the pickup cannot see, told from readings before the advance begins: degrees at 1000 rpm. */
  readonly rippleUnseenDegAt1000Rpm: number;
  readonly rippleUnseenStandardUncertaintyDegAt1000Rpm: number;
}

/** Something the operator should know while the run goes on. */
export interface NoticeDocument extends Told {
  readonly type: "notice";
}

export interface EndDocument {
  readonly type: "end";
  readonly endedUtc: string;
  readonly ending: Ending;
  /** Code and text of what ended the run; null when completed. */
  readonly reason: Told | null;
  /** Whether the rig reported drive off and disarmed after the last stop. */
  readonly restConfirmed: boolean;
  readonly link: LinkCounts;
  readonly result: RunResult;
  /** Null in records of versions that looked for none. */
  readonly findings: Findings | null;
  /** Null in records of versions that fitted none. */
  readonly mechanism: MechanismFit | null;
}

/** What the link saw in this run. */
export interface LinkCounts {
  readonly linesGood: number;
  readonly linesBad: number;
  readonly turnsGood: number;
  readonly turnsSetAside: number;
  readonly turnsMissing: number;
  readonly commandRepeats: number;
}

export type RunDocument =
  | StartDocument
  | StepDocument
  | LiveDocument
  | PointDocument
  | HoldDocument
  | FinalDocument
  | NoticeDocument
  | EndDocument;

/** Everything judged from a run's documents (core/judge/result.ts). */
export interface RunResult {
  /**
   * Null when nothing could be judged: no printed row was measured, or the run did not get to its end
   * and nothing is outside so far.
   */
  readonly verdict: Verdict | null;
  readonly rows: readonly RowVerdict[];
  /** Printed rows and limits of which at least one branch has no line in `rows`: not planned or not reached. */
  readonly rowsNotMeasured: number;
  readonly speed: {
    readonly rising: readonly CurvePoint[];
    readonly falling: readonly CurvePoint[];
  };
  readonly capsules: readonly CapsuleResult[];
  /** Of the slow reading of the speed sweep that knows it best; null where none tells it. */
  readonly dwellDeg: number | null;
  /** Largest lobe deviation either way; null without readings. */
  readonly scatterDeg: number | null;
  /** Advance at the reference condition after everything: what did not come back. */
  readonly returnDeg: number | null;
  readonly trigger: TriggerResult;
}

/** Advance by the capsule alone: what the weights add at the speed of the sweep is taken off. */
export interface CapsuleResult {
  readonly name: string;
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly hold: HoldDocument | null;
}

/**
 * `x`: speed in distributor rpm or vacuum in pascals, as measured. In rising order of `x` on both
 * branches. The uncertainty is that of the angle and of `x` by the slope of the curve together.
 */
export interface CurvePoint {
  readonly x: number;
  readonly targetX: number;
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
  /** Times the standard uncertainty is 95 % coverage. */
  readonly coverageFactor: number;
  /** What the standard uncertainty is made of, in quadrature. */
  readonly budget: readonly UncertaintyPart[];
}

/** One line of the judgement: a printed row on one branch, or a limit for dwell, scatter, hold or return. */
export interface RowVerdict {
  readonly about: "speed" | "vacuum" | "dwell" | "scatter" | "hold" | "return";
  readonly capsule: number | null;
  readonly branch: Branch | null;
  readonly printed: string;
  /** Speed in rpm, vacuum in pascals, or null where the row has no place on the axis. */
  readonly x: number | null;
  /**
   * In `unit`; null where there is no figure: planned but missing (`unproven`), a vacuum that was never
   * reached, or advance that never began where it should have (`outside`).
   */
  readonly measured: number | null;
  readonly expandedUncertainty: number | null;
  readonly limits: Limits;
  readonly unit: "deg" | "rpm" | "Pa";
  readonly verdict: Verdict;
  /** Within or outside as read, and left open since edges may come late (core/findings/explained.ts). */
  readonly isOpenByDelay?: true;
}
