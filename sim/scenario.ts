// Scenario files: a simulated unit with its faults, and the rig and mishaps it meets.
import { z } from "zod";
import { BobweightError } from "../core/errors.ts";
import { faultSchema } from "./faults.ts";
import { pinReachDeg, profileReachDeg } from "./mechanism.ts";
import { isMechanismFault, whatFaultLacks } from "./mechanismFaults.ts";
import { capsuleSchema, geometrySchema, tablesSchema } from "./mechanismSchema.ts";
import { pulsesSchema, whatPulsesLack } from "./pulsesSchema.ts";
import { rigSchema, whatRigMisses } from "./rigSchema.ts";
import {
  isTriggerFault,
  type Pulses,
  whatTriggerFaultLacks,
  withTriggerFaults,
} from "./triggerFaults.ts";

const positive = z.number().positive();
const notNegative = z.number().min(0);

const unitSchema = z.strictObject({
  lobes: z.int().min(1).max(12).optional(),
  lobeAnglesDeg: z.array(z.number().min(0).lt(360)).min(1).max(12).optional(),
  rotation: z.enum(["cw", "ccw"]).optional(),
  dwellDeg: positive.lt(360).optional(),
  trigger: z
    .strictObject({
      kind: z.enum(["contacts", "magnetic", "hall", "optical"]).optional(),
      firingEdge: z.enum(["a", "b"]).optional(),
      widthDeg: positive.lt(360).optional(),
    })
    .optional(),
});

const incidentWhen = {
  /** Seconds after the first accepted speed command. */
  atS: notNegative.optional(),
  /** When the speed first passes this. */
  atRpm: positive.optional(),
};
const incidentSchema = z
  .discriminatedUnion("what", [
    z.strictObject({
      what: z.literal("guardOpens"),
      ...incidentWhen,
      shutAfterS: positive.optional(),
    }),
    z.strictObject({
      what: z.literal("stopPressed"),
      ...incidentWhen,
      releasedAfterS: positive.optional(),
    }),
    z.strictObject({ what: z.literal("spindleJams"), ...incidentWhen }),
    z.strictObject({ what: z.literal("driveRunsAway"), ...incidentWhen }),
    z.strictObject({ what: z.literal("sensorFails"), ...incidentWhen }),
    z.strictObject({ what: z.literal("boardReboots"), ...incidentWhen }),
    z.strictObject({ what: z.literal("boardFallsSilent"), ...incidentWhen }),
  ])
  .refine((incident) => (incident.atS === undefined) !== (incident.atRpm === undefined), {
    error: "give either atS or atRpm, not both and not neither",
  });

const fieldsSchema = z.strictObject({
  name: z.string().min(1).max(100).default("Unnamed scenario"),
  note: z.string().max(1000).default(""),
  /** True for a made-up unit. */
  invented: z.boolean().default(false),
  seed: z.int().min(0).default(1),
  unit: unitSchema.prefault({}),
  mechanism: z.union([geometrySchema, tablesSchema]),
  capsules: z.array(capsuleSchema).max(4).default([]),
  faults: z.array(faultSchema).max(20).default([]),
  pulses: pulsesSchema.prefault({}),
  temperatureC: z
    .number()
    .min(-30)
    .max(100)
    .default(20)
    .describe(
      "Of the unit. Springs lose 0.03 % of their force for each kelvin above 20 °C, dry friction 0.5 %, and the oil's damping halves in every 15 K.",
    ),
  rig: rigSchema.prefault({}),
  incidents: z.array(incidentSchema).max(20).default([]),
});

type Parsed = z.output<typeof fieldsSchema>;
type Fail = (path: (string | number)[], message: string) => void;

/** A union would tell of all that is wrong by the wrong one of its two forms. */
function schemaFor(content: unknown) {
  const geometric = "weights" in Object((Object(content) as { mechanism?: unknown }).mechanism);
  const mechanism = geometric ? geometrySchema : tablesSchema;
  return fieldsSchema.extend({ mechanism }).superRefine((scenario, context) => {
    const fail: Fail = (path, message) => context.addIssue({ code: "custom", path, message });
    checkUnit(scenario, fail);
    checkMechanism(scenario, fail);
    const wrong = whatRigMisses(scenario.rig);
    if (wrong !== null) fail(["rig", wrong.field], wrong.message);
  });
}

