// Stand-ins whose own safety fails (firmware-protocol.md, part 6).

import {
  broken,
  does,
  expires,
  ignores,
  instead,
  KEEPS_DRIVE,
  type Spoil,
} from "./changedBoards.ts";
import type { Broken } from "./changedLines.ts";

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

export const BROKEN_SAFETY: readonly Broken[] = [...SAFETY, ...SPEEDS];
