// A run as the page shows it, made by merging the run's documents one by one. Pure: the caller gives the time.
import type {
  EndDocument,
  HoldDocument,
  LiveDocument,
  NoticeDocument,
  PointDocument,
  RunDocument,
  StartDocument,
  StepDocument,
} from "../../core/documents.ts";
import type { EarlierRun } from "../../core/sheet/earlier.ts";

export interface RunView {
  readonly start: StartDocument | null;
  readonly step: StepDocument | null;
  /** Run time of the first live document of the step; null until one came. */
  readonly stepBeganRunS: number | null;
  readonly live: LiveDocument | null;
  /** When the newest live document came, and the first since start or reconnect: they give the pace. */
  readonly liveHostMs: number | null;
  readonly firstLive: { readonly runS: number; readonly hostMs: number } | null;
  readonly points: readonly PointDocument[];
  readonly holds: readonly HoldDocument[];
  /** Seconds since the hold step began and pascals, drawn until the hold's own document comes. */
  readonly holdTrace: readonly (readonly [number, number])[];
  readonly notices: readonly NoticeDocument[];
  readonly end: EndDocument | null;
  /** The runs that this one follows, the oldest first. */
  readonly earlier: readonly EarlierRun[];
}

export const emptyRun: RunView = {
  start: null,
  step: null,
  stepBeganRunS: null,
  live: null,
  liveHostMs: null,
  firstLive: null,
  points: [],
  holds: [],
  holdTrace: [],
  notices: [],
  end: null,
  earlier: [],
};

/** A live number older than this is marked. */
export const staleAfterMs = 1000;
/** The pace is told from at least this much of the host's time. */
const paceSpanMs = 1500;
const holdTraceMost = 1200;

/** The view after one more document. A start document begins a new view. */
export function mergeDocument(view: RunView, document: RunDocument, hostMs: number): RunView {
  switch (document.type) {
    case "start":
      return { ...emptyRun, start: document };
    case "step":
      return { ...view, step: document, stepBeganRunS: null, holdTrace: [] };
    case "live":
      return mergeLive(view, document, hostMs);
    case "point":
      return { ...view, points: [...view.points, document] };
    case "hold":
      return { ...view, holds: [...view.holds, document], holdTrace: [] };
    case "notice":
      return { ...view, notices: [...view.notices, document] };
    case "end":
      return { ...view, end: document };
    default:
      // A newer server may send documents this page does not know.
      return view;
  }
}

export function mergeAll(documents: readonly RunDocument[]): RunView {
  return documents.reduce<RunView>((view, document) => mergeDocument(view, document, 0), emptyRun);
}

function mergeLive(view: RunView, live: LiveDocument, hostMs: number): RunView {
  const stepBeganRunS = view.stepBeganRunS ?? live.runS;
  const drawsHold = view.step?.step === "hold" && live.vacuumPa !== null;
  const holdTrace = drawsHold
    ? appendThinned(view.holdTrace, [live.runS - stepBeganRunS, live.vacuumPa])
    : view.holdTrace;
  return {
    ...view,
    live,
    liveHostMs: hostMs,
    firstLive: view.firstLive ?? { runS: live.runS, hostMs },
    stepBeganRunS,
    holdTrace,
  };
}

/** Keeps the trace bounded: when full, every second point goes. */
function appendThinned(
  trace: readonly (readonly [number, number])[],
  point: readonly [number, number],
): readonly (readonly [number, number])[] {
  const kept =
    trace.length < holdTraceMost ? trace : trace.filter((_, position) => position % 2 === 0);
  return [...kept, point];
}

export function isUnderWay(view: RunView): boolean {
  return view.start !== null && view.end === null;
}

/** Milliseconds without a live document if that is too long to trust the numbers, else null. */
export function staleMs(view: RunView, nowMs: number): number | null {
  if (!isUnderWay(view) || view.liveHostMs === null) return null;
  const age = nowMs - view.liveHostMs;
  return age > staleAfterMs ? age : null;
}

/** Rig seconds that pass in one second here; null until enough was seen. */
export function paceSeen(view: RunView): number | null {
  if (view.firstLive === null || view.live === null || view.liveHostMs === null) return null;
  const spanMs = view.liveHostMs - view.firstLive.hostMs;
  if (spanMs < paceSpanMs) return null;
  return ((view.live.runS - view.firstLive.runS) * 1000) / spanMs;
}

/** Seconds the run will still take here, at the pace seen; null while that cannot be told. */
export function remainingHereS(view: RunView): number | null {
  if (view.step === null || view.end !== null) return null;
  const pace = paceSeen(view);
  if (pace === null || pace <= 0) return null;
  const inStepS =
    view.live === null || view.stepBeganRunS === null ? 0 : view.live.runS - view.stepBeganRunS;
  return Math.max(0, view.step.remainingS - inStepS) / pace;
}

/** Share of the readings that are behind us, 0 to 1. */
export function progressShare(view: RunView): number {
  if (view.end?.ending === "completed") return 1;
  if (view.step === null || view.step.total === 0) return 0;
  return Math.min(1, Math.max(0, view.step.done / view.step.total));
}

/** Dwell of the newest reading that has one. */
export function newestDwellDeg(view: RunView): number | null {
  return view.points.findLast((point) => point.reading.dwellDeg !== null)?.reading.dwellDeg ?? null;
}

/** Lobe deviations: live while running, of the last reading afterwards. */
export function lobeDeviations(view: RunView): readonly number[] {
  const live = isUnderWay(view) ? view.live?.lobeDeviationsDeg : undefined;
  if (live !== undefined && live.length > 0) return live;
  return view.points.at(-1)?.reading.lobeDeviationsDeg ?? [];
}

/** Same text for the same part of the plan: a change of it is worth saying aloud. */
export function stepKey(step: StepDocument | null): string {
  return step === null ? "" : `${step.step}/${step.capsule ?? ""}/${step.branch ?? ""}`;
}

/** The finished hold test of a capsule, if there is one. */
export function holdOf(view: RunView, capsule: number): HoldDocument | null {
  return view.holds.findLast((hold) => hold.capsule === capsule) ?? null;
}