function checkUnit({ unit }: Parsed, fail: Fail): void {
  if (unit.lobes !== undefined && unit.lobeAnglesDeg !== undefined) {
    fail(["unit", "lobes"], "give either lobes or lobeAnglesDeg, not both");
  }
  unit.lobeAnglesDeg?.forEach((angle, i, all) => {
    if (i === 0 ? angle !== 0 : angle <= (all[i - 1] as number)) {
      fail(["unit", "lobeAnglesDeg", i], "angles begin at 0 and ascend");
    }
  });
}

function checkMechanism(scenario: Parsed, fail: Fail): void {
  const { mechanism, capsules, faults, temperatureC } = scenario;
  if (!("weights" in mechanism)) {
    if (temperatureC !== 20) {
      fail(["temperatureC"], "tables are followed exactly, at any temperature: leave it out");
    }
    if (capsules.length > 0) {
      fail(["capsules"], "tables are followed exactly: use mechanism.vacuumTable instead");
    }
    faults.forEach((fault, i) => {
      if (!isMechanismFault(fault)) return;
      fail(["faults", i], `${fault.fault} needs a mechanism with weights and springs, not tables`);
    });
    return;
  }
  const { weights, springs } = mechanism;
  const { link } = weights;
  const travelDeg = faults.reduce(
    (sum, fault) => sum + (fault.fault === "stop-worn" ? fault.beyondDeg : 0),
    mechanism.stopDeg,
  );
  if (link.form === "pin" && pinReachDeg(weights.pivotMm, link) < travelDeg) {
    fail(
      ["mechanism", "weights", "link"],
      `the pin cannot turn the cam ${travelDeg}°: shorten pinMm or lower restAngleDeg`,
    );
  }
  if (link.form === "profile" && profileReachDeg(link) < travelDeg) {
    fail(
      ["mechanism", "weights", "link", "growthPerDeg"],
      `the cam turns back before ${travelDeg}°: bring it nearer to 0`,
    );
  }
  springs.forEach(({ movingPost }, i) => {
    if ("weight" in movingPost && movingPost.weight >= weights.count) {
      fail(["mechanism", "springs", i, "movingPost", "weight"], "weights count from 0");
    }
  });
  faults.forEach((fault, i) => {
    if (!isMechanismFault(fault)) return;
    const lacks = whatFaultLacks(fault, springs.length, capsules.length);
    if (lacks !== null) fail(["faults", i], lacks);
  });
}

export type RigSetup = Parsed["rig"];
export type Incident = Parsed["incidents"][number];

/** What is known of the unit: from the scenario, else from the unit file, else a common kind. */
export interface ScenarioUnit {
  readonly lobeAnglesDeg: readonly number[];
  readonly rotation: "cw" | "ccw";
  readonly triggerKind: "contacts" | "magnetic" | "hall" | "optical";
  readonly firingEdge: "a" | "b";
  /** Contacts: shaft angle from closing to the next opening. */
  readonly dwellDeg: number;
  /** Other triggers: shaft angle from the firing edge to the other one along the rotation. */
  readonly widthDeg: number;
}

export interface Scenario extends Omit<Parsed, "unit" | "pulses"> {
  readonly unit: ScenarioUnit;
  /** With the trigger's faults worked in. */
  readonly pulses: Pulses;
}

/** What the host may know of the unit where the scenario does not say it. */
export type UnitDefaults = Partial<Omit<ScenarioUnit, "widthDeg">>;

/** JSON schema of scenario files, for editors. */
export function scenarioJsonSchema(): unknown {
  return z.toJSONSchema(fieldsSchema, { io: "input" });
}

