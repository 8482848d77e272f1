// Stand-ins that take, refuse or do commands wrongly (firmware-protocol.md, parts 4 and 5).

import type { RefusalReason } from "../../core/codec/rigLines.ts";
import type { NumberedLine } from "../../sim/commandRecord.ts";
import {
  broken,
  does,
  type Insides,
  instead,
  KEEPS_DRIVE,
  lets,
  settles,
} from "./changedBoards.ts";
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
    ["4.4", "6.2", "6.3"],
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

const REFUSALS: readonly Broken[] = [
  broken("no range", ["5.9"], lets("range")),
  broken(
    "no range of vacuum",
    ["5.9"],
    instead("refusal", (own) => (line) => {
      const reason = own(line);
      return line.type === "vacuum" && reason === "range" ? null : reason;
    }),
  ),
  broken(
    "no lowest speed",
    ["5.9"],
    instead("refusal", (own) => (line) => {
      const reason = own(line);
      return line.type === "speed" &&
        reason === "range" &&
        line.speedRpm < 50 &&
        line.rampRpmPerS > 0
        ? null
        : reason;
    }),
  ),
  broken("turning about while turning", ["3.3", "4.1", "5.8"], lets("turning")),
  broken("no look at its one direction", ["5.7"], lets("direction"), {
    rig: { directions: "ccw" },
  }),
  broken("vacuum without a sensor", ["5.10"], lets("no-sensor"), { rig: { vacuumMaxPa: 0 } }),
  broken("arm with the guard open", ["5.3"], lets("guard-open")),
  broken("a latched fault that arm clears", ["5.4", "6.2"], lets("latched")),
  broken(
    "too few fields taken for another reason",
    ["5.2"],
    instead("refusal", (own) => (line) => (line.type === "fields" ? "range" : own(line))),
  ),
  broken(
    "a stop refused with a fault present",
    ["4.4", "6.2"],
    instead(
      "refusal",
      (own, board) => (line) =>
        line.type === "stop" && board.fault === "guard" ? "latched" : own(line),
    ),
  ),
];

const STOPS: readonly Broken[] = [
  broken(
    "SETRPM kept after stop",
    ["4.4"],
    does("stop", (board, own) => {
      const { setRpm } = board;
      own();
      board.setRpm = setRpm;
    }),
  ),
  broken("a stop that leaves the drive on", ["4.4"], does("stop", KEEPS_DRIVE)),
  broken("an ask that leaves the drive on", ["4.2"], does("ask", KEEPS_DRIVE)),
  broken(
    "a stop that leaves the line closed",
    ["4.4"],
    does("stop", (_, own, plant) => {
      const { valve } = plant.inputs;
      own();
      plant.inputs.valve = valve;
    }),
  ),
  broken("a stop that is done after its answer", ["4.4"], (board, plant) => {
    let late: { atS: number; stop: () => void } | null = null;
    does("stop", (_, own) => {
      late = { atS: plant.timeS + 0.009, stop: own };
    })(board, plant);
    instead("watch", (own) => (nowS) => {
      if (late !== null && nowS >= late.atS) {
        late.stop();
        late = null;
      }
      own(nowS);
    })(board, plant);
  }),
  broken(
    "a hold that leaves the pump on",
    ["4.1"],
    does("hold", (board, own) => {
      own();
      board.vacuumControl.pump = 0.2;
    }),
  ),
  broken(
    "a vent that disarms",
    ["4.1"],
    does("vent", (board, own) => {
      own();
      board.token = null;
    }),
  ),
  broken(
    "speed 0 that disarms",
    ["4.1", "4.5", "5.8"],
    instead("goToSpeed", (own, board) => (direction, goal, ramp) => {
      own(direction, goal, ramp);
      if (goal === 0) board.token = null;
    }),
  ),
];

const refuses = (isSuch: (line: NumberedLine, board: Insides) => boolean, reason: RefusalReason) =>
  instead("refusal", (own, board) => (line) => (isSuch(line, board) ? reason : own(line)));

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

const ARMED: readonly Broken[] = [
  broken(
    "a vacuum refused",
    ["4.1"],
    refuses(
      (line, { token }) =>
        line.type === "vacuum" && line.token === token && line.vacuumPa === 22_500,
      "bad-token",
    ),
  ),
  broken(
    "a hold refused",
    ["4.1"],
    refuses((line, { token }) => line.type === "hold" && line.token === token, "range"),
  ),
  broken(
    "a vent refused while armed",
    ["4.1"],
    refuses((line, { token }) => line.type === "vent" && token !== null, "bad-token"),
  ),
  broken(
    "a vent that wants a token",
    ["1.1", "1.4", "1.5", "4.1", "4.2"],
    refuses((line) => line.type === "vent", "not-armed"),
  ),
  broken(
    "a vacuum that only opens the line",
    ["4.1"],
    does("vacuum", (_, own, plant) => {
      own();
      plant.inputs.valve = "vent";
    }),
  ),
  broken(
    "a vent that closes the line",
    ["4.1"],
    does("vent", (_, own, plant) => {
      own();
      plant.inputs.valve = "hold";
    }),
  ),
  broken(
    "a new arm that leaves the drive on and says otherwise",
    ["4.3"],
    does("arm", KEEPS_DRIVE),
  ),
  broken(
    "an ask that leaves the line closed",
    ["4.2"],
    does("ask", (_, own, plant) => {
      const { valve } = plant.inputs;
      own();
      plant.inputs.valve = valve;
    }),
  ),
  broken("arm with the stop input pressed", ["5.3"], lets("stop-input")),
];

export const BROKEN_COMMANDS: readonly Broken[] = [
  ...NUMBERS,
  ...TOKENS,
  ...REFUSALS,
  ...STOPS,
  ...REPEATS,
  ...ARMED,
];
