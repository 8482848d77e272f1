// Every field of every line at the edges of its form, as firmware-protocol.md parts 1, 3 and 4 give it.
import { describe, expect, it } from "vitest";
import { asciiBytes } from "../../core/codec/framing.ts";
import { formatHostLine, parseHostLine } from "../../core/codec/hostLines.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import { formatRigLine, type Hello, type RigLine } from "../../core/codec/rigLines.ts";

const rig = (body: string) => parseRigLine(asciiBytes(body));
const host = (body: string) => parseHostLine(asciiBytes(body));

/** The line with one field, counted from the type word, in another form. */
function changed(body: string, field: number, to: string): string {
  const fields = body.split(",");
  fields[field] = to;
  return fields.join(",");
}

/** No whole numbers by clause 1.7. */
const NOT_WHOLE = [
  "",
  "-1",
  "+1",
  "01",
  "1.0",
  "1e3",
  " 1",
  "1 ",
  "4294967296",
  "99999999999",
  "a",
];
/** No speeds by clause 1.7, nor with more than seven digits before the stop. */
const NOT_SPEED = [
  ...["", "-1", "+1", "01", "1.25", ".5", "1.", "1e3", " 1", "1 ", "a", "1.a", "1./", "1.:"],
  ...["12345678", "12345678.5", "1:", "/", "00", "01.5"],
];

interface Form {
  readonly body: string;
  readonly message: RigLine;
  /** Fields by their place, each with what it may not be. */
  readonly not: Readonly<Record<number, readonly string[]>>;
  /** Fields by their place, each with further things that it may be. */
  readonly also: Readonly<Record<number, readonly string[]>>;
}

const HELLO: Hello = {
  type: "hello",
  ask: 7,
  version: 1,
  board: "Bench rig-1_a.b",
  boot: 12,
  tickHz: 2_000_000,
  tickPpm: 50,
  indexesPerTurn: 1,
  edgesPerTurn: 36,
  directions: ["cw", "ccw"],
  speedMinRpm: 60,
  speedMaxRpm: 4500.5,
  vacuumMinPa: 10,
  vacuumMaxPa: 90_000,
  guardInput: true,
  stopInput: true,
  ambientPa: 101_325,
};

