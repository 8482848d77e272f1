// What each kind of fault changes in a scenario, from nothing up to its most.
import type { Draw } from "../../accuracy/draw.ts";
import type { Plan } from "../../core/plan.ts";
import type { Fault } from "../../sim/faults.ts";
import { placesAt, SOUND_UNIT } from "../../sim/mechanism.ts";
import type { File } from "./ground.ts";
import type { FaultKind } from "./kinds.ts";
import type { DrawnUnit } from "./unit.ts";

/** Parts of a scenario file: faults and settings to add. */
export interface Change {
  readonly faults?: readonly Readonly<{ fault: Fault["fault"]; [field: string]: unknown }>[];
  readonly pulses?: Readonly<Record<string, unknown>>;
  readonly rig?: Readonly<Record<string, unknown>>;
}

export interface Faulting {
  /** What the magnitude is of, as the field of a scenario file is called. */
  readonly field: string;
  /** Magnitude of a sound unit and the most that is drawn; the same twice where there is nothing to solve for. */
  readonly from: number;
  readonly to: number;
  readonly change: (magnitude: number) => Change;
}

/** The most of each that is drawn; what is not bounded by the unit itself. */
const MOST = {
  frictionFactor: 100,
  lengthenedMm: 6,
  ratio: { light: 0.2, heavy: 4 },
  wornMm: 3,
  playDeg: 2,
  bendDeg: 3,
  wearDeg: 3,
  lateUs: 1500,
  leakMlPerS: 60,
  frictionN: 60,
  runOutDeg: 4,
  condenserUf: 0.4,
  delayUs: 400,
} as const;
/** Of the stop, so that a drawn link still reaches it. */
const STOP_SHARE = 0.14;
const HELD_SHARE = 0.8;
/** Of the second spring's stretch at the stop, what a worn loop may take. */
const TAKEN_UP_SHARE = 0.9;
/** Dry weights stick more the drier they are, up to this times their friction in motion, and one half more. */
const STICK_MORE = 0.5;

type Maker = (draw: Draw, unit: DrawnUnit, plan: Plan) => Faulting;

/** One fault whose one field is its magnitude. */
function fault(
  name: Fault["fault"],
  field: string,
  from: number,
  to: number,
  fields: object = {},
): Faulting {
  return {
    field,
    from,
    to,
    change: (magnitude) => ({ faults: [{ fault: name, [field]: magnitude, ...fields }] }),
  };
}

/** One that is there or not. */
function whole(name: Fault["fault"], fields: object = {}): Faulting {
  return { ...fault(name, "", 1, 1), change: () => ({ faults: [{ fault: name, ...fields }] }) };
}

function someSpring(draw: Draw, unit: DrawnUnit): object {
  const second = unit.mechanism.springs.length > 1 && draw.chance(0.35);
  return { spring: second ? "second" : "first" };
}

const MAKERS: Readonly<Record<Exclude<FaultKind, "specification-misread">, Maker>> = {
  "weights-stuck": (draw, { mechanism }) => {
    const at = draw.chance(0.5) ? 0 : draw.uniform(0.1, 0.9) * mechanism.stopDeg;
    return fault("weights-stuck", "advanceDeg", at, at);
  },
  "weights-dry": () => ({
    field: "frictionFactor",
    from: 1,
    to: MOST.frictionFactor,
    change: (frictionFactor) => {
      const stickRatio = 1 + STICK_MORE * (1 - 1 / frictionFactor);
      return { faults: [{ fault: "weights-dry", frictionFactor, stickRatio }] };
    },
  }),
  "weights-not-returning": (_, { mechanism }) =>
    fault("weights-not-returning", "heldDeg", 0, HELD_SHARE * mechanism.stopDeg),
  // A stretched second spring takes up later, just as one with a worn loop: that is drawn there.
  "spring-stretched": () =>
    fault("spring-stretched", "lengthenedMm", 0, MOST.lengthenedMm, { spring: "first" }),
  "spring-light": (draw, unit) =>
    fault("spring-light", "rateRatio", 1, MOST.ratio.light, someSpring(draw, unit)),
  "spring-heavy": (draw, unit) =>
    fault("spring-heavy", "rateRatio", 1, MOST.ratio.heavy, someSpring(draw, unit)),
  "first-spring-missing": () => whole("first-spring-missing"),
  "second-spring-missing": () => whole("second-spring-missing"),
  "stop-worn": (_, { mechanism }) =>
    fault("stop-worn", "beyondDeg", 0, STOP_SHARE * mechanism.stopDeg),
  "second-spring-loop-worn": (_, { mechanism }) =>
    fault("second-spring-loop-worn", "wornMm", 0, mostWornMm(mechanism)),
  "shaft-bush-worn": () => fault("shaft-bush-worn", "playDeg", 0, MOST.playDeg),
  "shaft-bent": (draw) =>
    fault("shaft-bent", "peakDeg", 0, MOST.bendDeg, { phaseDeg: draw.uniform(0, 360) }),
  "cam-worn": wornCam,
  "contact-spring-weak": weakContactSpring,
  "plate-lead-breaking": breakingLead,
  "diaphragm-torn": (draw) =>
    whole("diaphragm-torn", { form: "passage", flowMlPerS: draw.logUniform(600, 3000) }),
  "capsule-leak": (draw) =>
    fault("capsule-leak", "flowMlPerS", 0, MOST.leakMlPerS, {
      form: draw.oneOf(["passage", "pinhole"]),
    }),
  "plate-stuck": (draw, { capsule }) => {
    const at = draw.chance(0.6) ? 0 : draw.uniform(0.1, 0.9) * (capsule?.travelMm ?? 0);
    return fault("plate-stuck", "travelMm", at, at);
  },
  "link-off": () => whole("link-off"),
  "plate-sticking": () =>
    fault("plate-sticking", "frictionN", 0, MOST.frictionN, { stickRatio: 1.3 }),
  "capsule-spring-wrong": (draw) => {
    const field = draw.oneOf(["loadRatio", "rateRatio"]);
    const weaker = draw.chance(0.6);
    return fault("capsule-spring-wrong", field, 1, weaker ? MOST.ratio.light : MOST.ratio.heavy);
  },
  "coupling-runout": (draw) => {
    const couplingRunOutPhaseDeg = draw.uniform(0, 360);
    return {
      field: "couplingRunOutDeg",
      from: 0,
      to: MOST.runOutDeg,
      change: (couplingRunOutDeg) => ({ rig: { couplingRunOutDeg, couplingRunOutPhaseDeg } }),
    };
  },
  "condenser-left-on": () => ({
    field: "condenserUf",
    from: 0,
    to: MOST.condenserUf,
    change: (condenserUf) => ({ pulses: { condenserUf } }),
  }),
  "uncorrected-delay": () => ({
    field: "delayUs",
    from: 0,
    to: MOST.delayUs,
    change: (delayUs) => ({ rig: { delayUs } }),
  }),
};

