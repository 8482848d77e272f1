// The codec against the protocol document itself: its vectors are read from there.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { crc32 } from "../../core/codec/crc32.ts";
import { asciiBytes, asciiText, closeLine, LineCutter } from "../../core/codec/framing.ts";
import { formatHostLine, parseHostLine } from "../../core/codec/hostLines.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import { formatRigLine } from "../../core/codec/rigLines.ts";

const page = readFileSync(new URL("../../firmware-protocol.md", import.meta.url), "utf8");
const block = /```vectors\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
const lines = block.trimEnd().split("\n");
const bad = lines.filter((line) => line.includes("#"));
const good = lines.filter((line) => !line.includes("#"));

function bodiesOf(text: string): string[] {
  const bodies: string[] = [];
  new LineCutter((bytes, from, to) => bodies.push(asciiText(bytes, from, to))).push(
    asciiBytes(text),
  );
  return bodies;
}

describe("test vectors of firmware-protocol.md", () => {
  it("are at least ten good ones and three to be dropped", () => {
    expect(good.length).toBeGreaterThanOrEqual(10);
    expect(bad.length).toBe(3);
  });

  it.each(good)("%s is taken, understood and written again alike", (line) => {
    const bodies = bodiesOf(`${line}\n`);
    expect(bodies).toEqual([line.slice(0, -9)]);
    const body = asciiBytes(bodies[0] as string);
    const rig = parseRigLine(body);
    if (rig.type !== "unknown" && rig.type !== "malformed") {
      expect(closeLine(formatRigLine(rig))).toBe(line);
      return;
    }
    const host = parseHostLine(body);
    if (host.type === "unknown" || host.type === "malformed" || host.type === "fields") {
      expect.unreachable(`not understood: ${line}`);
    }
    expect(closeLine(formatHostLine(host))).toBe(line);
  });

  it.each(bad)("%s is dropped", (line) => {
    expect(bodiesOf(`${line.split("#")[0]?.trimEnd()}\n`)).toEqual([]);
  });
});

describe("CRC-32/ISO-HDLC", () => {
  it("gives the check value of the public CRC catalogue", () => {
    // Catalogue of parametrised CRC algorithms: check value CBF43926 for "123456789".
    expect(crc32(asciiBytes("123456789"))).toBe(0xcbf43926);
  });
});
