// Words of the papers that go to the owner: his page and the tag, and what they share with the file's sheet.
import type { Direction } from "../../codec/rigLines.ts";
import type { Verdict } from "../../documents.ts";
import type { VacuumPort } from "../../unit.ts";

const ROTATIONS: Readonly<Record<Direction, string>> = {
  cw: "clockwise",
  ccw: "anticlockwise",
};
const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "the manifold: high vacuum at idle",
  ported: "a port above the throttle plate: almost none at idle",
  none: "nothing",
};
const TAG_VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "Within",
  outside: "OUTSIDE",
  unproven: "Unproven",
};

export const papers = {
  /** Of a date in ISO 8601. */
  date: (year: string, month: string, day: string) => `${year}-${month}-${day}`,
  rotation: (direction: Direction) => `${ROTATIONS[direction]}, looking down on the rotor`,
  notKnown: "not known",
  notMeasured: "not measured",
  noneRead: "none read",
  between: (min: string, max: string) => `${min} to ${max}`,
  atLeast: (min: string) => `at least ${min}`,
  atMost: (max: string) => `at most ${max}`,
  noLimits: "none",
  label: {
    unit: "Unit",
    stampedNumber: "Stamped number",
    rotation: "Rotation",
    job: "Job",
    car: "Car",
    owner: "Owner",
    received: "Received",
    returned: "Returned",
    cameInAs: "Came in as",
    parts: "Parts replaced",
    gapAsSet: "Gap as set",
    gap: "Gap",
    dwell: "Dwell",
    totalAdvance: "Total advance",
    specification: "Specification",
    rigChecked: "Rig last checked",
    initialTiming: "Initial timing",
    givenBy: "Given by",
    capsuleFedBy: "Capsule fed by",
  },
  owner: {
    documentTitle: (unit: string) => `For the owner: ${unit}`,
    title: "Your distributor",
    tested: (time: string) => `tested ${time}`,
    done: "What was done",
    judgedBy: "What it was judged by",
    engine: "On the engine",
    fitting: "After fitting",
    more: (count: number) => `${count} more on the workshop's sheet.`,
    asMeasured: "as measured",
    asReturned: "as returned",
    byHand: "by hand",
    lines: "As measured. Grey: limits.",
    linesBoth: "Solid: as returned. Dotted: as received. Grey: limits.",
    gapFound: (gap: string) => `, found at ${gap}`,
    noRig: "no rig: read by eye and typed in",
    timingUnknown:
      "Initial timing, the speed to set it at and what feeds the capsule are not known here: take them from the engine's manual. Set it with the vacuum line off and plugged unless the manual says otherwise (common practice, no source).",
    marks: "Marks to expect, degrees before top dead centre",
    marksSetAt: (speed: string) =>
      `Marks to expect, degrees before top dead centre, set at ${speed}`,
  },
  asReceived: "as received",
  moreParts: (count: number) => `and ${count} more on the job card`,
  tag: {
    documentTitle: (unit: string) => `Tag: ${unit}`,
    job: (number: string) => `Job ${number}`,
    simulated: "SIMULATED.",
    byHand: "BY HAND.",
    ownTarget: "OWN TARGET.",
    invented: "INVENTED UNIT.",
    verdict: (verdict: Verdict) => TAG_VERDICTS[verdict],
    unjudged: "Unjudged",
    total: (distributor: string, crankshaft: string) =>
      `${distributor} distributor, ${crankshaft} crankshaft`,
    retime: "Re-time after fitting, and recheck the gap.",
    retimeAir: "Re-time after fitting, and recheck the air gap.",
  },
  travel: {
    caption: "Advance with speed or vacuum rising",
    distributor: "distributor",
    crankshaft: "crankshaft",
    speed: "speed",
    start: (what: string) => `${what}, start`,
    middle: (what: string) => `${what}, middle`,
    end: (what: string) => `${what}, end`,
    hold: (capsule: string) => `${capsule}, hold`,
    notTold: "not told",
    by: (place: string) => `by ${place}`,
    at: (advance: string, place: string) => `${advance} at ${place}`,
    noFarther: (cell: string) => `${cell}, no farther read`,
    lost: (vacuum: string, seconds: string) => `lost ${vacuum} in ${seconds} s`,
    notReached: (vacuum: string) => `${vacuum} NOT reached`,
  },
  dwellShare: (dwell: string, percent: string) => `${dwell}, ${percent} % of the lobe spacing`,
  limits: {
    label: (what: string) => `${what}, limits`,
    ownLabel: (what: string) => `${what}, the user's own target`,
    speed: "Speed",
    both: "Judged on both branches.",
    rising: "Judged on the rising branch.",
    falling: "Judged on the falling branch.",
    typed: "Limits as typed.",
    /** Where they are printed, as the unit file has it. */
    source: (source: string) => source,
    printed: "Limits as printed.",
    workshop: (tolerance: string) =>
      `Where the print gives no limits, ± ${tolerance} (distributor) is the workshop's own tolerance, not the maker's.`,
  },
  checks: {
    delay: "delay",
    pickup: "pickup",
    coupling: "coupling",
    vacuum: "vacuum sensor",
    and: "and",
    never: (kinds: string) => `${kinds} never`,
    noneEver: "never: this rig has never been checked",
  },
  timing: {
    before: (mark: string) => `${mark} before top dead centre`,
    after: (mark: string) => `${mark} after top dead centre`,
    atRest: (mark: string) => `${mark}, set at rest`,
    atSpeed: (mark: string, speed: string) =>
      `${mark}, set at ${speed} engine rpm, vacuum line off and plugged`,
    user: "the user",
    port: (port: VacuumPort) => PORTS[port],
    retime:
      "Re-time the engine after fitting the unit, and recheck the contact gap and dwell: a smaller gap moves the timing.",
    retimeAir:
      "Re-time the engine after fitting the unit, and recheck the trigger's air gap: a smaller gap moves the timing.",
    vacuumLine:
      "Put the vacuum line back on when done. If the engine pinks under load, ease off and retard it.",
    rules: "Local rules and licensed practice come first.",
    notTested: "Cap, rotor, leads and condenser were not tested here.",
  },
  marks: {
    plugged: "line plugged",
    falling: "plugged, speed falling",
    specified: "by specification",
    unloaded: "line on, no load",
    cruise: (vacuum: string) => `line on, cruise at ${vacuum}`,
    caption: "Crankshaft degrees before top dead centre (negative: after it)",
    engineRpm: "engine rpm",
    asSet: "as set",
  },
};
