// Bar: gross single faults are found from six readings taken by hand.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { byHandRecord } from "../../core/byHand/record.ts";
import type { FindingKind } from "../../core/findings/finding.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { findingFor } from "../diagnosed.ts";
import { drawHandCase, HAND_KINDS, type HandCase, type HandKind } from "../hand/case.ts";
import { shareAtLeast, shareBeside } from "../shares.ts";

const FOUND_MIN = 0.9;

export interface HandRead {
  readonly index: number;
  /** Null for a good unit. */
  readonly kind: HandKind | null;
  readonly multiple: number;
  readonly found: readonly { readonly kind: FindingKind; readonly alike: readonly FindingKind[] }[];
}

const KINDS = [
  ...HAND_KINDS.speed.map((kind) => ({ sweep: "speed", kind }) as const),
  ...HAND_KINDS.vacuum.map((kind) => ({ sweep: "vacuum", kind }) as const),
];

/** Two faulty units, then a good one. */
export function handCase(name: string, index: number): HandCase {
  const round = Math.floor(index / 3);
  if (index % 3 === 2) {
    return drawHandCase(`${name} good`, round, round % 2 === 0 ? "speed" : "vacuum", null);
  }
  const { sweep, kind } = KINDS[(2 * round + (index % 3)) % KINDS.length] as (typeof KINDS)[number];
  return drawHandCase(name, index, sweep, kind);
}

export async function handRead(name: string, index: number): Promise<HandRead> {
  const { kind, multiple, unitFile, notes } = handCase(name, index);
  const { end } = byHandRecord(byHandNotes(notes, "notes"), unitFromFile(unitFile, "unit"), {
    recordId: `${name} ${index}`,
    startedUtc: "2026-11-25T00:00:00.000Z",
    engineVersion: "0.0.0",
    unitFile,
    afterRecordId: null,
  });
  const found = (end.findings?.found ?? []).map(({ kind, alike }) => ({ kind, alike }));
  return { index, kind, multiple, found };
}

export const hand: Bar<HandRead> = {
  name: "hand",
  counts: { short: 300, long: 900 },
  job: (index) => handRead("hand", index),
  figures: (results): readonly Figure[] => {
    const faulty = results.filter(({ kind }) => kind !== null);
    const good = results.filter(({ kind }) => kind === null);
    const found = faulty.filter((one) => isNamedFirst(one) || isAlikeFirst(one));
    const wrong = good.filter((one) => one.found.length > 0);
    return [
      shareAtLeast(
        "by hand, ± 1°, six readings: single gross faults found",
        found.length,
        faulty.length,
        FOUND_MIN,
      ),
      shareBeside("… named first", faulty.filter(isNamedFirst).length, faulty.length),
      beside("… kinds told by the first finding, on average", meanTold(faulty), faulty.length),
      shareBeside("… something found", faulty.filter(isAnyFound).length, faulty.length),
      ...missedByKind(faulty, found),
      shareBeside("good units with any finding, by hand", wrong.length, good.length),
    ];
  },
};

function isAnyFound({ found }: HandRead): boolean {
  return found.length > 0;
}

function isNamedFirst({ kind, found }: HandRead): boolean {
  return kind !== null && found[0]?.kind === findingFor(kind);
}

/** The first finding says that it would look the same. */
function isAlikeFirst({ kind, found }: HandRead): boolean {
  return kind !== null && found[0]?.alike.includes(findingFor(kind)) === true;
}

/** The finding and all that it says would look the same: the fewer the better it is told. */
function meanTold(results: readonly HandRead[]): string {
  const told = results.flatMap(({ found: [first] }) =>
    first === undefined ? [] : [1 + first.alike.length],
  );
  return (told.reduce((sum, one) => sum + one, 0) / told.length).toFixed(2);
}

function missedByKind(faulty: readonly HandRead[], found: readonly HandRead[]): Figure[] {
  return KINDS.flatMap(({ kind }) => {
    const own = faulty.filter((one) => one.kind === kind);
    const missed = own.filter((one) => !found.includes(one));
    if (missed.length === 0) return [];
    const told = missed.map(({ found: [first] }) => first?.kind ?? "nothing");
    const text = `${kind} ${missed.length}/${own.length}: ${[...new Set(told)].join(", ")}`;
    return [beside("… missed", text, own.length)];
  });
}
