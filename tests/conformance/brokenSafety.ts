// Stand-ins whose own safety fails (firmware-protocol.md, part 6).

import type { RigFault } from "../../core/codec/rigLines.ts";
import {
  broken,
  does,
  expires,
  type Insides,
  ignores,
  insides,
  instead,
  KEEPS_DRIVE,
  type Spoil,
} from "./changedBoards.ts";
import type { Broken } from "./changedLines.ts";
import type { Flaw } from "./standIn.ts";

const SAFETY: readonly Broken[] = [
  broken("an expiry after 700 ms", ["6.1"], expires(0.3)),
  broken("an expiry after 250 ms", ["6.1"], expires(-0.15)),
  broken("no expiry", ["6.1"], expires(1e6)),
  broken(
    "an expiry that leaves the drive on",
    ["6.1"],
    instead("watch", (own, board, plant) => (nowS) => {
      if (board.token !== null && nowS >= board.aliveUntilS) {
        const { switchOff } = board;
        board.switchOff = () => KEEPS_DRIVE(board, switchOff.bind(board), plant);
        own(nowS);
        board.switchOff = switchOff;
      } else own(nowS);
    }),
  ),
  broken(
    "an expiry that is not told",
    ["6.1"],
    instead("watch", (own, board) => (nowS) => {
      own(nowS);
      if (board.fault === "alive") board.fault = "none";
    }),
  ),
  broken(
    "an expiry that is latched",
    ["6.1"],
    instead(
      "refusal",
      (own, board) => (line) =>
        line.type === "arm" && board.fault === "alive" ? "latched" : own(line),
    ),
  ),
  broken(
    "an expiry that stop does not clear",
    ["6.1"],
    does("stop", (board, own) => {
      const { fault } = board;
      own();
      if (fault === "alive") board.fault = fault;
    }),
  ),
  broken("a guard that stops nothing", ["6.2"], ignores("guard")),
  broken("a stop input that stops nothing", ["6.2"], ignores("stop-input")),
  broken(
    "a guard that is told and leaves the drive on",
    ["6.2"],
    instead("latch", (own, board, plant) => (fault) => {
      const { switchOff } = board;
      if (fault === "guard")
        board.switchOff = () => KEEPS_DRIVE(board, switchOff.bind(board), plant);
      own(fault);
      board.switchOff = switchOff;
    }),
  ),
  broken("a guard that is not noticed", ["3.5"], (_, plant) => {
    Object.defineProperty(plant, "guardShut", { get: () => true, set: () => {} });
  }),
  broken(
    "a fault that goes with its cause",
    ["5.4", "6.2"],
    instead("watch", (own, board, plant) => (nowS) => {
      own(nowS);
      if (board.fault === "guard" && plant.guardShut) board.fault = "none";
    }),
  ),
  broken(
    "a fault that stop clears with its cause still there",
    ["5.4", "6.2"],
    instead("clearFault", (_, board) => () => {
      board.fault = "none";
    }),
  ),
  broken(
    "a fault that nothing clears",
    ["6.2"],
    instead("clearFault", (own, board) => () => {
      if (board.fault !== "guard") own();
    }),
  ),
  broken(
    "a guard that sets a fault at rest",
    ["6.2"],
    instead("watch", (own, board, plant) => (nowS) => {
      own(nowS);
      if (!plant.guardShut) board.latch("guard");
    }),
  ),
  broken("no look for a stall", ["6.6"], ignores("stall")),
  broken(
    "a stall found at once",
    ["6.6"],
    instead("watch", (own, board, plant) => (nowS) => {
      if (plant.motor.jammed && board.speedControl.turning) board.latch("stall");
      own(nowS);
    }),
  ),
  broken("no look at the sensor", ["3.4", "6.7"], ignores("sensor")),
  broken(
    "vac lines from a failed sensor",
    ["6.7"],
    instead("reports", (own) => {
      const vacuum = own.vacuum.bind(own);
      own.vacuum = (nowS, readingPa, ...rest) => vacuum(nowS, readingPa ?? 0, ...rest);
      return own;
    }),
  ),
  broken(
    "a change told with the next line only",
    ["3.5"],
    instead("reports", (own) => {
      const state = own.state.bind(own);
      own.state = (nowS, condition) => {
        if (nowS >= own.nextStateS) state(nowS, condition);
      };
      return own;
    }),
  ),
];

const ramps = (change: (goalRpm: number, rampRpmPerS: number) => [number, number]): Spoil =>
  instead("speedControl", (own) => {
    const goTo = own.goTo.bind(own);
    own.goTo = (goal, ramp, now) => goTo(...change(goal, ramp), now);
    return own;
  });

