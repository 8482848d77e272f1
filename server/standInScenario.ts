// The scenario that the stand-in rig plays: what was chosen, with the unit's own data where it leaves them open.
import type { RigReach } from "../core/planFile.ts";
import type { ContactSets, Limits, Unit } from "../core/unit.ts";
import { parseScenario, type Scenario } from "../sim/scenario.ts";
import type { NamedFile } from "./files.ts";
import type { RigFile } from "./rigFile.ts";
import { soundScenario } from "./soundScenario.ts";

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
