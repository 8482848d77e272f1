// Invented runs with everything that a file's sheet can tell, in a German workshop's own names.
import type { EndDocument, RowVerdict, RunDocument, StartDocument } from "../../core/documents.ts";
import type { Evidence, Finding } from "../../core/findings/finding.ts";
import { type EarlierRun, earlierRuns } from "../../core/sheet/earlier.ts";
import type { FigureAt, Trend, TriggerResult } from "../../core/triggerResult.ts";
import type { Band, Unit } from "../../core/unit.ts";
import { STAND_IN } from "../../server/rigFile.ts";
import { MECHANISM } from "../mechanism/fitted.ts";
import {
  endDocument,
  fullCalibration,
  inventedUnit,
  runDocuments,
  startDocument,
} from "./fixture.ts";

const capsule = inventedUnit.capsules[0] as Unit["capsules"][number];
const band = inventedUnit.speedBand as NonNullable<Unit["speedBand"]>;

/** As a German manual would print it. */
function inGerman(one: Band): Band {
  const rows = one.rows.map((row, i) => ({ ...row, printed: `Zeile ${i + 1}` }));
  return { ...one, source: "Tafel", rows };
}

const unit: Unit = {
  ...inventedUnit,
  description: "Vierzylinder, zwei Dosen",
  stampedNumber: null,
  contactSets: {
    arrangement: "staggered",
    connected: "first",
    lobeAnglesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
    dwellLimitsDeg: { first: { min: 57, max: 63 }, second: null, both: null },
  },
  speedBand: {
    ...inGerman(band),
    source: "The user's own target, typed as rows",
    isOwnTarget: true,
  },
  capsules: [
    { ...capsule, name: "Frühdose", band: capsule.band && inGerman(capsule.band) },
    { ...capsule, name: "Spätdose", acts: "retard", band: null },
  ],
};

/** As the program words them itself. */
const ROWS: readonly (Pick<RowVerdict, "about" | "printed"> & Partial<RowVerdict>)[] = [
  {
    about: "speed",
    branch: "rising",
    printed:
      "no advance below 450 distributor rpm: 0 distributor degrees (± 0.5 distributor degrees by the workshop)",
    x: 450,
    verdict: "outside",
  },
  {
    about: "speed",
    branch: "falling",
    printed: "8 ± 2 crankshaft degrees at 1600 crankshaft rpm",
    x: 800,
  },
  {
    about: "speed",
    branch: "rising",
    printed: "8 ± 2 crankshaft degrees at 1600 crankshaft rpm",
    x: 800,
  },
  {
    about: "speed",
    branch: "rising",
    printed: "largest advance 14 distributor degrees by 2600 distributor rpm",
    x: 2600,
    measured: null,
    verdict: "unproven",
  },
  {
    about: "vacuum",
    capsule: 0,
    branch: "rising",
    printed: "advance starts at 3 to 5 inHg",
    x: null,
    measured: 11_800,
    expandedUncertainty: 620,
    limits: { min: 10_159, max: 16_932 },
    unit: "Pa",
  },
  {
    about: "vacuum",
    capsule: 1,
    branch: "rising",
    printed: "at least 5 distributor degrees retard at 10 inHg",
    x: 33_864,
  },
  { about: "dwell", printed: "dwell 57 to 63 distributor degrees" },
  {
    about: "scatter",
    printed: "lobes within 1 distributor degrees of their places",
    limits: { min: null, max: 1 },
  },
  {
    about: "return",
    printed: "cam turns by hand and springs back",
    measured: null,
    limits: { min: null, max: null },
    verdict: "outside",
  },
  { about: "return", printed: "comes back to within 0.5 distributor degrees of the reference" },
  {
    about: "hold",
    capsule: 0,
    printed: "falls by at most 3.39 kPa in 30 s from 54.18 kPa",
    x: 54_182,
    measured: null,
    verdict: "outside",
    unit: "Pa",
    limits: { min: null, max: 3390 },
  },
];

const rows = ROWS.map(
  (row): RowVerdict => ({
    capsule: null,
    branch: null,
    x: null,
    measured: 5.25,
    expandedUncertainty: 0.12,
    limits: { min: 5, max: 7.5 },
    unit: "deg",
    verdict: "within",
    ...row,
  }),
);

const at = (x: number, valueDeg: number, expandedUncertaintyDeg: number): FigureAt => ({
  x,
  valueDeg,
  expandedUncertaintyDeg,
});
const trend = (low: FigureAt, high: FigureAt, isClear: boolean): Trend => ({
  low,
  change: { high, changeDeg: high.valueDeg - low.valueDeg, expandedUncertaintyDeg: 0.02, isClear },
});
const missing = { share: 0.048, soundBelow: 3, soundAbove: 2, soundBetween: 0, plateDeg: null };