const FORMS: readonly Form[] = [
  {
    body: "hello,7,1,Bench rig-1_a.b,12,2000000,50,1,36,cw+ccw,60,4500.5,10,90000,guard+stop,101325",
    message: HELLO,
    not: {
      1: NOT_WHOLE,
      2: NOT_WHOLE,
      3: ["", "a/b", "rig!", "!rig", "é", "x".repeat(41)],
      4: NOT_WHOLE,
      5: [...NOT_WHOLE, "99999", "100000001"],
      6: NOT_WHOLE,
      7: [...NOT_WHOLE, "0"],
      8: [...NOT_WHOLE, "0", "361"],
      9: ["", "CW", "ccw+cw", "none", "constructor", "__proto__", "toString"],
      10: [...NOT_SPEED, "4500.5", "4600"],
      11: [...NOT_SPEED, "60", "59.9"],
      12: [...NOT_WHOLE, "90001"],
      13: [...NOT_WHOLE, "9"],
      14: ["", "stop+guard", "both", "constructor", "__proto__", "toString"],
      15: NOT_WHOLE,
    },
    also: {
      1: ["0", "4294967295"],
      3: ["x", "x".repeat(40), "0", "Z", "z", "9", "A"],
      5: ["100000", "100000000"],
      7: ["2"],
      8: ["1", "360"],
      10: ["4500.4", "0"],
      11: ["60.1", "9999999.9"],
      12: ["90000", "0"],
      15: ["0"],
    },
  },
  {
    body: "rev,5,100,60000,60001,60002,0,1,2,3,a0b25000",
    message: {
      type: "rev",
      sequence: 5,
      indexTick: 100,
      beforeTicks: 60_000,
      duringTicks: 60_001,
      afterTicks: 60_002,
      lost: false,
      every: 1,
      part: 2,
      parts: 3,
      eventEdges: ["a", "b"],
      eventTicks: [0, 25_000],
    },
    not: {
      1: NOT_WHOLE,
      2: NOT_WHOLE,
      3: NOT_WHOLE,
      4: [...NOT_WHOLE, "0"],
      5: [...NOT_WHOLE, "0"],
      6: [...NOT_WHOLE, "2"],
      7: [...NOT_WHOLE, "0"],
      8: [...NOT_WHOLE, "0", "4"],
      9: [...NOT_WHOLE, "0", "1"],
      10: ["a", "0", "b01", "a1c2", "A1", "a1b", "a-1", "a4294967296", "a1 b2", "a1.5", "`1"],
    },
    also: {
      3: ["0"],
      4: ["1"],
      5: ["1"],
      6: ["1"],
      7: ["9"],
      8: ["1", "3"],
      9: ["2"],
      10: ["", "b4294967295", "a9b99a999", "b0"],
    },
  },
  {
    body: "pick,5,1,2,100,0,4294967295",
    message: {
      type: "pick",
      sequence: 5,
      part: 1,
      parts: 2,
      differenceTicks: [100, 0, 4_294_967_295],
    },
    not: {
      1: NOT_WHOLE,
      2: [...NOT_WHOLE, "0", "3"],
      3: [...NOT_WHOLE, "0"],
      4: NOT_WHOLE,
      5: NOT_WHOLE,
      6: NOT_WHOLE,
    },
    also: {
      2: ["2"],
      4: ["0", "9", "999999999", "1234567890", "90", "109"],
      5: ["999999999", "1000000000", "19"],
      6: ["0", "9", "19"],
    },
  },
  {
    body: "vac,5,100,35000,999,hold",
    message: {
      type: "vac",
      sequence: 5,
      tick: 100,
      vacuumPa: 35_000,
      pumpPermille: 999,
      valve: "hold",
    },
    not: {
      1: NOT_WHOLE,
      2: NOT_WHOLE,
      3: NOT_WHOLE,
      4: [...NOT_WHOLE, "1001"],
      5: ["", "shut", "Vent"],
    },
    also: { 3: ["0"], 4: ["0", "1000"], 5: ["vent", "control"] },
  },
  {
    body: "state,5,100,600,599.5,cw,1,1,1,none",
    message: {
      type: "state",
      sequence: 5,
      tick: 100,
      setRpm: 600,
      nowRpm: 599.5,
      direction: "cw",
      armed: true,
      guardShut: true,
      stopPressed: true,
      fault: "none",
    },
    not: {
      1: NOT_WHOLE,
      2: NOT_WHOLE,
      3: NOT_SPEED,
      4: NOT_SPEED,
      5: ["", "CW", "both"],
      6: [...NOT_WHOLE, "2"],
      7: [...NOT_WHOLE, "2"],
      8: [...NOT_WHOLE, "2"],
      9: ["", "None", "door"],
    },
    also: {
      3: ["0", "0.1", "9999999", "0.9", "9", "10"],
      4: ["0", "0.9", "1234567.8"],
      5: ["ccw", "none"],
      6: ["0"],
      7: ["0"],
      8: ["0"],
      9: ["alive", "guard", "stop-input", "overspeed", "stall", "sensor"],
    },
  },
  {
    body: "ok,5",
    message: { type: "ok", number: 5, token: null },
    not: { 1: NOT_WHOLE },
    also: { 1: ["0", "4294967295"] },
  },
  {
    body: "no,5,range",
    message: { type: "no", number: 5, reason: "range" },
    not: { 1: NOT_WHOLE, 2: ["", "because", "Range"] },
    also: {
      2: [
        ...["old-number", "fields", "guard-open", "stop-input", "latched", "not-armed"],
        ...["bad-token", "direction", "turning", "no-sensor"],
      ],
    },
  },
];

