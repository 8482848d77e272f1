// Records to and from files: carried off whole, and brought in once their fingerprints hold. Nothing on
// file is ever overwritten.

import { createHash } from "node:crypto";
import { deflateSync, inflateSync } from "node:zlib";
import type { EndDocument, RunDocument, StartDocument } from "../core/documents.ts";
import { BobweightError } from "../core/errors.ts";
import { broughtUp } from "../core/olderRecords.ts";
import {
  RECORD_FILE_FORMAT,
  type RecordFile,
  recordFileSchema,
} from "../core/records/recordFile.ts";
import { type Said, said } from "../core/said.ts";
import { buildSheet } from "../core/sheet/sheet.ts";
import { parseShape } from "../core/unitFile/place.ts";
import type { Store } from "./store/store.ts";

/** More than hours of lines. */
export const RECORD_FILE_BYTES_MAX = 60_000_000;
const RAW_BYTES_MAX = 400_000_000;

export interface BroughtIn {
  readonly recordId: string;
  /** The same record was on file. */
  readonly wasThere: boolean;
}

/** @throws RECORD_UNKNOWN, RECORD_INCOMPLETE where it has no end */
export async function recordFileText(store: Store, recordId: string): Promise<string> {
  const documents = await store.documentsOnFile(recordId);
  if (documents.at(-1)?.type !== "end") {
    throw new BobweightError(
      "RECORD_INCOMPLETE",
      said(
        "Record {} has no end: it runs still, or the program died. It is not carried off.",
        recordId,
      ),
    );
  }
  const raw = await store.rawLines(recordId);
  const file: RecordFile = {
    bobweightRecordFile: RECORD_FILE_FORMAT,
    documents: documents as unknown as RecordFile["documents"],
    documentsSha256: sha256Of(JSON.stringify(documents)),
    raw: {
      sha256: sha256Of(raw),
      bytes: raw.length,
      deflatedBase64: deflateSync(raw).toString("base64"),
    },
  };
  return `${JSON.stringify(file)}\n`;
}

/**
 * @param name of the file, for complaints
 * @throws FILE_INVALID, RECORD_FILE_BROKEN, RECORD_OTHER_CONTENT, RECORD_UNKNOWN where it follows one that is not here
 */
export async function bringRecordIn(
  store: Store,
  content: unknown,
  name: string,
): Promise<BroughtIn> {
  const file = parseShape(recordFileSchema, content, name);
  // As they stand in the file, not as a schema hands them on: the fingerprint is of them.
  const documents = (content as { documents: RunDocument[] }).documents;
  if (sha256Of(JSON.stringify(documents)) !== file.documentsSha256) {
    throw broken(name, said("its documents are not those whose fingerprint it has"));
  }
  const raw = rawOf(file, name);
  const [start, middle, end] = parted(documents, name);
  expectReadable(documents, name);
  if (await store.hasRecord(start.recordId)) {
    await expectSame(store, start.recordId, documents, raw, name);
    return { recordId: start.recordId, wasThere: true };
  }
  if (start.afterRecordId !== null && !(await store.hasRecord(start.afterRecordId))) {
    throw new BobweightError(
      "RECORD_EARLIER_MISSING",
      said(
        "{} is a run after a change: it follows record {}, which is not on file here.",
        name,
        start.afterRecordId,
      ),
    );
  }
  await store.bringIn({ start, middle, end, raw });
  return { recordId: start.recordId, wasThere: false };
}

/** Files in the order in which each finds what it follows: keys sort by time. */
export function inOrder<T extends { readonly content: unknown }>(
  files: readonly T[],
): readonly T[] {
  const idOf = ({ content }: T) => {
    const first = (content as { documents?: readonly { recordId?: unknown }[] } | null)
      ?.documents?.[0];
    return String(first?.recordId ?? "");
  };
  return files.toSorted((a, b) => (idOf(a) < idOf(b) ? -1 : 1));
}

/** Whether the content says that it is a record file, good or not. */
export function isRecordFile(content: unknown): boolean {
  return typeof content === "object" && content !== null && "bobweightRecordFile" in content;
}

function rawOf({ raw }: RecordFile, name: string): Uint8Array {
  let bytes: Uint8Array;
  try {
    bytes = inflateSync(Buffer.from(raw.deflatedBase64, "base64"), {
      maxOutputLength: RAW_BYTES_MAX,
    });
  } catch (cause) {
    throw broken(name, said("its raw lines cannot be inflated"), cause);
  }
  if (bytes.length !== raw.bytes || sha256Of(bytes) !== raw.sha256) {
    throw broken(name, said("its raw lines are not those whose fingerprint it has"));
  }
  return bytes;
}

type Middle = Exclude<RunDocument, StartDocument | EndDocument>;

function parted(
  documents: readonly RunDocument[],
  name: string,
): [StartDocument, Middle[], EndDocument] {
  const [start, end] = [documents[0], documents.at(-1)];
  const between = documents.slice(1, -1);
  const middle = between.filter(
    (document): document is Middle => document.type !== "start" && document.type !== "end",
  );
  if (start?.type !== "start" || end?.type !== "end" || middle.length !== between.length) {
    throw broken(name, said("its documents do not go from one start to one end"));
  }
  return [start, middle, end];
}

/** Whatever lists and prints records must be able to. */
function expectReadable(documents: readonly RunDocument[], name: string): void {
  try {
    buildSheet(broughtUp(documents), { paper: "a4", vacuumUnit: "kPa", fingerprint: null }, []);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw broken(name, said("its documents cannot be read as a record ({})", why), cause);
  }
}

async function expectSame(
  store: Store,
  recordId: string,
  documents: readonly RunDocument[],
  raw: Uint8Array,
  name: string,
): Promise<void> {
  const isSame =
    JSON.stringify(await store.documentsOnFile(recordId)) === JSON.stringify(documents) &&
    Buffer.compare(await store.rawLines(recordId), raw) === 0;
  if (isSame) return;
  throw new BobweightError(
    "RECORD_OTHER_CONTENT",
    said("{} has the id of record {}, which is on file with other content.", name, recordId),
  );
}

function sha256Of(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

function broken(name: string, what: Said | string, cause?: unknown): BobweightError {
  return new BobweightError("RECORD_FILE_BROKEN", said("{} is no whole record: {}.", name, what), {
    cause,
  });
}
