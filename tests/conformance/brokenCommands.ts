// Stand-ins that refuse or do commands wrongly (firmware-protocol.md, 4.1 to 4.4 and part 5).
import type { RefusalReason } from "../../core/codec/rigLines.ts";
import type { NumberedLine } from "../../sim/commandRecord.ts";
import { broken, does, type Insides, instead, KEEPS_DRIVE, lets } from "./changedBoards.ts";
import type { Broken } from "./changedLines.ts";

const refuses = (isSuch: (line: NumberedLine, board: Insides) => boolean, reason: RefusalReason) =>
  instead("refusal", (own, board) => (line) => (isSuch(line, board) ? reason : own(line)));

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

const ARMED: readonly Broken[] = [
  broken(
    "a speed refused",
    ["4.1"],
    refuses(
      (line, { token }) =>
        line.type === "speed" && line.token === token && line.rampRpmPerS === 500,
      "turning",
    ),
  ),
  ...(
    [
      ["stop", ["4.4", "6.3"]],
      ["ask", ["4.2", "6.3"]],
      ["arm", ["4.3"]],
    ] as const
  ).map(([type, clauses]) =>
    broken(
      `${type} refused while turning`,
      clauses,
      refuses((line, { setRpm }) => line.type === type && setRpm > 0, "turning"),
    ),
  ),
  ...(
    [
      ["stop", ["4.4", "6.3"]],
      ["ask", ["4.2", "6.3"]],
    ] as const
  ).map(([type, clauses]) =>
    broken(
      `${type} refused while armed`,
      clauses,
      refuses((line, { token }) => line.type === type && token !== null, "turning"),
    ),
  ),
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

export const BROKEN_COMMANDS: readonly Broken[] = [...REFUSALS, ...STOPS, ...ARMED];
