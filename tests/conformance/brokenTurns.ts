// Stand-ins that tell their turns wrongly (firmware-protocol.md, 3.2 and 3.3).
import { type Broken, everySo, fields, set, WRAP } from "./changedLines.ts";

export const BROKEN_TURNS: readonly Broken[] = [
  {
    what: "turns left out silently",
    clauses: ["3.2.5"],
    flaw: {
      rig: { pickupEdges: 1 },
      out: fields("rev", (given, i) => (given[2] !== "0" && everySo(20, i) ? null : given)),
    },
  },
  {
    what: "EVERY always 2",
    clauses: ["3.2.5"],
    flaw: { out: set("rev", 6, "2") },
  },
  {
    what: "BEFORE a tick too long",
    clauses: ["3.2", "3.2.6"],
    flaw: { out: fields("rev", (given) => given.with(2, String(Number(given[2]) + 1))) },
  },
  {
    what: "AFTER a tick too long",
    clauses: ["3.2"],
    flaw: { out: fields("rev", (given) => given.with(4, String(Number(given[4]) + 1))) },
  },
  {
    what: "INDEX a tick late in every tenth turn",
    clauses: ["3.2.6"],
    flaw: {
      out: fields("rev", (given, i) =>
        everySo(10, i) ? given.with(1, String((Number(given[1]) + 1) % WRAP)) : given,
      ),
    },
  },
  {
    what: "turns told before they are over",
    clauses: ["3.2", "6.5", "6.6"],
    flaw: { out: fields("rev", (given) => given.with(1, String((Number(given[1]) + 2e6) % WRAP))) },
  },
  {
    what: "events out of order",
    clauses: ["3.2"],
    flaw: {
      out: fields("rev", (given) =>
        given.with(9, (given[9] as string).replace(/([ab]\d+)([ab]\d+)/, "$2$1")),
      ),
    },
  },
  {
    what: "an event after its turn",
    clauses: ["3.2.1"],
    flaw: { out: fields("rev", (given) => given.with(9, `${given[9]}a${given[3]}`)) },
  },
  {
    what: "edges by other letters",
    clauses: ["3.2.1"],
    flaw: { out: fields("rev", (given, i) => (everySo(10, i) ? given.with(9, "a12c40") : given)) },
  },
  {
    what: "parts of a turn in the wrong order",
    clauses: ["3.2.3"],
    flaw: {
      unit: { lobes: 12 },
      rig: { tickHz: 50_000_000 },
      out: () => {
        let first: string | null = null;
        return (body) => {
          const [type, part, parts] = body
            .split(",")
            .filter((_, i) => i === 0 || i === 8 || i === 9);
          if (type !== "rev" || parts === "1") return [body];
          if (part === "1") {
            first = body;
            return [];
          }
          return [body, first as string];
        };
      },
    },
  },
  {
    what: "a turn's sequence that does not count those that are not told",
    clauses: ["3.2.4"],
    flaw: {
      out: () => {
        let sequence = 0;
        let last = "";
        return (body) => {
          const [type, told, ...rest] = body.split(",");
          if (type !== "rev" && type !== "pick") return [body];
          if (told !== last) sequence++;
          last = told as string;
          return [[type, sequence, ...rest].join(",")];
        };
      },
    },
  },
  {
    what: "differences that do not add up",
    clauses: ["3.3"],
    flaw: { out: fields("pick", (given) => given.with(3, String(Number(given[3]) + 1))) },
  },
  {
    what: "an edge left out",
    clauses: ["3.3"],
    flaw: {
      out: fields("pick", (given) =>
        given[1] === "1"
          ? given.slice(0, -2).concat(String(Number(given.at(-1)) + Number(given.at(-2))))
          : given,
      ),
    },
  },
  {
    what: "no pick lines",
    clauses: ["3.3"],
    flaw: { out: fields("pick", () => null) },
  },
  {
    what: "pick lines with the index only",
    clauses: ["3.3"],
    flaw: { rig: { pickupEdges: 4 }, out: set("hello", 7, "1") },
  },
  {
    what: "pick lines for a turn with LOST 1",
    clauses: ["3.3"],
    flaw: { out: set("rev", 5, "1") },
  },
  {
    what: "AFTER a tick too long on a slow link",
    clauses: ["3.2"],
    alone: true,
    flaw: {
      rig: { linkBytesPerS: 4000 },
      out: fields("rev", (given) => given.with(4, String(Number(given[4]) + 1))),
    },
  },
  {
    what: "turns that count down",
    clauses: ["2.2", "3.2.5"],
    flaw: {
      out: () => (body) => {
        const [type, sequence, ...rest] = body.split(",");
        const isTurn = type === "rev" || type === "pick";
        return [isTurn ? [type, WRAP - 1 - Number(sequence), ...rest].join() : body];
      },
    },
  },
];
