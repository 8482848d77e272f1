// Framing and parsing under whatever bytes and chunks may come.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  asciiBytes,
  asciiText,
  closeLine,
  encodeLine,
  LineCutter,
} from "../../core/codec/framing.ts";
import { parseHostLine } from "../../core/codec/hostLines.ts";
import { parseRigLine, RigLineReader } from "../../core/codec/rigLineReader.ts";
import { formatRigLine, type RevPart } from "../../core/codec/rigLines.ts";

function cut(chunks: readonly Uint8Array[]) {
  const bodies: string[] = [];
  const cutter = new LineCutter((bytes, from, to) => bodies.push(asciiText(bytes, from, to)));
  for (const chunk of chunks) cutter.push(chunk);
  return { bodies, counts: cutter.counts };
}

const body = fc.stringMatching(/^[a-z]{1,8}(,[A-Za-z0-9 .+-]{0,20}){0,8}$/);

describe("LineCutter", () => {
  it("finds the same lines however the bytes are cut into chunks", () => {
    fc.assert(
      fc.property(fc.array(body, { maxLength: 8 }), fc.array(fc.nat(60)), (bodies, cuts) => {
        const bytes = asciiBytes(bodies.map((one) => `${closeLine(one)}\n`).join(""));
        const chunks: Uint8Array[] = [];
        let from = 0;
        for (const length of cuts) {
          chunks.push(bytes.slice(from, from + length));
          from += length;
        }
        chunks.push(bytes.slice(from));
        expect(cut(chunks).bodies).toEqual(bodies);
      }),
    );
  });

  it("never takes a line with one flipped bit for another line", () => {
    fc.assert(
      fc.property(body, fc.nat(), fc.integer({ min: 0, max: 7 }), (one, at, bit) => {
        const bytes = encodeLine(one);
        const place = at % (bytes.length - 1);
        bytes[place] = (bytes[place] as number) ^ (1 << bit);
        for (const taken of cut([bytes]).bodies) expect(taken).toBe(one);
        expect(cut([bytes]).counts.good).toBe(0);
      }),
    );
  });

  it("recovers after an overlong line and counts it", () => {
    const long = asciiBytes(`${"x".repeat(300)}\n`);
    const { bodies, counts } = cut([long, encodeLine("ask,1")]);
    expect(bodies).toEqual(["ask,1"]);
    expect(counts).toEqual({ good: 1, tooLong: 1, badByte: 0, badCrc: 0 });
  });

  it("takes 240 bytes with the LF and one CR before it, and not 241", () => {
    const longest = "x".repeat(230);
    expect(encodeLine(longest).length).toBe(240);
    expect(() => encodeLine(`${longest}x`)).toThrow("241 bytes");
    const withCr = asciiBytes(`${closeLine(longest)}\r\n`);
    expect(cut([withCr]).bodies).toEqual([longest]);
    expect(cut([asciiBytes(`${closeLine(`${longest}x`)}\n`)]).counts.tooLong).toBe(1);
  });

  it("drops a control character even under a right CRC", () => {
    const { bodies, counts } = cut([asciiBytes(`${closeLine("ask,\t1")}\n`)]);
    expect(bodies).toEqual([]);
    expect(counts.badByte).toBe(1);
  });
});

describe("parsers", () => {
  it("never throw, whatever the body", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("rev", "pick", "vac", "state", "ok", "no", "hello", "speed", "alive", ""),
        fc.string({ unit: "binary-ascii" }),
        (type, rest) => {
          const bytes = asciiBytes(`${type},${rest}`.replace(/[^\x20-\x7e]/g, "?"));
          expect(parseRigLine(bytes)).toHaveProperty("type");
          expect(parseHostLine(bytes)).toHaveProperty("type");
        },
      ),
    );
  });

  it("read back every rev line as it was written, and ignore fields behind it", () => {
    const whole = fc.integer({ min: 0, max: 4294967295 });
    const ticks = fc.integer({ min: 1, max: 4294967295 });
    const events = fc.array(fc.tuple(fc.constantFrom<"a" | "b">("a", "b"), whole), {
      maxLength: 12,
    });
    fc.assert(
      fc.property(
        whole,
        whole,
        whole,
        ticks,
        ticks,
        events,
        (sequence, index, before, during, after, pairs) => {
          const line: RevPart = {
            type: "rev",
            sequence,
            indexTick: index,
            beforeTicks: before,
            duringTicks: during,
            afterTicks: after,
            lost: pairs.length > 6,
            every: 1,
            part: 1,
            parts: 2,
            eventEdges: pairs.map(([edge]) => edge),
            eventTicks: pairs.map(([, tick]) => tick),
          };
          expect(parseRigLine(asciiBytes(formatRigLine(line)))).toEqual(line);
          expect(parseRigLine(asciiBytes(`${formatRigLine(line)},new,fields`))).toEqual(line);
        },
      ),
    );
  });

  it.each([
    "rev,1,2,3,4,5,0,1,1,1",
    "rev,1,2,3,4,5,2,1,1,1,",
    "rev,1,2,3,0,5,0,1,1,1,",
    "rev,1,2,3,4,5,0,1,2,1,",
    "rev,1,2,3,4,5,0,1,1,1,a01",
    "rev,1,2,3,4,5,0,1,1,1,c7",
    "rev,01,2,3,4,5,0,1,1,1,",
    "rev,4294967296,2,3,4,5,0,1,1,1,",
    "vac,1,2,-3,0,vent",
    "vac,1,2,3,1001,vent",
    "vac,1,2,3,0,shut",
    "state,1,2,3.25,0,cw,0,1,0,none",
    "no,1,because",
    "hello,0,1,a board,1,1000000,50,1,361,cw,60,4500,0,90000,guard,0",
  ])("call %s malformed", (text) => {
    expect(parseRigLine(asciiBytes(text))).toEqual({ type: "malformed" });
  });
});

describe("RigLineReader", () => {
  it("keeps nothing of the line before, be it longer, shorter or malformed", () => {
    const reader = new RigLineReader();
    const rev = "rev,1,100,0,60000,60000,0,1,1,1,";
    const bodies = [
      `${rev}a10b20a30b40`,
      `${rev}a11`,
      `${rev}a10b20c30`,
      rev,
      `${rev}b12a22`,
      "pick,1,1,1,10,20,30",
      "pick,1,1,1,10",
      "pick,1,1,1,10,x",
      "pick,1,1,1,10,20",
    ];
    for (const body of bodies) {
      const bytes = asciiBytes(body);
      expect(reader.read(bytes, 0, bytes.length)).toEqual(parseRigLine(bytes));
    }
  });
});
