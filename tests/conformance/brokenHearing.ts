// Stand-ins that take what they must drop, or drop what they must take (firmware-protocol.md, part 1 and 4.8).
import { asciiText, closeLine, encodeLine } from "../../core/codec/framing.ts";
import { insides } from "./changedBoards.ts";
import { type Broken, bodyOf, heard, numberOf } from "./changedLines.ts";
import type { Flaw } from "./standIn.ts";

export const BROKEN_HEARING: readonly Broken[] = [
  {
    what: "a CRC that is not looked at",
    clauses: ["1.3"],
    flaw: {
      in: heard((line) =>
        /\*[0-9A-F]{8}$/.test(line) && line.length < 240 && /^[ -~]*$/.test(line)
          ? closeLine(bodyOf(line))
          : line,
      ),
    },
  },
  {
    what: "a CRC taken in lower case",
    clauses: ["1.2"],
    flaw: { in: heard((line) => line.replace(/\*[0-9a-f]{8}$/, (crc) => crc.toUpperCase())) },
  },
  {
    what: "a line of 241 bytes taken",
    clauses: ["1.1"],
    flaw: {
      in: heard((line) => (line.length === 240 ? closeLine(`vent,${numberOf(line)}`) : line)),
    },
  },
  {
    what: "a line of 240 bytes dropped",
    clauses: ["1.1"],
    flaw: { in: heard((line) => (line.length === 239 ? null : line)) },
  },
  ...[
    ["a byte above 0x7F", "\xe9"],
    ["byte 0x7F", "\x7f"],
    ["a control byte", "\x07"],
  ].map(([what, letter]) => ({
    what: `a line with ${what} taken`,
    clauses: ["1.4"],
    flaw: {
      in: heard((line) =>
        line.includes(letter as string) ? closeLine(`vent,${numberOf(line)}`) : line,
      ),
    },
  })),
  {
    what: "a CR not dropped",
    clauses: ["1.4"],
    flaw: { in: heard((line) => (line.endsWith("\r") ? null : line)) },
  },
  {
    what: "every CR dropped",
    clauses: ["1.4"],
    flaw: { in: heard((line) => line.replaceAll("\r", "")) },
  },
  {
    what: "an answer to a line of unknown type",
    clauses: ["1.5"],
    flaw: {
      in: heard((line, say) => {
        if (line.startsWith("sing,")) say(`no,${numberOf(line)},fields`);
        return line;
      }),
    },
  },
  {
    what: "further fields refused",
    clauses: ["1.1", "1.5"],
    flaw: {
      in: heard((line, say) => {
        if (!/^vent,\d+,/.test(line) || line.length >= 240 || !/^[ -~]*$/.test(line)) return line;
        say(`no,${numberOf(line)},fields`);
        return null;
      }),
    },
  },
  {
    what: "a number with a leading zero taken",
    clauses: ["1.7"],
    flaw: {
      in: heard((line) =>
        /^vent,0/.test(line) ? closeLine(bodyOf(line).replace(",0", ",")) : line,
      ),
    },
  },
  {
    what: "a command without number answered",
    clauses: ["1.6"],
    flaw: {
      in: heard((line, say) => {
        if (line.startsWith("vent*")) say("no,1,fields");
        return line;
      }),
    },
  },
  {
    what: "alive answered",
    clauses: ["3.6", "4.1"],
    flaw: {
      in: ({ receive }, say) => {
        let count = 0;
        return (bytes) => {
          if (asciiText(bytes).startsWith("alive,") && count++ > 5) say("ok,1");
          receive(bytes);
        };
      },
    },
  },
  {
    what: "alive taken with any token",
    clauses: ["4.8"],
    flaw: {
      in:
        ({ receive, board }) =>
        (bytes) => {
          const token = insides(board()).token;
          const isAlive = asciiText(bytes).startsWith("alive,") && token !== null;
          receive(isAlive ? encodeLine(`alive,${token}`) : bytes);
        },
    },
  },
  ...[
    ["an asterisk", /^vent,\d+$/],
    ["eight digits", /^vent,\d+\*[0-9A-F]{7}$/],
  ].map(([what, form]) => ({
    what: `a line without ${what} taken`,
    clauses: ["1.4"],
    flaw: {
      in: heard((line) =>
        (form as RegExp).test(line) ? closeLine(line.split("*")[0] as string) : line,
      ),
    },
  })),
  ...[
    ["a sign", /^vent,\+/],
    ["a blank", /^vent, /],
    ["a full stop", /^vent,\d+\.0/],
    ["33 bits", /^vent,4294967296/],
  ].map(([what, form]) => ({
    what: `an answer to a number with ${what}`,
    clauses: ["1.7"],
    flaw: {
      in: heard((line, say) => {
        if ((form as RegExp).test(line)) say("no,1,fields");
        return line;
      }),
    },
  })),
  {
    what: "numbers of 31 bits",
    clauses: ["1.7", "4.6"],
    flaw: { in: heard((line) => (line.startsWith("vent,4294967295") ? null : line)) },
  },
  {
    what: "a line of 1000 bytes taken",
    clauses: ["1.1"],
    flaw: {
      in: heard((line) => (line.length > 900 ? closeLine(`vent,${numberOf(line)}`) : line)),
    },
  },
  {
    what: "lines taken in one piece only",
    clauses: ["1.1"],
    flaw: {
      in:
        ({ receive }) =>
        (bytes) => {
          if (bytes.at(-1) === 10) receive(bytes);
        },
    },
  },
  {
    what: "the number of a dropped line used up",
    clauses: ["1.4"],
    flaw: {
      in: (rig, say) => {
        const used = new Set<string>();
        return heard((line) => {
          const number = numberOf(line) as string;
          if (/^vent,\d+\*/.test(line) && closeLine(bodyOf(line)) !== line) used.add(number);
          else if (used.has(number)) {
            say(`no,${number},old-number`);
            return null;
          }
          return line;
        })(rig, say);
      },
    },
  },
  {
    what: "a line lost after an empty one",
    clauses: ["1.4"],
    flaw: { in: losesAfter((line) => line === "") },
  },
  {
    what: "a line lost after a refused one",
    clauses: ["1.4"],
    flaw: { in: losesAfter((line) => line.includes(",abcdef01")) },
  },
  {
    what: "a repeat not answered",
    clauses: ["4.5"],
    flaw: {
      in: (rig, say) => {
        let last = "";
        return heard((line) => {
          const isRepeat = line === last && !line.startsWith("alive,") && !line.startsWith("ask,");
          last = line;
          return isRepeat ? null : line;
        })(rig, say);
      },
    },
  },
  {
    what: "alive not taken at all",
    clauses: ["4.1", "6.1"],
    flaw: { in: heard((line) => (line.startsWith("alive,") ? null : line)) },
  },
  {
    what: "alive that arms again",
    clauses: ["4.5", "6.3"],
    flaw: {
      in:
        ({ receive, board }) =>
        (bytes) => {
          const [, token] = /^alive,([0-9A-F]{8})/.exec(asciiText(bytes)) ?? [];
          if (token !== undefined) insides(board()).token ??= token;
          receive(bytes);
        },
    },
  },
];

/** Loses the line that comes after one of these, once for each. */
function losesAfter(isSuch: (line: string) => boolean): NonNullable<Flaw["in"]> {
  let isLost = false;
  return heard((line) => {
    const loses = isLost && !isSuch(line) && line !== "\r";
    isLost = isSuch(line) || (isLost && line === "\r");
    return loses ? null : line;
  });
}
