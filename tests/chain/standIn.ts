// One run on the stand-in rig in virtual time, through the same door as page and command line.
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import type { ConnectedContacts } from "../../core/unit.ts";
import { makeRun } from "../../server/measurement.ts";
import { type RigFile, STAND_IN } from "../../server/rigFile.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";

export interface StandInRun {
  readonly end: EndDocument;
  readonly documents: readonly RunDocument[];
}

/** `scenario` null: a sound unit. `during` sees each document and the way to stop; `plan` in the form of a plan file. */
export async function measureOnStandIn(
  unit: unknown,
  scenario: unknown,
  options: {
    readonly plan?: unknown;
    readonly rig?: RigFile;
    readonly capsule?: number;
    readonly contacts?: ConnectedContacts;
    readonly isFresh?: () => boolean;
    /** Whether to say what is wrong too, which takes longer than all the rest. */
    readonly explains?: boolean;
    readonly during?: (document: RunDocument, stop: () => void) => void;
  } = {},
): Promise<StandInRun> {
  const scheduler = new VirtualScheduler();
  const documents: RunDocument[] = [];
  const run = await makeRun(
    {
      rig: options.rig ?? STAND_IN,
      unitFile: { name: "unit", content: unit },
      scenario: scenario === null ? null : { name: "scenario", content: scenario },
      plan: options.plan === undefined ? null : { name: "plan", content: options.plan },
      capsule: options.capsule ?? 0,
      contacts: options.contacts ?? null,
      afterRecordId: null,
    },
    {
      scheduler,
      store: null,
      emit: (document) => {
        documents.push(document);
        options.during?.(document, () => run.stop("STOPPED_BY_USER"));
      },
      liveEveryMs: null,
      explains: options.explains ?? false,
      isFresh: options.isFresh ?? (() => true),
    },
  );
  const end = await scheduler.run(run.prepare().then(() => run.carryOut()));
  return { end, documents };
}