/**
 * Checks a scenario file's content and fills in what it leaves out: first from `known`, the unit
 * file's data, then with a common four-lobe unit (51° of dwell: service literature has 49–55°).
 * @throws FILE_INVALID naming file, place and remedy.
 */
export function parseScenario(content: unknown, file: string, known: UnitDefaults = {}): Scenario {
  const result = schemaFor(content).safeParse(content);
  if (!result.success) {
    const faults = result.error.issues.map((issue) => describe(issue, []));
    throw new BobweightError("FILE_INVALID", `${file}: ${faults.join("; ")}.`);
  }
  const unit = completeUnit(result.data, known, file);
  const { faults } = result.data;
  faults.forEach((fault, i) => {
    const wrong = isTriggerFault(fault) ? whatTriggerFaultLacks(fault, unit) : null;
    if (wrong === null) return;
    throw new BobweightError("FILE_INVALID", `${file}: faults.${i}: ${wrong}.`);
  });
  const pulses = withTriggerFaults(result.data.pulses, faults.filter(isTriggerFault));
  const scenario = { ...result.data, unit, pulses };
  const lacks = whatPulsesLack(scenario);
  if (lacks !== null) throw new BobweightError("FILE_INVALID", `${file}: pulses.${lacks}.`);
  return scenario;
}

function completeUnit(parsed: Parsed, known: UnitDefaults, file: string): ScenarioUnit {
  const { unit: given, pulses } = parsed;
  const count = given.lobes ?? (known.lobeAnglesDeg === undefined ? 4 : null);
  const lobeAnglesDeg =
    given.lobeAnglesDeg ??
    (count === null ? known.lobeAnglesDeg : undefined) ??
    Array.from({ length: count ?? 4 }, (_, i) => (i * 360) / (count ?? 4));
  const unit = {
    lobeAnglesDeg,
    rotation: given.rotation ?? known.rotation ?? "cw",
    triggerKind: given.trigger?.kind ?? known.triggerKind ?? "contacts",
    firingEdge: given.trigger?.firingEdge ?? known.firingEdge ?? "a",
    dwellDeg: given.dwellDeg ?? known.dwellDeg ?? Math.min(51, (0.57 * 360) / lobeAnglesDeg.length),
    widthDeg: given.trigger?.widthDeg ?? 0.4 * leastSpacingDeg(lobeAnglesDeg),
  } as const;
  // Each of two staggered sets has two spacings for its dwell.
  const spacings = pulses.secondSet?.arrangement === "staggered" ? 2 : 1;
  const arcDeg =
    unit.triggerKind === "contacts"
      ? (spacings * 360) / lobeAnglesDeg.length - unit.dwellDeg
      : unit.widthDeg;
  if (arcDeg <= 0 || arcDeg >= spacings * leastSpacingDeg(lobeAnglesDeg)) {
    const place = unit.triggerKind === "contacts" ? "unit.dwellDeg" : "unit.trigger.widthDeg";
    throw new BobweightError(
      "FILE_INVALID",
      `${file}: ${place} does not fit between ${lobeAnglesDeg.length} lobes.`,
    );
  }
  return unit;
}

function leastSpacingDeg(anglesDeg: readonly number[]): number {
  const spacings = anglesDeg.map((angle, i) => (anglesDeg[i + 1] ?? 360) - angle);
  return Math.min(...spacings);
}

type Issue = z.core.$ZodIssue;

/** One fault with its place. Of a union's forms the one is told that the content comes nearest to. */
function describe(issue: Issue, before: readonly PropertyKey[]): string {
  const path = [...before, ...issue.path];
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    const distance = (issues: readonly Issue[]) =>
      issues.reduce((sum, { code }) => sum + (code === "unrecognized_keys" ? 100 : 1), 0);
    const nearest = issue.errors.reduce((a, b) => (distance(b) < distance(a) ? b : a));
    return nearest.map((inner) => describe(inner, path)).join("; ");
  }
  const place = path.length === 0 ? "the whole file" : path.map(String).join(".");
  return `${place}: ${issue.message}`;
}
