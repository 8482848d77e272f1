// The fingerprint of a record's raw lines: the same bytes give the same one, any other byte another.
import { createHash } from "node:crypto";
import type { RawFingerprint } from "../core/sheet/conditions.ts";
import type { Store } from "./store/store.ts";

/** @throws STORE_FAILED */
export async function fingerprintOf(
  store: Pick<Store, "rawLines">,
  recordId: string,
): Promise<RawFingerprint> {
  const bytes = await store.rawLines(recordId);
  return { sha256Hex: createHash("sha256").update(bytes).digest("hex"), bytes: bytes.length };
}
