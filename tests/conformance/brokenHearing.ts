// Stand-ins that take what they must drop, or drop what they must take (firmware-protocol.md, part 1 and 4.8).
import { asciiText, closeLine, encodeLine } from "../../core/codec/framing.ts";
import { insides } from "./changedBoards.ts";
import { type Broken, bodyOf, heard, numberOf } from "./changedLines.ts";

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
  {
    what: "bytes beyond ASCII taken",
    clauses: ["1.4"],
    flaw: {
      in: heard((line) => (line.includes("\xe9") ? closeLine(`vent,${numberOf(line)}`) : line)),
    },
  },
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
];