export function faultingOf(
  kind: keyof typeof MAKERS,
  draw: Draw,
  unit: DrawnUnit,
  plan: Plan,
): Faulting {
  return MAKERS[kind](draw, unit, plan);
}

/** Worn farther the second spring would take up at the stop or never: that is one that is missing. */
function mostWornMm(mechanism: DrawnUnit["mechanism"]): number {
  const second = mechanism.springs[1];
  const ends = placesAt({ ...mechanism, ...SOUND_UNIT }, mechanism.stopDeg).springs[1];
  if (second === undefined || ends === undefined)
    throw new Error("a second loop needs a second spring");
  const { base, moving } = ends;
  const lengthMm = Math.hypot(moving.x - base.x, moving.y - base.y);
  return Math.min(MOST.wornMm, TAKEN_UP_SHARE * (lengthMm - second.lengthMm - second.slackMm));
}

/** A scenario's content with the changes of several faults; of two settings the last one counts. */
export function withChanges(content: File, changes: readonly Change[]): File {
  const merged = (field: "pulses" | "rig") =>
    Object.assign({}, content[field], ...changes.map((change) => change[field]));
  const own = content.faults as readonly unknown[];
  return {
    ...content,
    faults: [...own, ...changes.flatMap(({ faults = [] }) => faults)],
    pulses: merged("pulses"),
    rig: merged("rig"),
  };
}

/** One lobe worn most, or two, the rest a little. */
function wornCam(draw: Draw, { lobeAnglesDeg }: DrawnUnit): Faulting {
  const most = draw.some(
    lobeAnglesDeg.map((_, lobe) => lobe),
    draw.oneOf([1, 1, 2]),
  );
  const shares = lobeAnglesDeg.map((_, lobe) => (most.includes(lobe) ? 1 : draw.uniform(0, 0.2)));
  return {
    field: "wearDeg",
    from: 0,
    to: MOST.wearDeg,
    change: (magnitude) => ({
      faults: [{ fault: "cam-worn", wearDeg: shares.map((share) => share * magnitude) }],
    }),
  };
}

/** The more the arm floats the more closings bounce; both begin well below the plan's highest speed. */
function weakContactSpring(draw: Draw, _: DrawnUnit, plan: Plan): Faulting {
  const topRpm = Math.max(...plan.speedsRpm);
  const fromRpm = Math.round(topRpm * draw.uniform(0.5, 0.8));
  const bounces = draw.chance(0.7);
  return {
    field: "lateUsPer1000Rpm",
    from: 0,
    to: MOST.lateUs,
    change: (lateUsPer1000Rpm) => {
      const sharePer1000Rpm = Math.max(1e-3, lateUsPer1000Rpm / MOST.lateUs);
      const bounce = bounces ? { fromRpm, sharePer1000Rpm } : null;
      return {
        faults: [{ fault: "contact-spring-weak", bounce, float: { fromRpm, lateUsPer1000Rpm } }],
      };
    },
  };
}

/** Round where the plate stands at one of the plan's vacuums, a fifth of its travel wide. */
function breakingLead(draw: Draw, { capsule }: DrawnUnit, plan: Plan): Faulting {
  if (capsule === null) throw new Error("a plate's lead needs a capsule");
  const vacuumsPa = plan.capsules[0]?.vacuumsPa ?? [];
  const degPerMm = (capsule.acts === "advance" ? 1 : -1) * (180 / Math.PI / capsule.radiusMm);
  const travelsMm = vacuumsPa
    .map((pa) => (capsule.areaMm2 * 1e-6 * pa - capsule.loadN) / capsule.rateNPerMm)
    .filter((mm) => mm > 0.15 * capsule.travelMm && mm < 0.95 * capsule.travelMm);
  const middle =
    degPerMm * (travelsMm.length === 0 ? 0.5 * capsule.travelMm : draw.oneOf(travelsMm));
  const half = Math.abs(0.1 * degPerMm * capsule.travelMm);
  const where = { plateFromDeg: middle - half, plateToDeg: middle + half };
  return fault("plate-lead-breaking", "share", 0, 1, where);
}
