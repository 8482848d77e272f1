// Stand-ins that mistake numbers, repeats and tokens (firmware-protocol.md, 4.2 to 4.6).
import { broken, does, instead, KEEPS_DRIVE, lets, settles } from "./changedBoards.ts";
import type { Broken } from "./changedLines.ts";

const NUMBERS: readonly Broken[] = [
  broken(
    "an ask refused for its number",
    ["4.2"],
    settles((line, own, number) =>
      line.type === "ask" && line.number < number ? `no,${line.number},old-number` : own(),
    ),
  ),
  broken(
    "an ask that is answered once",
    ["4.2"],
    settles((line, own, number) =>
      line.type === "ask" && line.number === number ? `no,${line.number},old-number` : own(),
    ),
  ),
  broken(
    "an old number done",
    ["4.4", "4.6", "5.1"],
    settles((line, own, number) => (line.number < number ? null : own())),
  ),
  broken(
    "the same number with other content done",
    ["4.5"],
    settles((line, own, number) => {
      const settled = own();
      return line.number === number && settled?.endsWith(",old-number") === true ? null : settled;
    }),
  ),
  broken(
    "a stop refused for its number",
    ["4.4"],
    settles((line, own, number) =>
      line.type === "stop" && line.number === number ? `no,${line.number},old-number` : own(),
    ),
  ),
  broken(
    "a repeat done a second time",
    ["4.5"],
    settles((line, own, number) => (line.number === number ? null : own())),
  ),
  broken(
    "a repeated arm that gives a new token",
    ["4.5"],
    settles((line, own, number) => (line.type === "arm" && line.number === number ? null : own())),
  ),
  broken(
    "fields looked at before the number",
    ["5.1"],
    settles((line, own) => (line.type === "fields" ? `no,${line.number},fields` : own())),
  ),
];

const REPEATS: readonly Broken[] = [
  broken(
    "an ask that leaves the last number as it was",
    ["4.2"],
    instead("commands", (own) => {
      const remember = own.remember.bind(own);
      own.remember = (number, text, answer) => {
        if (number > own.number) remember(number, text, answer);
      };
      return own;
    }),
  ),
  broken(
    "a refused number remembered as the last",
    ["4.5"],
    settles((line, own, number, text, record) => {
      const settled = own();
      if (line.number === number && settled?.endsWith(",old-number"))
        record.remember(number, text, settled);
      return settled;
    }),
  ),
  broken(
    "a repeated arm refused once its token is void",
    ["4.5"],
    instead("commands", (own, board) => {
      const settled = own.settled.bind(own);
      own.settled = (line, text) => {
        const answer = settled(line, text);
        const isVoid = line.type === "arm" && answer?.startsWith("ok,") && board.token === null;
        return isVoid ? `no,${line.number},not-armed` : answer;
      };
      return own;
    }),
  ),
  broken(
    "a repeated speed done again",
    ["4.5", "6.1"],
    instead("commands", (own, board) => {
      const settled = own.settled.bind(own);
      own.settled = (line, text) => {
        const answer = settled(line, text);
        if (line.type === "speed" && answer?.startsWith("ok,")) board.carryOut(line);
        return answer;
      };
      return own;
    }),
  ),
  broken(
    "a stop with the last number answered and not done",
    ["4.4"],
    settles((line, own, number) =>
      line.type === "stop" && line.number === number ? `ok,${number}` : own(),
    ),
  ),
];

const TOKENS: readonly Broken[] = [
  broken(
    "tokens that count up",
    ["4.3"],
    instead("newToken", () => {
      let next = 0x1000;
      return () => (next++).toString(16).toUpperCase().padStart(8, "0");
    }),
  ),
  broken(
    "one token for ever",
    ["4.3"],
    instead("newToken", () => () => "12345678"),
  ),
  broken(
    "a token that stop leaves in force",
    ["4.4", "6.3"],
    does("stop", (board, own) => {
      const { token } = board;
      own();
      board.token = token;
    }),
  ),
  broken(
    "a token that ask leaves in force",
    ["4.2", "6.3"],
    does("ask", (board, own) => {
      const { token } = board;
      own();
      board.token = token;
    }),
  ),
  broken("every token taken", ["4.3", "5.6"], lets("bad-token")),
  broken(
    "a new arm that leaves the drive on",
    ["4.3"],
    does("arm", (board, own, plant) => {
      const { setRpm } = board;
      KEEPS_DRIVE(board, own, plant);
      board.setRpm = setRpm;
    }),
  ),
  broken("motion without arm", ["4.2", "4.4", "4.5", "5.5", "6.3"], lets("not-armed")),
  broken(
    "range looked at before the token",
    ["5.6"],
    instead("refusal", (own) => (line) => {
      const isOut = line.type === "speed" && line.rampRpmPerS === 0;
      return own(line) === "bad-token" && isOut ? "range" : own(line);
    }),
  ),
];

export const BROKEN_NUMBERS: readonly Broken[] = [...NUMBERS, ...REPEATS, ...TOKENS];
