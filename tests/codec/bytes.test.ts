// Bytes at the edges of part 1 of the protocol, in every place of a word of four.
import { describe, expect, it } from "vitest";
import { crc32 } from "../../core/codec/crc32.ts";
import {
  asciiBytes,
  asciiText,
  closeLine,
  encodeLine,
  type FramingCounts,
  LineCutter,
} from "../../core/codec/framing.ts";

function cut(...chunks: readonly Uint8Array[]): { bodies: string[]; counts: FramingCounts } {
  const bodies: string[] = [];
  const cutter = new LineCutter((bytes, from, to) => bodies.push(asciiText(bytes, from, to)));
  for (const chunk of chunks) cutter.push(chunk);
  return { bodies, counts: cutter.counts };
}

const NOTHING: FramingCounts = { good: 0, tooLong: 0, badByte: 0, badCrc: 0 };
const latin = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));

/** With a right sum over whatever bytes. */
function closed(body: Uint8Array): Uint8Array {
  const sum = crc32(body).toString(16).toUpperCase().padStart(8, "0");
  return Uint8Array.from([...body, ...asciiBytes(`*${sum}\n`)]);
}

describe("a byte within a line under a right sum", () => {
  const taken = [0x20, 0x21, 0x29, 0x2b, 0x2c, 0x30, 0x41, 0x5a, 0x60, 0x7a, 0x7d, 0x7e];
  const notTaken = [0x00, 0x01, 0x09, 0x0d, 0x1f, 0x7f, 0x80, 0xa0, 0xaa, 0xfe, 0xff];

  it.each([0, 1, 2, 3, 4, 5, 6, 7])("at place %i is taken where clause 1.1 has it", (place) => {
    const body = latin("askasaska");
    for (const byte of taken) {
      body[place] = byte;
      expect(cut(closed(body))).toEqual({
        bodies: [asciiText(body)],
        counts: { ...NOTHING, good: 1 },
      });
    }
    for (const byte of notTaken) {
      body[place] = byte;
      expect(cut(closed(body))).toEqual({ bodies: [], counts: { ...NOTHING, badByte: 1 } });
    }
    // Clause 1.2: no field holds an asterisk.
    body[place] = 0x2a;
    expect(cut(closed(body))).toEqual({ bodies: [], counts: { ...NOTHING, badByte: 1 } });
  });

  it("does not count against the next line", () => {
    const bad = closed(latin("as\tk*"));
    expect(cut(bad, encodeLine("ask,1"), bad, bad).counts).toEqual({
      ...NOTHING,
      good: 1,
      badByte: 3,
    });
  });
});

describe("a line", () => {
  it("of nothing, or of a CR alone, is ignored (clause 1.4)", () => {
    expect(cut(latin("\n\r\n\n"))).toEqual({ bodies: [], counts: NOTHING });
  });

  it.each(["x", "*", "00000000", "*00000000", "ask,1", "ask,1*", "ask,1*0000000"])(
    "%s fails the sum, once each time",
    (text) => {
      expect(cut(latin(`${text}\n`)).counts).toEqual({ ...NOTHING, badCrc: 1 });
      expect(cut(latin(`${text}\n${text}\n`)).counts).toEqual({ ...NOTHING, badCrc: 2 });
    },
  );

  it("of no body fails even under the right sum of nothing", () => {
    // CRC-32 of no bytes is 0.
    expect(cut(latin("*00000000\n")).counts).toEqual({ ...NOTHING, badCrc: 1 });
  });

  it("has its sum in upper-case digits (clause 1.2)", () => {
    const line = closeLine("ask,1");
    expect(cut(latin(`${line}\n`)).counts.good).toBe(1);
    expect(cut(latin(`${line.toLowerCase()}\n`)).counts).toEqual({ ...NOTHING, badCrc: 1 });
    for (const wrong of ["G", "/", ":", "@", " "]) {
      const changed = `${line.slice(0, -1)}${wrong}\n`;
      expect(cut(latin(changed)).counts).toEqual({ ...NOTHING, badCrc: 1 });
    }
  });

  it("may end by one CR and not by two, nor have one within", () => {
    const line = closeLine("ask,1");
    expect(cut(latin(`${line}\r\n`)).counts).toEqual({ ...NOTHING, good: 1 });
    expect(cut(latin(`${line}\r\r\n`)).counts.good).toBe(0);
    expect(cut(latin(`\r${line}\n`)).counts.good).toBe(0);
    // The CR that was dropped excuses no other byte.
    expect(cut(closed(latin("a\tk")).slice(0, -1), latin("\r\n")).counts).toEqual({
      ...NOTHING,
      badByte: 1,
    });
  });

  it("that goes on and on is one that is too long, however it comes", () => {
    const good = encodeLine("ask,1");
    for (const length of [240, 241, 242, 3855, 3856, 4096, 9000]) {
      const long = latin(`${"x".repeat(length)}\n`);
      expect(cut(long, good)).toEqual({
        bodies: ["ask,1"],
        counts: { ...NOTHING, good: 1, tooLong: 1 },
      });
      const pieces = Array.from({ length: Math.ceil(long.length / 100) }, (_, i) =>
        long.subarray(100 * i, 100 * (i + 1)),
      );
      expect(cut(...pieces, good).counts).toEqual({ ...NOTHING, good: 1, tooLong: 1 });
    }
    // One byte more than a line may have, its LF not among them.
    expect(cut(latin("x".repeat(239)), latin("\n")).counts).toEqual({ ...NOTHING, badCrc: 1 });
  });
});

describe("a chunk", () => {
  it.each([3854, 3855, 3856, 7710, 7711, 20_000])("of %i bytes loses no line", (length) => {
    const line = encodeLine("ask,1");
    const count = Math.floor(length / line.length);
    const bytes = latin("\n".repeat(length));
    for (let i = 0; i < count; i++) bytes.set(line, i * line.length);
    expect(cut(bytes)).toEqual({
      bodies: new Array(count).fill("ask,1"),
      counts: { ...NOTHING, good: count },
    });
  });

  it("may be empty", () => {
    expect(cut(new Uint8Array(0), encodeLine("ask,1"), new Uint8Array(0)).bodies).toEqual([
      "ask,1",
    ]);
  });
});

describe("text", () => {
  it("becomes bytes up to 0x7E and is refused beyond, by name", () => {
    expect([...asciiBytes("a~ ")]).toEqual([0x61, 0x7e, 0x20]);
    expect(() => asciiBytes("a\u007f")).toThrow('not ASCII: "a\u007f"');
    expect(() => asciiBytes("½")).toThrow(RangeError);
  });

  it("has the sums of the public CRC catalogue, from any place of a buffer", () => {
    expect(crc32(asciiBytes("123456789"))).toBe(0xcbf43926);
    expect(crc32(asciiBytes("xx123456789yyy"), 2, 11)).toBe(0xcbf43926);
    expect(crc32(new Uint8Array(0))).toBe(0);
    // "The quick brown fox …", as published with many implementations.
    const fox = "The quick brown fox jumps over the lazy dog";
    expect(crc32(asciiBytes(fox))).toBe(0x414fa339);
  });
});