export const TRIGGER: TriggerResult = {
  dwell: {
    atRpm: 800,
    lobesDeg: [51.04, 52.4, null, 51],
    lobeExpandedUncertaintyDeg: 0.12,
    overSpeed: trend(at(800, 51, 0.02), at(2640, 47.39, 0.01), true),
    overVacuum: [trend(at(5000, 51, 0.02), at(44_000, 51.01, 0.02), false), null],
  },
  bounce: {
    at: [{ speedRpm: 2640, share: 0.43 }],
    begins: { afterRpm: 1200, byRpm: 1350 },
  },
  missing: {
    overSpeed: { ...missing, fromX: 1800, toX: 2640, soundBelow: 0, soundAbove: 0 },
    overVacuum: [
      { ...missing, fromX: 20_000, toX: 27_000, plateDeg: { from: 2.8, to: 6.1 } },
      { ...missing, fromX: 20_000, toX: 20_000, soundBetween: 1 },
    ],
  },
  scatter: {
    fixed: trend(at(180, 0.15, 0.38), at(2640, 0.15, 0.012), false),
    oncePerTurn: trend(at(180, 0.002, 0.001), at(2640, 0.38, 0.001), true),
    random: trend(at(180, 0.1, 0.38), at(2640, 0.01, 0.012), false),
  },
};

const place = (x: number) => ({ sweep: "speed", capsule: null, branch: "rising", x }) as const;
const evidence = (figure: Evidence["figure"], unit: Evidence["unit"]): Evidence => ({
  figure,
  measured: 1.25,
  expandedUncertainty: 0.5,
  expected: { min: 0.25, max: null },
  unit,
  places: [place(800)],
});
const finding = (kind: Finding["kind"], changes: Partial<Finding>): Finding => ({
  kind,
  subject: "unit",
  part: null,
  isSerious: false,
  strength: 0.8,
  evidence: [],
  alike: [],
  ...changes,
});

const { result } = endDocument;
const [measured] = result.capsules;
if (measured === undefined || measured.hold === null) throw new Error("the fixture has a capsule");

const end: EndDocument = {
  ...endDocument,
  ending: "stopped",
  mechanism: { ...MECHANISM, capsules: [...MECHANISM.capsules, null] },
  findings: {
    found: [
      finding("weights-not-returning", { isSerious: true, evidence: [evidence("return", "deg")] }),
      finding("spring-light", {
        part: "first spring",
        subject: "unit or rig",
        alike: ["spring-stretched"],
        evidence: [evidence("advance", "deg"), evidence("bounce", "share")],
      }),
      finding("capsule-leak", {
        strength: 0.95,
        evidence: [{ ...evidence("drop in the hold", "Pa"), places: [] }],
      }),
    ],
    notTestable: [{ what: ["stop-worn", "spring-light"], until: "weights-not-returning" }],
  },
  result: {
    ...result,
    verdict: "outside",
    rows,
    rowsNotMeasured: 2,
    capsules: [
      { ...measured, name: "Frühdose" },
      {
        ...measured,
        name: "Spätdose",
        hold: { ...measured.hold, reached: false, pumpEffort: null },
      },
    ],
    trigger: TRIGGER,
  },
};

const start: StartDocument = {
  ...startDocument,
  unit,
  rig: {
    ...startDocument.rig,
    name: STAND_IN.name,
    scenario: { name: "sound unit", seed: 17 },
    hello: { ...startDocument.rig.hello, board: "Platine A" },
    calibration: { ...fullCalibration, pickup: null, coupling: null },
  },
};
const told: RunDocument = {
  type: "final",
  readings: [],
  rig: {
    spacingErrorsDeg: [0, 0.05, -0.1234],
    rippleSeenDeg: 0.042,
    rippleUnseenDegAt1000Rpm: -0.004,
    rippleUnseenStandardUncertaintyDegAt1000Rpm: 0.002,
  },
};

/** Two capsules, two sets of contacts, findings, a fitted mechanism, all of the trigger; stopped, by an own target. */
export const rich: readonly RunDocument[] = [start, ...runDocuments.slice(1, -1), told, end];

/** A degree wheel, another trigger, uneven lobes at crankshaft speed, and no specification. */
export const byHand: readonly RunDocument[] = [
  {
    ...start,
    unit: {
      ...unit,
      lobeAnglesDeg: [0, 45, 120.5],
      driveRatio: 1,
      trigger: { kind: "magnetic", firingEdge: "a" },
      contactSets: null,
      speedBand: null,
      capsules: [],
    },
    rig: {
      ...startDocument.rig,
      simulated: false,
      scenario: null,
      hello: null,
      calibration: null,
      byHand: {
        means: "degree wheel",
        readingLimitDeg: 0.5,
        speedLimitRpm: 12.5,
        vacuumLimitPa: 1000,
        camTurns: null,
        camSpringsBack: false,
      },
    },
  },
  ...runDocuments.slice(1, -1),
  {
    ...endDocument,
    findings: { found: [], notTestable: [] },
    mechanism: { weights: { why: "does not move" }, capsules: [] },
    result: { ...result, verdict: null, rows: [], capsules: [], rowsNotMeasured: 0 },
  },
];

/** By hand first, then three runs on the rig. */
export const chain: readonly EarlierRun[] = earlierRuns([byHand, rich, rich]);
