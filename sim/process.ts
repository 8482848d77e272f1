// The stand-in rig behind a pseudo-terminal, for any program that opens a serial port. Linux and macOS.
import { execFileSync } from "node:child_process";
import { closeSync, constants, openSync, writeSync } from "node:fs";
import type { Duplex } from "node:stream";
import { BobweightError } from "../core/errors.ts";
import type { Scheduler, Timer } from "../core/scheduler.ts";
import type { Scenario } from "./scenario.ts";
import { type BoardMaker, StandInRig } from "./standInRig.ts";

/** What waits beyond this while nobody reads is dropped, as a serial line drops it. */
const UNREAD_BYTES_MAX = 65_536;

export interface SimulatedPort {
  /** The device that a host opens, such as `/dev/pts/4`. */
  readonly path: string;
  /** Unplugs the rig. */
  close(): void;
}

/** The two ends of a pseudo-terminal. node-pty's own types leave its `open` out. */
interface Terminal {
  /** Of the master; it never waits. */
  readonly fd: number;
  readonly master: Duplex;
  readonly slave: Duplex;
  readonly ptsName: string;
}

/**
 * Powers a stand-in rig up on a new pseudo-terminal. `scheduler` is real time. `makeBoard`: another board
 * than its own.
 * @throws PSEUDO_TERMINAL_UNAVAILABLE on Windows and where node-pty is not installed.
 */
export async function openSimulatedPort(
  scenario: Scenario,
  scheduler: Scheduler,
  makeBoard?: BoardMaker,
): Promise<SimulatedPort> {
  const { fd, master, slave, ptsName: path } = await openTerminal();
  // What the slave's stream reads would be lost to the host.
  slave.pause();
  // A slave end of our own keeps the terminal alive while a host closes and opens it again.
  const held = openSync(path, constants.O_RDWR | constants.O_NOCTTY);
  slave.destroy();
  // Without this the terminal sends every line back to the rig as an echo.
  execFileSync("stty", [process.platform === "darwin" ? "-f" : "-F", path, "raw", "-echo"]);
  const rig = new StandInRig(scenario, scheduler, makeBoard);
  master.on("data", (bytes: Uint8Array) => rig.receive(bytes));
  // The rig plays on whatever the terminal meets; an unplugged one ends by close().
  master.on("error", () => {});
  const outlet = new Outlet(fd, scheduler);
  rig.onBytes = (bytes) => outlet.send(bytes);
  return {
    path,
    close: () => {
      rig.shutdown();
      outlet.close();
      // Never node-pty's own destroy(): its process number is -1 here, which signals every process.
      master.destroy();
      closeSync(held);
    },
  };
}

const RETRY_MS = 5;

/**
 * Bytes on their way into the terminal. The stream that node makes of it would wait for room, and the
 * rig and its signals with it, for as long as nobody reads.
 */
class Outlet {
  private readonly fd: number;
  private readonly scheduler: Scheduler;
  private waiting: Uint8Array = new Uint8Array();
  private retry: Timer | null = null;

  constructor(fd: number, scheduler: Scheduler) {
    this.fd = fd;
    this.scheduler = scheduler;
  }

  send(bytes: Uint8Array): void {
    if (this.waiting.length > UNREAD_BYTES_MAX) return;
    this.waiting = Buffer.concat([this.waiting, bytes]);
    this.flush();
  }

  close(): void {
    this.retry?.cancel();
    this.waiting = new Uint8Array();
  }

  private flush(): void {
    this.retry?.cancel();
    this.retry = null;
    try {
      while (this.waiting.length > 0) {
        this.waiting = this.waiting.subarray(writeSync(this.fd, this.waiting));
      }
    } catch {
      // Full, or between one host and the next: it plays on and tries again.
      this.retry = this.scheduler.after(RETRY_MS, () => this.flush());
    }
  }
}

async function openTerminal(): Promise<Terminal> {
  if (process.platform === "win32") {
    throw new BobweightError(
      "PSEUDO_TERMINAL_UNAVAILABLE",
      "Windows has no pseudo-terminals that a serial port program can open.",
    );
  }
  let pty: { open(options: { encoding: null }): Terminal };
  try {
    pty = (await import("node-pty")) as unknown as typeof pty;
  } catch (cause) {
    throw new BobweightError(
      "PSEUDO_TERMINAL_UNAVAILABLE",
      "the package node-pty could not be loaded.",
      { cause },
    );
  }
  return pty.open({ encoding: null });
}
