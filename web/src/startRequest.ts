// From what is chosen on the start card to the message that starts a run. Pure.
import type { StartDocument } from "../../core/documents.ts";
import type { Choices, ClientMessage, PlanChanges, RecordHead } from "../../core/messages.ts";
import type { Settings } from "../../core/settings/settings.ts";
import type { ConnectedContacts } from "../../core/unit.ts";

export type StartMessage = Extract<ClientMessage, { type: "start" }>;
type Rig = Choices["rigs"][number];
type UnitChoice = Choices["units"][number];

export interface StartChoices {
  rigId: string;
  /** Empty until one is chosen. */
  unitId: string;
  /** Empty: the stand-in follows the unit's specification. */
  scenarioId: string;
  /** Counts for a unit with two sets of contacts only. */
  contacts: ConnectedContacts;
  /** Empty: this run follows no change. */
  afterRecordId: string;
  /** Empty: measured without a job. */
  jobId: string;
  /** Times as fast as life; counts on the stand-in only. */
  pace: number;
  /** As typed: distributor rpm, apart by commas or blanks. Empty leaves the plan as it is. */
  speedsText: string;
  /** As typed: seconds of the hold test. Empty leaves the plan as it is. */
  holdText: string;
}

/** The stand-in and an example: harmless, and a new user may start at once. */
export const firstChoices: StartChoices = {
  rigId: "stand-in",
  unitId: "everyday",
  scenarioId: "healthy",
  contacts: "both",
  afterRecordId: "",
  jobId: "",
  /** At this pace the default plan of an example unit takes about a minute. */
  pace: 10,
  speedsText: "",
  holdText: "",
};

/** The rig that the workshop begins with, where it is there. An invented unit is none for a real rig. */
export function withFirstRig(
  chosen: StartChoices,
  { firstRigId }: Pick<Settings, "firstRigId">,
  { rigs, units }: Pick<Choices, "rigs" | "units">,
): StartChoices {
  const rig = rigs.find(({ id }) => id === firstRigId);
  if (rig === undefined) return chosen;
  const unit = units.find(({ id }) => id === chosen.unitId);
  const isNone = !rig.simulated && unit?.invented === true;
  return { ...chosen, rigId: rig.id, unitId: isNone ? "" : chosen.unitId };
}

/** What stands in the way of a start, the first of it; null: nothing. */
export type Hindrance = "rig" | "unit" | "speeds" | "hold" | "cautions";

export function hindrance(
  chosen: StartChoices,
  rig: Rig | null,
  cautionsRead: boolean,
): Hindrance | null {
  if (rig === null) return "rig";
  if (chosen.unitId === "") return "unit";
  if (positiveNumbers(chosen.speedsText) === null) return "speeds";
  const hold = positiveNumbers(chosen.holdText);
  if (hold === null || hold.length > 1) return "hold";
  return cautionsRead ? null : "cautions";
}

/** The message, or null while something stands in the way. A real rig runs at the pace of life. */
export function startMessage(
  chosen: StartChoices,
  rig: Rig | null,
  unit: UnitChoice | null,
  cautionsRead: boolean,
): StartMessage | null {
  if (rig === null || hindrance(chosen, rig, cautionsRead) !== null) return null;
  const { rigId, unitId, scenarioId } = chosen;
  return {
    type: "start",
    rigId,
    unitId,
    scenarioId: rig.simulated && scenarioId !== "" ? scenarioId : null,
    pace: rig.simulated ? chosen.pace : 1,
    plan: planChanges(chosen),
    contacts: (unit?.contactSets ?? null) === null ? null : chosen.contacts,
    afterRecordId: chosen.afterRecordId === "" ? null : chosen.afterRecordId,
    jobId: chosen.jobId === "" ? null : chosen.jobId,
    cautionsRead,
  };
}

/** Records that a run of this unit can follow: a simulation is never set beside a measurement. */
export function followable(
  records: readonly RecordHead[],
  rig: Rig | null,
  unit: UnitChoice | null,
): readonly RecordHead[] {
  return records.filter(
    (head) =>
      head.unitDescription === unit?.description &&
      head.stampedNumber === unit.stampedNumber &&
      head.simulated === rig?.simulated,
  );
}

/** The choices for measuring the unit of a record again after a change; as they are where it is not offered. */
export function followingChoices(
  chosen: StartChoices,
  { recordId, unit, rig }: Pick<StartDocument, "recordId" | "unit" | "rig">,
  choices: Choices | null,
): StartChoices {
  const same = choices?.units.find(
    ({ description, stampedNumber }) =>
      description === unit.description && stampedNumber === unit.stampedNumber,
  );
  const now = choices?.rigs.find(({ id }) => id === chosen.rigId);
  const likeIt = choices?.rigs.find(({ simulated }) => simulated === rig.simulated);
  if (same === undefined || likeIt === undefined) return chosen;
  const rigId = now?.simulated === rig.simulated ? now.id : likeIt.id;
  return { ...chosen, rigId, unitId: same.id, afterRecordId: recordId };
}

function planChanges({ speedsText, holdText }: StartChoices): PlanChanges | null {
  const speedsRpm = positiveNumbers(speedsText) ?? [];
  const [seconds] = positiveNumbers(holdText) ?? [];
  if (speedsRpm.length === 0 && seconds === undefined) return null;
  return {
    ...(speedsRpm.length > 0 ? { speedsRpm } : {}),
    ...(seconds === undefined ? {} : { hold: { seconds } }),
  };
}

/** Empty for an empty text; null where a part of it is no number above 0. */
function positiveNumbers(text: string): readonly number[] | null {
  const numbers = text
    .split(/[,;\s]+/)
    .filter((part) => part !== "")
    .map(Number);
  return numbers.every((number) => Number.isFinite(number) && number > 0) ? numbers : null;
}
