// What a batch keeps of a case: one JSON line, the same bytes whichever thread measured it and when.
import type {
  EndDocument,
  RowVerdict,
  RunDocument,
  StartDocument,
  Verdict,
} from "../../core/documents.ts";
import { BobweightError, type Told } from "../../core/errors.ts";
import { makeRun } from "../measurement.ts";
import { reportFrom } from "../report.ts";
import { VirtualScheduler } from "../schedulers.ts";
import { type CaseText, digestOfText, FileTexts, inspectCase, readCase } from "./caseFile.ts";

export interface CaseResult {
  readonly at: string;
  readonly name: string;
  /** Of the case's texts and the program's version. */
  readonly digest: string;
  /** Of a case that could not be measured, in the place of all that follows. */
  readonly error?: Pick<Told, "code" | "text">;
  readonly verdict?: Verdict | null;
  readonly ending?: EndDocument["ending"];
  readonly reason?: Pick<Told, "code" | "text"> | null;
  readonly rows?: readonly RowVerdict[];
  readonly rowsNotMeasured?: number;
}

/** Measures one case on a virtual clock. Never throws: what goes wrong is its result. */
export async function resultOf(text: CaseText, files: FileTexts): Promise<object & CaseResult> {
  let digest = digestOfText(text);
  let name = text.at;
  try {
    const read = readCase(text, files);
    ({ digest, name } = read);
    const scheduler = new VirtualScheduler();
    let start: StartDocument | null = null;
    const run = await makeRun(read.choice, {
      scheduler,
      store: null,
      emit: (document: RunDocument) => {
        if (document.type === "start") start = document;
      },
      liveEveryMs: null,
      isFresh: () => true,
      explains: false,
    });
    const end = await scheduler.run(run.prepare().then(() => run.carryOut()));
    if (start === null) throw new Error("the run has no beginning");
    // Ids are new each time; findings and mechanism take longer than the measurement.
    const { recordId, findings, mechanism, ...report } = reportFrom(
      start,
      end,
      read.choice.capsule,
    );
    return { at: text.at, name, digest, ...report };
  } catch (error) {
    return { at: text.at, name, digest, error: toldOf(error) };
  }
}

/** The result of a case that its thread died of. */
export function diedOf(text: CaseText, why: string): CaseResult {
  const { name, digest } = inspectCase(text, new FileTexts());
  return { at: text.at, name, digest, error: toldOf(new Error(why)) };
}

function toldOf(error: unknown): Pick<Told, "code" | "text"> {
  if (error instanceof BobweightError) return { code: error.code, text: error.told.text };
  const why = error instanceof Error ? error.message : String(error);
  return { code: "BUG", text: new BobweightError("BUG", `${why}.`).told.text };
}
