// The scenario that the stand-in rig plays: what was chosen, with the unit's own data where it leaves them open.
import type { RigReach } from "../core/planFile.ts";
import type { ContactSets, Limits, Unit } from "../core/unit.ts";
import { Random } from "../sim/random.ts";
import { parseScenario, type Scenario } from "../sim/scenario.ts";
import { type Spreads, variedParts } from "../sim/varied.ts";
import type { NamedFile } from "./files.ts";
import { type RigFile, STAND_IN } from "./rigFile.ts";
import { soundScenario } from "./soundScenario.ts";

export type { Spreads };

/** `scenario` null: a unit that meets the specification. @throws FILE_INVALID */
export function scenarioFor(
  { rig, scenario }: { readonly rig: RigFile; readonly scenario: NamedFile | null },
  unit: Unit,
): Scenario {
  const given = scenario ?? { name: "the unit's own figures", content: soundScenario(unit) };
  const sets = unit.contactSets;
  const dwellDeg = middle(sets === null ? unit.dwellLimitsDeg : sets.dwellLimitsDeg.first);
  const content = withContacts(withRigSettings(given.content, rig), sets);
  return parseScenario(content, given.name, {
    lobeAnglesDeg: sets?.lobeAnglesDeg ?? unit.lobeAnglesDeg,
    rotation: unit.rotation,
    triggerKind: unit.trigger.kind,
    firingEdge: unit.trigger.firingEdge,
    ...(dwellDeg === null ? {} : { dwellDeg }),
  });
}

/** Of the streams of random numbers of a seed, the first for units; the rig's are below. */
const FIRST_UNIT_STREAM = 1000;

/**
 * Content of the scenario of unit number `number` (from 0) of a make that spreads about the given one: the
 * same for the same seed, however many are drawn. Null where it has tables, and so no parts to vary.
 * @throws FILE_INVALID
 */
export function variedScenario(
  given: NamedFile,
  unit: Unit,
  spreads: Spreads,
  { seed, number }: { readonly seed: number; readonly number: number },
): Record<string, unknown> | null {
  const scenario = scenarioFor({ rig: STAND_IN, scenario: given }, unit);
  const parts = variedParts(scenario, spreads, new Random(seed, FIRST_UNIT_STREAM + number));
  return parts === null ? null : { ...(given.content as object), ...parts };
}

/** What the stand-in rig will say of itself, known before it is wired. */
export function reachOf({ rig }: Scenario): RigReach {
  const { speedMinRpm, speedMaxRpm, vacuumMaxPa, ambientPa } = rig;
  return { speedMinRpm, speedMaxRpm, vacuumMaxPa, ambientPa };
}

/** A stand-in rig file's settings win over the scenario's: the rig is chosen apart from what it plays. */
function withRigSettings(content: unknown, rig: RigFile): unknown {
  const settings = rig.kind === "stand-in" ? rig.rig : undefined;
  if (settings === undefined) return content;
  return withField(content, "rig", (own) => ({ ...own, ...settings }));
}

/** The rig is on the sets that were chosen, whatever the scenario says; how the second is set may be its own. */
function withContacts(content: unknown, sets: ContactSets | null): unknown {
  if (sets === null) return content;
  return withField(content, "pulses", (own) => ({
    secondSet: soundSecondSet(sets),
    ...own,
    contactsConnected: sets.connected,
  }));
}

/** In the middle of the limits; overlapped sets open so far apart that both together are, too. */
function soundSecondSet({ arrangement, dwellLimitsDeg }: ContactSets): object {
  const first = middle(dwellLimitsDeg.first);
  const second = middle(dwellLimitsDeg.second);
  const both = middle(dwellLimitsDeg.both);
  const apart = arrangement === "overlapped" && both !== null && first !== null;
  return {
    arrangement,
    ...(second === null ? {} : { dwellDeg: second }),
    ...(apart ? { offsetDeg: Math.max(0, both - first) } : {}),
  };
}

function middle(limits: Limits | null): number | null {
  const { min, max } = limits ?? { min: null, max: null };
  return min === null || max === null ? null : (min + max) / 2;
}

function withField(content: unknown, field: string, change: (own: object) => object): unknown {
  if (typeof content !== "object" || content === null) return content;
  const own = (content as Record<string, unknown>)[field];
  return { ...content, [field]: change(typeof own === "object" && own !== null ? own : {}) };
}
