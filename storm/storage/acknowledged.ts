// What a child process said it had written, and whether a store still has all of it.
import { createHash } from "node:crypto";
import type { RunDocument } from "../../core/documents.ts";
import type { Store } from "../../server/store/store.ts";

/** Said only after the store's own call has returned. */
export type Acknowledged =
  | { readonly what: "record" | "end"; readonly id: string; readonly digest: string }
  | {
      readonly what: "document";
      readonly id: string;
      /** From 0, the start document aside. */
      readonly sequence: number;
      readonly digest: string;
    }
  /** Raw lines handed over so far, and when; they are on disk within a second. */
  | { readonly what: "raw"; readonly id: string; readonly bytes: number; readonly ms: number }
  | { readonly what: "text"; readonly name: string; readonly content: string };

/** The store keeps the fields of a start in columns, so that their order is its own. */
export function digestOf(document: RunDocument): string {
  const fields = Object.entries(document).sort(([a], [b]) => (a < b ? -1 : 1));
  return createHash("sha256").update(JSON.stringify(fields)).digest("hex");
}

/** The raw lines of any record begin like this: by its place alone every byte is known. */
export function rawBytes(from: number, to: number): Uint8Array {
  return Uint8Array.from({ length: to - from }, (_, i) => ((from + i) * 2_654_435_761) >>> 13);
}

/** What of it the store has not, or has otherwise; a sentence each. `atMs`: raw lines older than a second then. */
export async function missingOf(
  store: Store,
  all: readonly Acknowledged[],
  atMs: number,
): Promise<string[]> {
  const documentsOf = remembered(async (id) =>
    (await store.hasRecord(id)) ? store.documentsOnFile(id) : [],
  );
  const rawOf = remembered((id) => store.rawLines(id));
  const missing: string[] = [];
  for (const one of all) {
    const isThere = async () => {
      switch (one.what) {
        case "record":
          return hasDigest((await documentsOf(one.id))[0], one.digest);
        case "document":
          return hasDigest((await documentsOf(one.id))[1 + one.sequence], one.digest);
        case "end":
          return hasDigest((await documentsOf(one.id)).at(-1), one.digest);
        case "raw":
          return atMs - one.ms < 1000 || hasRaw(await rawOf(one.id), one.bytes);
        case "text":
          return (await store.keptTexts(one.name, 1000)).includes(one.content);
      }
    };
    if (!(await isThere())) missing.push(JSON.stringify(one));
  }
  return missing;
}

function hasDigest(document: RunDocument | undefined, digest: string): boolean {
  return document !== undefined && digestOf(document) === digest;
}

function remembered<T>(look: (id: string) => Promise<T>): (id: string) => Promise<T> {
  const known = new Map<string, Promise<T>>();
  return (id) => {
    const found = known.get(id) ?? look(id);
    known.set(id, found);
    return found;
  };
}

function hasRaw(kept: Uint8Array, bytes: number): boolean {
  return kept.length >= bytes && Buffer.compare(kept.subarray(0, bytes), rawBytes(0, bytes)) === 0;
}
