// The sheet's pictures as data: the speed curve, one curve a capsule, and the trace of each hold. Pure.
import type {
  CapsuleResult,
  CurvePoint,
  HoldDocument,
  RowVerdict,
  RunResult,
} from "../documents.ts";
import type { Findings } from "../findings/finding.ts";
import type { CapsuleFit, MechanismFit, NotFitted, WeightsFit } from "../mechanism/fitted.ts";
import { fittedCurves } from "../mechanism/fittedCurve.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { Band, Unit } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { barsOf, extentOf, roundAxis } from "./axes.ts";
import type { EarlierRun } from "./earlier.ts";
import { type EvidenceMark, evidenceMarks, findingsOfHold, markLabel } from "./evidenceMarks.ts";
import type { Axis, Block, Line, Mark, Picture } from "./model.ts";

const MARKS: Readonly<Record<Picture["width"], number>> = { full: 12, broad: 9, narrow: 5 };
const UPRIGHT_MARKS = 8;
const UPRIGHT_MARKS_LOW = 5;
/** Above the highest point, as a part of the whole, so that nothing is drawn on the frame. */
const HEADROOM = 0.04;

interface CurveSubject {
  readonly title: string;
  readonly width: Picture["width"];
  readonly low: boolean;
  readonly say: Speech;
  readonly xLabel: string;
  readonly band: Band | null;
  readonly rows: readonly RowVerdict[];
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly earlier: readonly EarlierCurve[];
  readonly marks: readonly EvidenceMark[];
  readonly fit: WeightsFit | CapsuleFit | NotFitted | null;
  readonly driveRatio: number;
  /** Speed means something else at the crankshaft; vacuum does not. */
  readonly xAtCrankshaft: string | null;
  readonly inPicture: (x: number) => number;
}

interface EarlierCurve {
  readonly look: EarlierRun["name"];
  readonly rising: readonly CurvePoint[];
}

/** What is drawn of a run, beside what it measured. */
export interface PictureSubject {
  readonly unit: Unit;
  readonly result: RunResult;
  readonly findings: Findings | null;
  readonly mechanism: MechanismFit | null;
  readonly earlier: readonly EarlierRun[];
}

export interface Pictures {
  readonly speed: readonly Picture[];
  readonly vacuum: readonly Picture[];
}

/**
 * Speed curve in its own line, then a line a capsule; what was not measured is left out. `crowded`: what
 * stands below them needs the room.
 */
export function picturesOf(
  subject: PictureSubject,
  vacuumUnit: VacuumUnit,
  crowded: boolean,
  say: Speech = ENGLISH,
): Pictures {
  const { result, findings } = subject;
  const speed = speedPicture(subject, { width: "full", low: false, say });
  const low = crowded || result.capsules.length > 1;
  const capsules = result.capsules.flatMap((capsule, index) => [
    capsulePicture(subject, capsule, index, vacuumUnit, { width: "broad", low, say }),
    capsule.hold === null
      ? null
      : holdPicture(capsule.name, capsule.hold, vacuumUnit, findingsOfHold(findings, index), {
          width: "narrow",
          low,
          say,
        }),
  ]);
  return {
    speed: speed === null ? [] : [speed],
    vacuum: capsules.filter((picture) => picture !== null),
  };
}

/** Without falling readings and holds, for a page on which much else stands. */
export function risingPictures(
  subject: Omit<PictureSubject, "findings" | "mechanism">,
  vacuumUnit: VacuumUnit,
  low: boolean,
  say: Speech = ENGLISH,
): readonly Picture[] {
  const { speed, capsules } = subject.result;
  const rising = <C extends RunResult["speed"]>(curves: C): C => ({ ...curves, falling: [] });
  const result = { ...subject.result, speed: rising(speed), capsules: capsules.map(rising) };
  const plain: PictureSubject = { ...subject, result, findings: null, mechanism: null };
  const measured = result.capsules.filter((capsule) => capsule.rising.length > 0);
  const [capsule] = measured;
  const beside =
    measured.length === 1 && capsule !== undefined
      ? capsulePicture(plain, capsule, result.capsules.indexOf(capsule), vacuumUnit, {
          width: "narrow",
          low,
          say,
        })
      : null;
  const weights = speedPicture(plain, { width: beside === null ? "full" : "broad", low, say });
  return [weights, beside].filter((picture) => picture !== null);
}