describe.each(FORMS)("$body", ({ body, message, not, also }) => {
  it("says what it says, and is written so", () => {
    expect(rig(body)).toEqual(message);
    expect(formatRigLine(message)).toBe(body);
  });

  const wrong = Object.entries(not).flatMap(([field, texts]) =>
    texts.map((text) => changed(body, Number(field), text)),
  );
  it.each(wrong)("is malformed as %s", (text) => {
    // A letter outside ASCII comes as a byte that no text has.
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(parseRigLine(bytes)).toEqual({ type: "malformed" });
  });

  const right = Object.entries(also).flatMap(([field, texts]) =>
    texts.map((text) => changed(body, Number(field), text)),
  );
  it.each(right)("may be %s, which is written again alike", (text) => {
    const line = rig(text);
    if (line.type === "malformed" || line.type === "unknown") expect.unreachable(text);
    else expect(formatRigLine(line)).toBe(text);
  });

  it("is malformed where its last fields are missing", () => {
    const fields = body.split(",");
    for (let count = 1; count < fields.length; count++) {
      // `pick` has as many differences as its part holds.
      const isWhole = body.startsWith("pick") && count > 4;
      const { type } = rig(fields.slice(0, count).join(","));
      expect(type).toBe(isWhole ? "pick" : "malformed");
    }
  });
});

describe("words of a rig's lines", () => {
  it.each<[string, Partial<Hello>]>([
    ["none", { guardInput: false, stopInput: false }],
    ["guard", { guardInput: true, stopInput: false }],
    ["stop", { guardInput: false, stopInput: true }],
    ["guard+stop", { guardInput: true, stopInput: true }],
  ])("the inputs %s are read and written", (word, inputs) => {
    const body = changed(FORMS[0]?.body ?? "", 14, word);
    expect(rig(body)).toEqual({ ...HELLO, ...inputs });
    expect(formatRigLine({ ...HELLO, ...inputs })).toBe(body);
  });

  it.each<[string, Hello["directions"]]>([
    ["cw", ["cw"]],
    ["ccw", ["ccw"]],
    ["cw+ccw", ["cw", "ccw"]],
  ])("the directions %s are read and written", (word, directions) => {
    const body = changed(FORMS[0]?.body ?? "", 9, word);
    expect(rig(body)).toEqual({ ...HELLO, directions });
    expect(formatRigLine({ ...HELLO, directions })).toBe(body);
  });

  it.each([
    ["state,1,2,0,0,none,1,0,0,guard", { armed: true, guardShut: false, stopPressed: false }],
    ["state,1,2,0,0,none,0,1,0,guard", { armed: false, guardShut: true, stopPressed: false }],
    ["state,1,2,0,0,none,0,0,1,guard", { armed: false, guardShut: false, stopPressed: true }],
  ])("the flags of %s are each their own", (body, flags) => {
    expect(rig(body)).toMatchObject(flags);
  });

  it("are of an unknown type where clause 1.5 says so", () => {
    for (const body of ["", "news,1", "REV,1", "revs,1", "vacuum,1", "picks", "hell"]) {
      expect(rig(body)).toEqual({ type: "unknown" });
    }
  });

  it("have a token only of eight upper-case hexadecimal digits", () => {
    expect(rig("ok,9,0A1B2C3D")).toEqual({ type: "ok", number: 9, token: "0A1B2C3D" });
    expect(formatRigLine({ type: "ok", number: 9, token: "0A1B2C3D" })).toBe("ok,9,0A1B2C3D");
    for (const token of ["0A1B2C3", "0A1B2C3D4", "0a1b2c3d", "0A1B2C3G", "x0A1B2C3D", ""]) {
      expect(rig(`ok,9,${token}`)).toEqual({ type: "ok", number: 9, token: null });
    }
  });

  it("take 360 differences in a line and not one more", () => {
    const some = (count: number) => `pick,1,1,1${",7".repeat(count)}`;
    expect(rig(some(360))).toMatchObject({ differenceTicks: new Array(360).fill(7) });
    expect(rig(some(361))).toEqual({ type: "malformed" });
    expect(rig(some(362))).toEqual({ type: "malformed" });
  });
});

