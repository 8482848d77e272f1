// One page's WebSocket: what it says goes to the desk, and it is told no more than it can take.
import type { RawData, WebSocket } from "ws";
import type { ServerMessage } from "../../core/messages.ts";
import { readClientMessage } from "./clientMessages.ts";
import { Rate } from "./rate.ts";
import type { RunDesk, Visitor } from "./runDesk.ts";

/** Live numbers are for the eye: at most one in this time, the newest. */
const LIVE_INTERVAL_MS = 50;
/** With this much unsent, live numbers are held back, since newer ones follow. */
const UNSENT_BYTES_FOR_LIVE = 64 * 1024;
/** With this much unsent, the page does not read; it is dropped and may come again. */
const UNSENT_BYTES_MAX = 8 * 1024 * 1024;

/** A page says four things a second while it runs the rig, and what is pressed besides. */
const MESSAGES_AT_ONCE = 100;
const MESSAGES_PER_S = 20;

const CLOSE_UNSUPPORTED_DATA = 1003;

export class LiveSocket implements Visitor {
  private readonly socket: WebSocket;
  private pendingLive: ServerMessage | null = null;
  private liveTimer: NodeJS.Timeout | null = null;
  private readonly rate = new Rate(MESSAGES_AT_ONCE, MESSAGES_PER_S);

  constructor(socket: WebSocket, desk: RunDesk) {
    this.socket = socket;
    socket.on("message", (data, isBinary) => this.hear(desk, data, isBinary));
    // Errors (a frame too large, a broken connection) are followed by `close`.
    socket.on("error", () => socket.terminate());
    socket.on("close", () => {
      if (this.liveTimer !== null) clearTimeout(this.liveTimer);
      desk.leave(this);
    });
    desk.enter(this);
  }

  send(message: ServerMessage): void {
    if (message.type === "document" && message.document.type === "live") {
      this.pendingLive = message;
      if (this.liveTimer === null) this.sendLive();
      return;
    }
    // Order is kept: what was measured before this message goes before it.
    if (this.pendingLive !== null) this.sendPendingLive();
    this.transmit(message);
  }

  private hear(desk: RunDesk, data: RawData, isBinary: boolean): void {
    if (isBinary) {
      this.socket.close(CLOSE_UNSUPPORTED_DATA, "text only");
      return;
    }
    // Of whoever ran the rig, the end of the connection ends the run.
    if (!this.rate.takes("", performance.now())) {
      this.socket.terminate();
      return;
    }
    try {
      desk.take(this, readClientMessage(data.toString()));
    } catch (error) {
      desk.refuse(this, error);
    }
  }

  private sendLive(): void {
    this.sendPendingLive();
    this.liveTimer = setTimeout(() => {
      this.liveTimer = null;
      if (this.pendingLive !== null) this.sendLive();
    }, LIVE_INTERVAL_MS);
  }

  private sendPendingLive(): void {
    const { pendingLive } = this;
    this.pendingLive = null;
    if (pendingLive !== null && this.socket.bufferedAmount < UNSENT_BYTES_FOR_LIVE) {
      this.transmit(pendingLive);
    }
  }

  private transmit(message: ServerMessage): void {
    if (this.socket.readyState !== this.socket.OPEN) return;
    if (this.socket.bufferedAmount > UNSENT_BYTES_MAX) this.socket.terminate();
    else this.socket.send(JSON.stringify(message));
  }
}
