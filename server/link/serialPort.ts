// A real rig on a serial port, or anything on a pseudo-terminal. One object serves one connection.

import { SerialPort } from "serialport";
import { BobweightError } from "../../core/errors.ts";
import { type Said, said } from "../../core/said.ts";
import type { BytePort } from "./bytePort.ts";

/** After an unplugging the write callbacks never come, so every write has a time limit. */
const WRITE_TIMEOUT_MS = 1000;
const CLOSE_TIMEOUT_MS = 1000;

export class SerialBytePort implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: (what: Said | string) => void = () => {};
  private readonly port: SerialPort;
  private open_ = false;

  constructor(path: string, baud: number) {
    this.port = new SerialPort({ path, baudRate: baud, autoOpen: false });
    this.port.on("data", (bytes: Uint8Array) => this.onBytes(bytes));
    this.port.on("error", (error) => this.lost(error.message));
    this.port.on("close", () => this.lost(said("the port was closed")));
  }

  open(): Promise<void> {
    return new Promise((resolve, reject) => {
      this.port.open((error) => {
        if (error === null) {
          this.open_ = true;
          resolve();
          return;
        }
        reject(
          new BobweightError(
            "RIG_NOT_AVAILABLE",
            said("The port {} cannot be opened ({}).", this.port.path, error.message),
            { cause: error },
          ),
        );
      });
    });
  }

  write(bytes: Uint8Array): void {
    // serialport queues what is written to a closed port and sends it after the next open.
    if (!this.open_) return;
    const limit = setTimeout(
      () => this.lost(said("a write did not go out within one second")),
      WRITE_TIMEOUT_MS,
    );
    this.port.write(bytes, (error) => {
      clearTimeout(limit);
      if (error) this.lost(error.message);
    });
  }

  close(): Promise<void> {
    if (!this.open_) return Promise.resolve();
    this.open_ = false;
    return new Promise((resolve) => {
      const limit = setTimeout(resolve, CLOSE_TIMEOUT_MS);
      const done = () => {
        clearTimeout(limit);
        resolve();
      };
      // The last stop must leave the computer before the port shuts.
      this.port.drain(() => this.port.close(done));
    });
  }

  private lost(what: Said | string): void {
    if (!this.open_) return;
    this.open_ = false;
    this.port.close(() => {});
    this.onLost(what);
  }
}