type Layout = Pick<Picture, "width" | "low"> & { readonly say: Speech };

function speedPicture(subject: PictureSubject, layout: Layout): Picture | null {
  const { unit, result, findings, mechanism, earlier } = subject;
  const { speed, rows } = result;
  return curvePicture({
    title: layout.say.verdicts.picture.speed,
    ...layout,
    xLabel: layout.say.verdicts.picture.distributorRpm,
    band: unit.speedBand,
    rows: rows.filter(({ about }) => about === "speed"),
    ...speed,
    earlier: earlier.map(({ name, result: was }) => ({ look: name, rising: was.speed.rising })),
    marks: evidenceMarks(findings, result, { kind: "speed" }),
    fit: mechanism?.weights ?? null,
    driveRatio: unit.driveRatio,
    xAtCrankshaft: layout.say.verdicts.picture.crankshaftRpm,
    inPicture: (x) => x,
  });
}

function capsulePicture(
  { unit, result, findings, mechanism, earlier }: PictureSubject,
  capsule: CapsuleResult,
  index: number,
  vacuumUnit: VacuumUnit,
  layout: Layout,
): Picture | null {
  return curvePicture({
    title: layout.say.verdicts.picture.vacuum(capsule.name),
    ...layout,
    xLabel: layout.say.verdicts.picture.vacuumIn(vacuumUnit),
    band: unit.capsules[index]?.band ?? null,
    rows: result.rows.filter((row) => row.about === "vacuum" && row.capsule === index),
    rising: capsule.rising,
    falling: capsule.falling,
    earlier: earlier.map(({ name, result: was }) => ({
      look: name,
      rising: was.capsules[index]?.rising ?? [],
    })),
    marks: evidenceMarks(findings, result, { kind: "vacuum", capsule: index }),
    fit: mechanism?.capsules[index] ?? null,
    driveRatio: unit.driveRatio,
    xAtCrankshaft: null,
    inPicture: (x) => vacuumFromPascals(x, vacuumUnit),
  });
}

function curvePicture(subject: CurveSubject): Picture | null {
  const { width, low, say, band, rising, falling, inPicture, driveRatio } = subject;
  const { picture: words } = say.verdicts;
  if (rising.length + falling.length === 0) return null;
  const points = [...rising, ...falling, ...subject.earlier.flatMap((one) => one.rising)];
  const extent = extentOf(band);
  const lastX = Math.max(...points.map(({ x }) => x), ...extent.xs);
  const x: Axis = {
    label: subject.xLabel,
    decimalMark: say.decimalMark,
    ...roundAxis([inPicture(lastX)], MARKS[width]),
    crankshaft: atCrankshaft(subject.xAtCrankshaft, driveRatio),
  };
  const y: Axis = {
    label: words.distributorDegrees,
    decimalMark: say.decimalMark,
    ...uprightAxis([...points.map(({ advanceDeg }) => advanceDeg), ...extent.degs], low),
    crankshaft: atCrankshaft(words.crankshaftDegrees, driveRatio),
  };
  return {
    title: subject.title,
    shows: shownIn(subject),
    width,
    low,
    x,
    y,
    lines: [
      ...subject.earlier.map((one) => line(one.look, one.rising, inPicture)),
      ...fittedLines(subject),
      line("rising", rising, inPicture),
      line("falling", falling, inPicture),
    ].filter(({ points }) => points.length > 0),
    bars: barsOf(band, subject.rows, lastX, x.max, inPicture, say),
    marks: subject.marks.map((mark) => markOf(mark, inPicture)),
  };
}

