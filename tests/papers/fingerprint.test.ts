// The raw record's fingerprint: of the right bytes, and on the file's sheet as far as there is one.
import { describe, expect, it } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import type { RawFingerprint } from "../../core/sheet/conditions.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { fingerprintOf } from "../../server/fingerprint.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";

function rawRecord(
  documents: readonly RunDocument[],
  fingerprint: RawFingerprint | null,
): string | undefined {
  return buildSheet(documents, { paper: "a4", vacuumUnit: "kPa", fingerprint })
    .blocks.flatMap((block) => (block.kind === "facts" ? block.facts : []))
    .find(({ label }) => label === "Raw record")?.value;
}

describe("the fingerprint", () => {
  it("is SHA-256 of the raw lines", async () => {
    // FIPS 180-2, appendix B.1.
    const sha256Hex = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    const store = { rawLines: async () => new TextEncoder().encode("abc") };
    expect(await fingerprintOf(store, "any")).toEqual({ sha256Hex, bytes: 3 });
    expect(rawRecord(runDocuments, { sha256Hex, bytes: 3 })).toBe(`3 bytes, SHA-256 ${sha256Hex}`);
  });

  it("is not there where nothing was kept, sent or asked for", () => {
    expect(rawRecord(runDocuments, { sha256Hex: "e3b0", bytes: 0 })).toBe("none kept");
    expect(rawRecord(runDocuments, null)).toBeUndefined();
    const byHand = {
      means: "timing light",
      readingLimitDeg: 1,
      speedLimitRpm: 25,
      vacuumLimitPa: 1000,
      camTurns: null,
      camSpringsBack: null,
    } as const;
    const start = { ...startDocument, rig: { ...startDocument.rig, byHand } };
    expect(rawRecord([start, ...runDocuments.slice(1)], null)).toBe(
      "none: typed in, no rig sent anything",
    );
  });
});
