// Works out what to change beside the page: it takes seconds, in which the page must stay awake.
import type { RunDocument } from "../../core/documents.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { BobweightError, type Told } from "../../core/errors.ts";
import type { Installed } from "../../core/refit/installed.ts";
import { type RefitReport, refitReport } from "../../core/refit/report.ts";
import { startDocumentOf } from "../../core/sheet/curves.ts";

export interface RefitQuestion {
  readonly documents: readonly RunDocument[];
  readonly drawer: readonly DrawerSpring[];
  readonly installed: Installed;
}

export type RefitAnswer = { readonly report: RefitReport } | { readonly refused: Told };

self.onmessage = ({ data }: MessageEvent<RefitQuestion>) => {
  self.postMessage(answer(data));
};

function answer({ documents, drawer, installed }: RefitQuestion): RefitAnswer {
  try {
    const band = startDocumentOf(documents).unit.speedBand;
    return { report: refitReport(documents, { band, drawer, installed, earlier: [] }) };
  } catch (error) {
    if (error instanceof BobweightError) return { refused: error.told };
    throw error;
  }
}
