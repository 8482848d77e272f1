// Stand-ins that say something wrong, turns apart: form, counters, hello, vac and state lines, answers.
import { asciiBytes, asciiText, closeLine } from "../../core/codec/framing.ts";
import {
  type Broken,
  bodyOf,
  changedTicks,
  everySo,
  fields,
  rarer,
  set,
  vacNowAndThen,
  WRAP,
} from "./changedLines.ts";

export const BROKEN_REPORTS: readonly Broken[] = [
  {
    what: "the same CRC in every line",
    clauses: ["1.3"],
    flaw: {
      outBytes: (_, pass) => (bytes) =>
        pass(asciiBytes(asciiText(bytes).replace(/\*[0-9A-F]{8}\n/g, "*00000000\n"))),
    },
  },
  {
    what: "a wrong CRC now and then",
    clauses: ["1.3"],
    flaw: {
      outBytes: vacNowAndThen((line) => line.replace(/.$/, (last) => (last === "0" ? "1" : "0"))),
    },
  },
  {
    what: "a CRC in lower case",
    clauses: ["1.2"],
    flaw: {
      outBytes: vacNowAndThen(
        (line) => bodyOf(line) + line.slice(line.lastIndexOf("*")).toLowerCase(),
      ),
    },
  },
  {
    what: "lines that end with CR and LF",
    clauses: ["1.1"],
    flaw: { outBytes: vacNowAndThen((line) => `${line}\r`) },
  },
  {
    what: "lines that are too long",
    clauses: ["1.1"],
    flaw: {
      outBytes: vacNowAndThen((line) => closeLine(`${bodyOf(line)},${"0".repeat(240)}`)),
    },
  },
  {
    what: "a counter that goes on beyond 32 bits",
    clauses: ["2.1"],
    flaw: {
      rig: { firstTick: WRAP - 20e6 },
      out: changedTicks((tick) => tick + (tick < 1e9 ? WRAP : 0)),
    },
  },
  {
    what: "a counter of 31 bits",
    clauses: ["2.1"],
    flaw: { rig: { firstTick: WRAP / 2 - 20e6 }, out: changedTicks((tick) => tick % (WRAP / 2)) },
  },
  {
    what: "a counter that stays at its end",
    clauses: ["2.1", "3.1", "3.2", "3.2.6", "6.6"],
    flaw: {
      rig: { firstTick: WRAP - 20e6 },
      out: changedTicks((tick) => (tick < 1e9 ? WRAP - 1 : tick)),
    },
  },
  {
    what: "state lines left out silently",
    clauses: ["2.2", "3.5"],
    flaw: { out: fields("state", (given, i) => (everySo(100, i) ? null : given)) },
  },
  {
    what: "a sequence of vac lines that stands still",
    clauses: ["2.2"],
    flaw: { out: set("vac", 0, "7") },
  },
  ...[
    ["VERSION 2", 1, "2"],
    ["a board's name with a slash", 2, "rig/1"],
    ["a clock that is too slow", 4, "99999"],
    ["two indexes a turn", 6, "2"],
    ["no edges", 7, "0"],
    ["a direction of its own", 8, "both"],
    ["a speed with two decimals", 9, "50.25"],
    ["MAXRPM below MINRPM", 10, "40"],
    ["inputs of its own", 13, "all"],
    ["no ambient pressure", 14, ""],
    ["ASK always 0", 0, "0"],
  ].map(([what, at, text]) => ({
    what: `hello with ${what}`,
    clauses: ["3.1"],
    flaw: { out: set("hello", at as number, text as string) },
  })),
  {
    what: "TICKHZ two per cent off",
    clauses: ["3.1"],
    flaw: { out: set("hello", 4, "1020000") },
  },
  {
    what: "another BOOT in each hello",
    clauses: ["3.1"],
    flaw: { out: fields("hello", (given, i) => given.with(3, String(i))) },
  },
  {
    what: "no hello after boot",
    clauses: ["2.1", "2.2", "3.1", "3.2"],
    flaw: { out: fields("hello", (given, i) => (i > 0 && given[0] === "0" ? null : given)) },
  },
  {
    what: "seventeen vac lines a second",
    clauses: ["3.4"],
    flaw: { out: rarer("vac", (count) => count % 3 > 0, 9) },
  },
  {
    what: "a pump beyond its full drive",
    clauses: ["3.4"],
    flaw: { out: fields("vac", (given, i) => (everySo(50, i) ? given.with(3, "1001") : given)) },
  },
  {
    what: "vac lines without a sensor",
    clauses: ["3.4", "5.10"],
    flaw: { out: set("hello", 12, "0") },
  },
  {
    what: "eight state lines a second",
    clauses: ["3.5"],
    flaw: { out: rarer("state", (count) => count % 5 > 0, 5) },
  },
  {
    what: "NOWRPM a tenth too high",
    clauses: ["3.5", "4.1"],
    flaw: {
      out: fields("state", (given) =>
        given.with(3, (Number(given[3]) * 1.1).toFixed(1).replace(".0", "")),
      ),
    },
  },
  {
    what: "DIRECTION always cw",
    clauses: ["3.5"],
    flaw: { out: fields("state", (given) => given.with(4, "cw")) },
  },
  {
    what: "a fault of its own",
    clauses: ["3.5"],
    flaw: { out: fields("state", (given, i) => (everySo(50, i) ? given.with(8, "tired") : given)) },
  },
  {
    what: "a guard open where none is wired",
    clauses: ["3.5"],
    flaw: {
      rig: { inputs: "stop" },
      out: fields("state", (given, i) => (everySo(50, i) ? given.with(6, "0") : given)),
    },
  },
  {
    what: "answers 150 ms late",
    clauses: ["3.6"],
    flaw: {
      outBytes:
        ({ scheduler }, pass) =>
        (bytes) => {
          for (const line of asciiText(bytes).split("\n").slice(0, -1)) {
            const isAnswer = /^(ok|no|hello,[1-9]\d*),/.test(line);
            const say = () => pass(asciiBytes(`${line}\n`));
            if (isAnswer) scheduler.after(150, say);
            else say();
          }
        },
    },
  },
  {
    what: "answers that come twice",
    clauses: ["3.6"],
    flaw: { out: () => (body) => (body.startsWith("ok,") ? [body, body] : [body]) },
  },
  {
    what: "a token for everybody",
    clauses: ["3.6"],
    flaw: { out: () => (body) => [/^ok,\d+$/.test(body) ? `${body},00C0FFEE` : body] },
  },
  {
    what: "a refusal for a reason of its own",
    clauses: ["3.6"],
    flaw: {
      out: () => (body) => (body.endsWith(",turning") ? [body, "no,1,busy"] : [body]),
    },
  },
  {
    what: "tokens in small letters",
    clauses: ["4.3"],
    flaw: { out: fields("ok", (given) => given.map((text) => text.toLowerCase())) },
  },
  {
    what: "the same BOOT after a boot",
    clauses: ["3.1"],
    flaw: { out: set("hello", 3, "7") },
  },
  {
    what: "two hellos after a boot",
    clauses: ["3.1"],
    flaw: { out: () => (body) => (body.startsWith("hello,0,") ? [body, body] : [body]) },
  },
  {
    what: "a hello with a lowest vacuum and no range",
    clauses: ["3.1", "5.9"],
    flaw: {
      out: (rig) => (body) =>
        set("hello", 11, "30000")(rig)(set("hello", 12, "30000")(rig)(body)[0] as string),
    },
  },
  {
    what: "SETRPM that is the speed reached",
    clauses: ["3.5"],
    flaw: {
      out: fields("state", (given) => given.with(2, given[2] === "0" ? "0" : (given[3] as string))),
    },
  },
  {
    what: "an ask with a high number not answered",
    clauses: ["4.2"],
    flaw: { out: fields("hello", (given) => (given[0] === "5000" ? null : given)) },
  },
  {
    what: "an ask not answered after a boot",
    clauses: ["4.2"],
    flaw: {
      out: () => {
        let boots = 0;
        return (body) => {
          if (body.startsWith("hello,0,")) boots++;
          return boots > 1 && /^hello,[1-9]/.test(body) ? [] : [body];
        };
      },
    },
  },
  {
    what: "a SETRPM left from before",
    clauses: ["4.2", "6.3"],
    flaw: { out: fields("state", (given, i) => (i < 60 ? given.with(2, "10") : given)) },
  },
];
