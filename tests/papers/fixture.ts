// An invented run with more of everything than a page likes to hold, and a card to go with it.
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import type { Finding } from "../../core/findings/finding.ts";
import type { JobCard } from "../../core/jobs/card.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";
import { type EarlierRun, earlierRuns } from "../../core/sheet/earlier.ts";
import type { EngineSettings } from "../../core/unit.ts";
import { endDocument, inventedUnit, runDocuments, startDocument } from "../sheet/fixture.ts";

export const card: JobCard = cardSchema.parse({
  number: "2031-014",
  owner: "Jürgen Weiß",
  vehicle: "Saloon, 1½ litre",
  stampedNumber: "BW 4101 A 12 66",
  returnedOn: "2031-03-15",
  gapFoundMm: 0.25,
  gapSetMm: 0.4,
  partsReplaced: ["Contacts", "Diaphragm capsule"],
});

export const LONG = `${"A long text with ½, ¼, ≤, ±, × and – in it, ".repeat(5)}`.slice(0, 200);

const longCard: JobCard = cardSchema.parse({
  ...card,
  number: LONG,
  owner: LONG,
  vehicle: LONG,
  unit: LONG,
  stampedNumber: LONG,
  receivedOn: "2031-03-12",
  partsReplaced: Array.from({ length: 50 }, () => LONG),
});

export const engine: EngineSettings = {
  initialTimingCrankshaftDeg: 8,
  atEngineRpm: 600,
  vacuumPort: "ported",
  idleEngineRpm: 700,
  engineSpeedsRpm: null,
  source: LONG,
};

export function finding(kind: Finding["kind"], isSerious: boolean): Finding {
  return {
    kind,
    subject: "unit",
    part: null,
    isSerious,
    strength: 0.8,
    evidence: [],
    alike: [],
  };
}

/** Two capsules, an own target, four findings of which three are serious, and long texts wherever there is one. */
export const crowded: {
  readonly documents: readonly RunDocument[];
  readonly earlier: readonly EarlierRun[];
  readonly card: JobCard;
} = (() => {
  const { speedBand, capsules } = inventedUnit;
  const [capsule] = capsules;
  const [measured] = endDocument.result.capsules;
  if (speedBand === null || capsule === undefined || measured === undefined) {
    throw new Error("the fixture has a band and a capsule");
  }
  const unit = {
    ...inventedUnit,
    description: LONG,
    engine,
    capsules: [capsule, { ...capsule, name: "Retard capsule" }],
    speedBand: { ...speedBand, isOwnTarget: true, source: LONG } as const,
  };
  const end: EndDocument = {
    ...endDocument,
    result: {
      ...endDocument.result,
      verdict: "outside",
      capsules: [measured, { ...measured, name: "Retard capsule" }],
    },
    findings: {
      found: [
        finding("weights-not-returning", true),
        finding("stop-worn", true),
        finding("diaphragm-torn", true),
        finding("spring-light", false),
        finding("cam-worn", false),
      ],
      notTestable: [],
    },
  };
  const documents = [{ ...startDocument, unit }, ...runDocuments.slice(1, -1), end];
  return { documents, earlier: earlierRuns([documents]), card: longCard };
})();
