// What every rig of these tests is: a port that cuts what is written into lines, and says lines.
import { asciiText, encodeLine, LineCutter } from "../../core/codec/framing.ts";
import type { StateLine } from "../../core/codec/rigLines.ts";
import type { BytePort } from "../../server/link/bytePort.ts";

/** Armed and at a standstill, with nothing wrong. */
export const STATE: StateLine = {
  ...{ type: "state", sequence: 0, tick: 0, setRpm: 0, nowRpm: 0, direction: "none" },
  ...{ armed: true, guardShut: true, stopPressed: false, fault: "none" },
};

export abstract class LineRig implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: BytePort["onLost"] = () => {};
  /** What was written, a line each, as the rig at hand keeps it. */
  readonly heard: string[] = [];
  private readonly cutter = new LineCutter((bytes, from, to) =>
    this.hear(asciiText(bytes, from, to)),
  );

  async open() {}
  async close() {}

  write(bytes: Uint8Array) {
    this.cutter.push(bytes);
  }

  say(...bodies: readonly string[]) {
    for (const body of bodies) this.onBytes(encodeLine(body));
  }

  /** A whole line came. */
  protected abstract hear(body: string): void;
}
