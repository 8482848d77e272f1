// The narrow way in and out of a rig: a serial port, a pseudo-terminal or the stand-in rig in this process.
import type { Said } from "../../core/said.ts";

export interface BytePort {
  /** Called with what came from the rig. Set before `open`. */
  onBytes: (bytes: Uint8Array) => void;
  /** Called once when the port is gone without having been closed by us, with what is known of why. */
  onLost: (what: Said | string) => void;
  /** @throws RIG_NOT_AVAILABLE */
  open(): Promise<void>;
  /** Sends at once; a failure shows as `onLost`. Does nothing unless open. */
  write(bytes: Uint8Array): void;
  close(): Promise<void>;
}
