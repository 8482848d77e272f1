// Words of the sheet of engine figures alone, and what the owner's readings say beside them.
import type { Agreement } from "../../engine/agreement.ts";
import type { EngineReading } from "../../engine/readingsFile.ts";

const AGREEMENTS: Readonly<Record<Agreement, string>> = {
  agrees: "agrees",
  "does not": "does not agree",
  "cannot tell": "cannot tell",
};
const LINES: Readonly<Record<EngineReading["vacuumLine"], string>> = {
  plugged: "plugged",
  on: "on",
};

export const engine = {
  documentTitle: (unit: string) => `Engine figures: ${unit}`,
  title: "Marks for the timing light",
  fromSpecification: "from the specification",
  footSpecification: "From the specification alone; no unit was measured",
  before: "Before the engine runs",
  curve: "Curve",
  curveMeasured: "as measured",
  curveNone: "none",
  plugged:
    "Line plugged: take the vacuum line off the capsule and plug it. Warm engine, speed rising; a speed that falls again may read a little more.",
  manifold: (vacuum: string) =>
    `Line on: about ${vacuum} in the manifold without load (common practice, no source).`,
  ported: (vacuum: string) =>
    `Line on: almost no vacuum at idle; above it anything up to about ${vacuum} in the manifold without load (common practice, no source), by how far the throttle is open.`,
  notFed: "No capsule is fed.",
  uncertainty: (byEye: string) =>
    `± is an expanded uncertainty of 95 % coverage of the unit's curve, the initial timing taken as set exactly. A timing light read by eye is good for ± ${byEye} besides (common practice, no source).`,
  read: {
    heading: "Read on the engine",
    caption:
      "Readings with the timing light; distributor figures with the line on are weights and capsule together",
    line: "line",
    mark: "read °",
    expected: "expected °",
    specification: "specification",
    distributorDeg: "distributor °",
    onLine: (line: EngineReading["vacuumLine"]) => LINES[line],
    picture: "Solid with discs: the bench, speed rising. Dashed with squares: read on the engine.",
  },
  agreement: (agreement: Agreement) => AGREEMENTS[agreement],
  sentence: (mark: string, speed: string, line: EngineReading["vacuumLine"], says: string) =>
    `${mark} at ${speed}, line ${LINES[line]}: ${says}.`,
  noExpectation: "cannot tell, the bench curve does not say what to expect",
  expected: (agreement: Agreement, range: string) => `${AGREEMENTS[agreement]}, ${range} expected`,
  counts: (agree: number, all: number, disagree: number, untold: number) =>
    `${agree} of ${all} readings agree with the bench curve, ${disagree} do not, ${untold} cannot tell.`,
  lookAtLine:
    "With the line plugged nothing is off, with it on something is: look at the line, at what feeds it (manifold or ported), and at the capsule.",
  tooClose:
    "These readings cannot tell the initial timing from the curve: read at idle and at a speed where the weights are out as well.",
  offset: (deg: string, isEarly: boolean) =>
    `All are off by about the same, ${deg} (crankshaft) too ${isEarly ? "early" : "late"}: the initial timing differs, not the curve. Set it again and read once more.`,
  scaled: (isTwice: boolean) =>
    `The advance read is ${isTwice ? "twice" : "half"} what was expected: were distributor degrees or rpm taken for those of the crankshaft, or does the rev counter count for another number of cylinders?`,
  unlike:
    "They are off by unlike amounts: the curve on the engine is not the bench's. Check that the line is off and plugged, and the rev counter; then the unit belongs back on the bench.",
};