describe("commands of the host", () => {
  const TOKEN = "0A1B2C3D";

  it.each([
    ["ask,1", { type: "ask", number: 1 }],
    ["arm,2", { type: "arm", number: 2 }],
    ["vent,3", { type: "vent", number: 3 }],
    ["stop,4294967295", { type: "stop", number: 4_294_967_295 }],
    [`hold,5,${TOKEN}`, { type: "hold", number: 5, token: TOKEN }],
    [`vacuum,6,${TOKEN},35000`, { type: "vacuum", number: 6, token: TOKEN, vacuumPa: 35_000 }],
    [`vacuum,6,${TOKEN},0`, { type: "vacuum", number: 6, token: TOKEN, vacuumPa: 0 }],
    [
      `speed,7,${TOKEN},cw,547.5,100`,
      {
        type: "speed",
        number: 7,
        token: TOKEN,
        direction: "cw",
        speedRpm: 547.5,
        rampRpmPerS: 100,
      },
    ],
    [
      `speed,8,${TOKEN},ccw,0,0.5`,
      { type: "speed", number: 8, token: TOKEN, direction: "ccw", speedRpm: 0, rampRpmPerS: 0.5 },
    ],
    [`alive,${TOKEN}`, { type: "alive", token: TOKEN }],
  ] as const)("%s is read and written", (body, line) => {
    expect(host(body)).toEqual(line);
    expect(formatHostLine(line)).toBe(body);
  });

  // Clause 1.6: a numbered command whose number can still be read is refused with reason `fields`.
  it.each([
    "hold,5",
    "hold,5,",
    "hold,5,0a1b2c3d",
    `vacuum,5,${TOKEN}`,
    `vacuum,5,${TOKEN},-1`,
    `vacuum,5,${TOKEN},1.5`,
    "vacuum,5,0A1B2C3,100",
    `speed,5,${TOKEN},up,100,100`,
    `speed,5,${TOKEN},,100,100`,
    `speed,5,${TOKEN},cw,1.25,100`,
    `speed,5,${TOKEN},cw,100,1.25`,
    `speed,5,${TOKEN},cw,100`,
    `speed,5,${TOKEN},cw`,
    `speed,5,x${TOKEN},cw,100,100`,
    `speed,5,${TOKEN}0,cw,100,100`,
  ])("%s has a number and wrong fields", (body) => {
    expect(host(body)).toEqual({ type: "fields", number: 5 });
  });

  it.each([
    ...["ask", "ask,", "ask,0", "ask,-1", "ask,x", "stop,01", "speed,0,0A1B2C3D,cw,1,1"],
    ...["alive", "alive,", "alive,0a1b2c3d", "alive,0A1B2C3D0", "alive,x0A1B2C3D"],
  ])("%s is malformed", (body) => {
    expect(host(body)).toEqual({ type: "malformed" });
  });

  it.each(["", "go,1", "ASK,1", "rev,1"])("%j is of an unknown type", (body) => {
    expect(host(body)).toEqual({ type: "unknown" });
  });

  it("are read out of the middle of what surrounds them", () => {
    const bytes = asciiBytes("9,ask,12,7");
    expect(parseHostLine(bytes, 2, 8)).toEqual({ type: "ask", number: 12 });
    expect(parseHostLine(bytes, 2, 7)).toEqual({ type: "ask", number: 1 });
  });

  it("write speeds with one digit after the stop", () => {
    const speed = { type: "speed", number: 1, token: TOKEN, direction: "cw" } as const;
    expect(formatHostLine({ ...speed, speedRpm: 547.46, rampRpmPerS: 99.96 })).toBe(
      `speed,1,${TOKEN},cw,547.5,100`,
    );
  });
});