/** What else is in it than its readings, for who hears it read. */
function shownIn({ fit, earlier, marks, say: { verdicts }, rising }: CurveSubject): string[] {
  const { picture: words } = verdicts;
  const has = (look: EarlierRun["name"]) =>
    earlier.some((one) => one.look === look && one.rising.length > 0);
  const isFitted = rising.length > 0 && fittedCurves(fit, 1).length > 0;
  const numbers = marks.map(({ findings }) => markLabel(findings)).join("; ");
  return [
    ...(isFitted ? [words.withFitted] : []),
    ...(has("as received") ? [words.withReceived] : []),
    ...(has("before") ? [words.withBefore] : []),
    ...(marks.length > 0 ? [words.withMarks(numbers)] : []),
  ];
}

function atCrankshaft(label: string | null, driveRatio: number): Axis["crankshaft"] {
  return label === null || driveRatio === 1 ? null : { label, factor: driveRatio };
}

function line(
  look: Line["look"],
  points: readonly CurvePoint[],
  inPicture: (x: number) => number,
): Line {
  return { look, points: points.map(({ x, advanceDeg }) => [inPicture(x), advanceDeg]) };
}

/** Beneath the readings, as far as they go. */
function fittedLines({ fit, rising, falling, inPicture }: CurveSubject): Line[] {
  const highestX = Math.max(...[...rising, ...falling].map(({ x }) => x));
  return fittedCurves(fit, highestX)
    .filter(({ branch }) => branch === "rising" || falling.length > 0)
    .map(({ points }) => ({
      look: "fitted",
      points: points.map(([x, advanceDeg]) => [inPicture(x), advanceDeg]),
    }));
}

/** Falling readings stand above rising ones, so that their labels have room there. */
function markOf(mark: EvidenceMark, inPicture: (x: number) => number): Mark {
  return {
    x: inPicture(mark.x),
    y: mark.advanceDeg,
    label: markLabel(mark.findings),
    labelSide: mark.branch === "falling" ? "upper left" : "lower right",
  };
}

/** What the key has to explain. */
export function keyOf(pictures: Pictures): Extract<Block, { kind: "key" }> {
  const all = [...pictures.speed, ...pictures.vacuum];
  const looks = new Set(all.flatMap(({ lines }) => lines.map(({ look }) => look)));
  return { kind: "key", looks: [...looks], isMarked: all.some(({ marks }) => marks.length > 0) };
}

function holdPicture(
  name: string,
  hold: HoldDocument,
  vacuumUnit: VacuumUnit,
  findings: readonly number[],
  { width, low, say }: Layout,
): Picture | null {
  const { picture: words } = say.verdicts;
  if (hold.trace.length === 0) return null;
  const points = hold.trace.map(
    ([seconds, pa]) => [seconds, vacuumFromPascals(pa, vacuumUnit)] as const,
  );
  const seconds = points.map(([s]) => s);
  const vacuums = points.map(([, vacuum]) => vacuum);
  return {
    title: words.hold(name),
    shows: findings.length === 0 ? [] : [words.withMarks(markLabel(findings))],
    width,
    low,
    x: {
      label: words.seconds,
      decimalMark: say.decimalMark,
      ...roundAxis(seconds, MARKS.narrow),
      crankshaft: null,
    },
    y: {
      label: words.vacuumIn(vacuumUnit),
      decimalMark: say.decimalMark,
      ...uprightAxis(vacuums, low),
      crankshaft: null,
    },
    lines: [{ look: "trace", points }],
    bars: [],
    marks: points
      .slice(findings.length === 0 ? points.length : -1)
      .map(([x, y]): Mark => ({ x, y, label: markLabel(findings), labelSide: "upper left" })),
  };
}

function uprightAxis(values: readonly number[], low: boolean): Pick<Axis, "min" | "max" | "step"> {
  const room = HEADROOM * (Math.max(0, ...values) - Math.min(0, ...values));
  const most = low ? UPRIGHT_MARKS_LOW : UPRIGHT_MARKS;
  return roundAxis([...values, Math.max(0, ...values) + room], most);
}
