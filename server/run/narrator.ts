// Tells a run as documents: keeps them, hands them on, and knows how much of the plan is behind us.

import type {
  EndDocument,
  PointDocument,
  Reading,
  RunDocument,
  StartDocument,
  StepDocument,
} from "../../core/documents.ts";
import type { Plan } from "../../core/plan.ts";
import { timeline } from "../../core/planFile.ts";
import { type Said, said, textOf } from "../../core/said.ts";
import type { Branch } from "../../core/unit.ts";

/** Where a run's documents and raw bytes go. A throw ends the run with that error. */
export interface Recorder {
  readonly append: (document: MiddleDocument) => void;
  readonly raw: (bytes: Uint8Array) => void;
  /** Closes the record; nothing follows. */
  readonly end: (document: EndDocument) => void;
}

type MiddleDocument = Exclude<RunDocument, StartDocument | EndDocument>;

/** Where a reading belongs: what is swept, on which branch, and what was asked for. */
export interface Station {
  readonly sweep: PointDocument["sweep"];
  readonly capsule: number | null;
  readonly branch: Branch | null;
  readonly targetRpm: number;
  readonly targetPa: number | null;
}

export class Narrator {
  readonly documents: RunDocument[];
  private readonly recorder: Recorder;
  private readonly emit: (document: RunDocument) => void;
  /** Seconds of rig time after which each reading should be done. */
  private readonly timeline: readonly number[];
  /** Entries of the timeline that are behind us. */
  private place = 0;
  /** Readings and hold tests that are behind us. */
  private done = 0;
  private chosen: { readonly planned: number; left: number } | null = null;

  constructor(start: StartDocument, recorder: Recorder, emit: (document: RunDocument) => void) {
    this.documents = [start];
    this.recorder = recorder;
    this.emit = emit;
    this.timeline = timeline(start.plan);
    emit(start);
  }

  /** `count` readings or hold tests are behind us, taken or left out. */
  passed(count = 1): void {
    this.done += count;
    if (this.chosen === null) this.place += count;
    else this.chosen.left = Math.max(0, this.chosen.left - count);
  }

  /** A sweep chooses its readings from here on; the timeline has so many for it. */
  beginChoice(planned: number): void {
    this.chosen = { planned, left: planned };
  }

  /** So many more readings seem to be needed until the sweep is done. */
  chosenLeft(left: number): void {
    if (this.chosen !== null) this.chosen.left = left;
  }

  endChoice(): void {
    this.place += this.chosen?.planned ?? 0;
    this.chosen = null;
  }

  step(step: StepDocument["step"], at: Omit<Station, "sweep">): void {
    const { done } = this;
    const { left, seconds } = this.ahead();
    this.append({ type: "step", step, ...at, done, total: done + left, remainingS: seconds });
  }

  /** Readings and hold tests still to come, and how long they should take. */
  private ahead(): { readonly left: number; readonly seconds: number } {
    const { timeline: times, place, chosen } = this;
    const at = (count: number) => (count === 0 ? 0 : (times[count - 1] ?? 0));
    const whole = times.length;
    if (chosen === null) {
      return { left: whole - place, seconds: Math.round(at(whole) - at(place)) };
    }
    const after = Math.min(whole, place + chosen.planned);
    const each = (at(after) - at(place)) / Math.max(1, chosen.planned);
    const seconds = Math.round(each * chosen.left + at(whole) - at(after));
    return { left: chosen.left + whole - after, seconds };
  }

  /** A reading, or the notice that there was nothing to read. */
  reading(station: Station, reading: Reading | null): void {
    if (reading === null) {
      this.notice(
        "NO_SPARKS",
        said("No usable sparks at {} rpm; this reading is left out.", station.targetRpm),
      );
    } else {
      this.append({ type: "point", ...station, reading });
    }
    this.passed();
  }

  notice(code: string, what: Said): void {
    this.append({ type: "notice", code, text: textOf(what), said: what });
  }

  append(document: MiddleDocument): void {
    this.documents.push(document);
    this.recorder.append(document);
    this.emit(document);
  }

  raw(bytes: Uint8Array): void {
    this.recorder.raw(bytes);
  }

  /** Keeps the end and tells it, even where it could not be kept. */
  end(document: EndDocument): void {
    try {
      this.recorder.end(document);
    } finally {
      this.emit(document);
    }
  }
}

/** Seconds of rig time that the whole plan should take. */
export function expectedSeconds(plan: Plan): number {
  return timeline(plan).at(-1) ?? 0;
}
