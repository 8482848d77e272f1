// Where a job stands on the way from the card to the sheet. Pure.
import type { PointDocument, StepName } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { Job } from "../../core/jobs/job.ts";
import type { RunView } from "./runView.ts";

/** In the order of the work. */
export const PLACES = [
  "card",
  "rig",
  "contacts",
  "speed",
  "vacuum",
  "findings",
  "change",
  "again",
  "sheet",
] as const;
export type Place = (typeof PLACES)[number];

/** `none`: this job does without it. */
export type Standing = "done" | "now" | "next" | "open" | "none";

export type Path = Readonly<Record<Place, Standing>>;

/** What the rig does in a step of a run, as a place on the way. */
const PLACE_OF_STEP: Readonly<Record<StepName, Place>> = {
  reference: "contacts",
  speed: "speed",
  hold: "vacuum",
  vacuum: "vacuum",
  return: "contacts",
};

/**
 * `job` null: measured without one. `view`: the run that is under way or looked at. Exactly one place is
 * `now` while it runs, and one is `next` otherwise.
 */
export function pathOf(job: Job | null, view: RunView, running: boolean): Path {
  const card = cardStanding(job);
  if (running) return { ...measuring(view), card: card === "open" ? "none" : card };
  if (view.start === null) {
    const isNext = card === "open" ? "card" : "rig";
    return { ...EVERY_OPEN, card, [isNext]: "next" };
  }
  return { ...ended(view), card: card === "open" ? "none" : card };
}

const EVERY_OPEN: Path = {
  card: "open",
  rig: "open",
  contacts: "open",
  speed: "open",
  vacuum: "open",
  findings: "open",
  change: "open",
  again: "open",
  sheet: "open",
};

function cardStanding(job: Job | null): Standing {
  if (job === null) return "none";
  const { number, ...card } = job.card;
  const { number: _, ...empty } = EMPTY_CARD;
  return JSON.stringify(card) === JSON.stringify(empty) ? "open" : "done";
}

function measuring(view: RunView): Path {
  const now = view.step === null ? "rig" : PLACE_OF_STEP[view.step.step];
  const path = { ...EVERY_OPEN, ...measured(view), rig: "done", ...followed(view) } as const;
  return { ...path, [now]: "now" };
}

function ended(view: RunView): Path {
  const path = { ...EVERY_OPEN, ...measured(view), rig: "done", ...followed(view) } as const;
  const verdict = view.end?.result.verdict ?? null;
  const findings = view.end?.findings ?? null;
  const isRight = verdict === "within" && (findings?.found.length ?? 0) === 0;
  if (view.end === null || view.end.ending !== "completed" || verdict === null) {
    return { ...path, again: "next", change: "none" };
  }
  const found = { ...path, findings: findings === null ? "none" : "done" } as const;
  if (!isRight) return { ...found, change: "next", again: "open" };
  const isChanged = view.start?.afterRecordId !== null;
  return {
    ...found,
    change: isChanged ? "done" : "none",
    again: isChanged ? "done" : "none",
    sheet: "next",
  };
}

/** Dwell, speed and vacuum as far as the run has come. */
function measured(view: RunView): Pick<Path, "contacts" | "speed" | "vacuum"> {
  const { start, points, holds, end } = view;
  const has = (sweep: PointDocument["sweep"]) => points.some((point) => point.sweep === sweep);
  const result = end?.result ?? null;
  const curves = [...(result?.speed.rising ?? []), ...(result?.speed.falling ?? [])];
  const capsules = result?.capsules.flatMap(({ rising, hold }) => [...rising, hold ?? []].flat());
  const standing = (isMeasured: boolean) => (isMeasured ? "done" : end === null ? "open" : "none");
  return {
    contacts: standing(has("reference") || (result?.dwellDeg ?? null) !== null),
    speed: standing(has("speed") || curves.length > 0),
    vacuum:
      start?.unit.capsules.length === 0
        ? "none"
        : standing(has("vacuum") || holds.length > 0 || (capsules?.length ?? 0) > 0),
  };
}

/** A run after a change is the measuring again. */
function followed({ start }: RunView): Partial<Path> {
  return start !== null && start.afterRecordId !== null ? { change: "done", again: "done" } : {};
}