const SPEEDS: readonly Broken[] = [
  broken(
    "no ramps",
    ["6.5"],
    ramps((goal) => [goal, 2000]),
  ),
  broken(
    "ramps half as steep",
    ["4.1", "6.5"],
    ramps((goal, ramp) => [goal, ramp / 2]),
  ),
  broken(
    "a speed beyond MAXRPM",
    ["6.5"],
    ramps((goal, ramp) => [goal * 1.03, ramp]),
    { speedMaxRpm: 4500 },
  ),
  broken(
    "speeds a twelfth too low",
    ["4.1"],
    ramps((goal, ramp) => [goal * 0.92, ramp]),
  ),
  broken(
    "twice the speed asked for",
    ["6.5"],
    ramps((goal, ramp) => [goal * 2, ramp]),
  ),
];

/** Tells a fault, and leaves what is on. */
const tellsOnly = (fault: RigFault): Spoil =>
  instead("latch", (own, board) => (one) => {
    if (one === fault) board.fault = fault;
    else own(one);
  });

const keepsFault = (fault: RigFault): Spoil =>
  instead("clearFault", (own, board) => () => {
    if (board.fault !== fault) own();
  });

/** Changes the board that a boot brings. */
const booted =
  (change: (board: Insides) => void): NonNullable<Flaw["out"]> =>
  ({ board }) => {
    let boots = 0;
    return (body) => {
      if (body.startsWith("hello,0,") && ++boots === 2) change(insides(board()));
      return [body];
    };
  };

const MORE: readonly Broken[] = [
  ...(["guard", "stop-input"] as const).map((fault) =>
    broken(
      `a speed taken after ${fault}`,
      ["6.3"],
      instead("refusal", (own, board) => (line) => {
        const reason = own(line);
        return board.fault === fault && reason === "not-armed" ? null : reason;
      }),
    ),
  ),
  broken(
    "a stop input that sets a fault at rest",
    ["6.2"],
    instead("watch", (own, board, plant) => (nowS) => {
      own(nowS);
      if (plant.stopPressed) board.latch("stop-input");
    }),
  ),
  broken("a stall that is told and stops nothing", ["6.6"], tellsOnly("stall")),
  broken("a failed sensor that is told and stops nothing", ["6.7"], tellsOnly("sensor")),
  broken(
    "a stop input that is told and leaves the drive on",
    ["6.2"],
    instead("latch", (own, board, plant) => (fault) => {
      const { switchOff } = board;
      if (fault === "stop-input")
        board.switchOff = () => KEEPS_DRIVE(board, switchOff.bind(board), plant);
      own(fault);
      board.switchOff = switchOff;
    }),
  ),
  broken("a stop input that nothing clears", ["6.2"], keepsFault("stop-input")),
  broken("a stall that nothing clears", ["6.2"], keepsFault("stall")),
  broken("a sensor's fault that nothing clears", ["6.2"], keepsFault("sensor")),
  broken(
    "an expiry that ask does not clear",
    ["6.1"],
    does("ask", (board, own) => {
      const { fault } = board;
      own();
      if (fault === "alive") board.fault = fault;
    }),
  ),
  broken(
    "an expiry that arm does not clear",
    ["6.1"],
    does("arm", (board, own) => {
      const { fault } = board;
      own();
      if (fault === "alive") board.fault = fault;
    }),
  ),
  ...(["stop", "ask"] as const).map((type) =>
    broken(
      `a ${type} refused after an expiry`,
      ["6.1"],
      instead(
        "refusal",
        (own, board) => (line) =>
          line.type === type && board.fault === "alive" ? "latched" : own(line),
      ),
    ),
  ),
  broken(
    "an expiry that leaves the line closed",
    ["6.1"],
    instead("watch", (own, board, plant) => (nowS) => {
      const { valve } = plant.inputs;
      const isDue = board.token !== null && nowS >= board.aliveUntilS;
      own(nowS);
      if (isDue) plant.inputs.valve = valve;
    }),
  ),
  {
    what: "a boot after which it goes on",
    clauses: ["6.3"],
    flaw: {
      out: booted((board) => {
        board.token = "12345678";
        board.aliveUntilS = 1e9;
        board.driveSinceS = 1e9;
        board.setRpm = 300;
        board.speedControl.goTo(300, 500, 300);
      }),
    },
  },
  {
    what: "a boot after which every token is taken",
    clauses: ["6.3"],
    flaw: {
      out: booted((board) => {
        const own = board.refusal.bind(board);
        board.refusal = (line) => {
          const reason = own(line);
          return reason === "not-armed" ? null : reason;
        };
      }),
    },
  },
];

export const BROKEN_SAFETY: readonly Broken[] = [...SAFETY, ...SPEEDS, ...MORE];
