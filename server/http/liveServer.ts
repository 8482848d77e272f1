// Upgrades of HTTP connections to WebSockets on /live, past the same gate as every request.

import { type IncomingMessage, STATUS_CODES } from "node:http";
import type { Duplex } from "node:stream";
import { WebSocketServer } from "ws";
import type { Refusal } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import type { Gate } from "./gate.ts";
import { LiveSocket } from "./liveSocket.ts";
import { refusalOf } from "./refusals.ts";
import type { RunDesk } from "./runDesk.ts";

const LIVE_PATH = "/live";
/** The longest message is a start with a plan. */
const MESSAGE_BYTES_MAX = 32 * 1024;
/** Pages of one workshop; more are a fault. */
const SOCKETS_MAX = 32;
const CLOSE_GOING_AWAY = 1001;
const CLOSE_GRACE_MS = 500;

export class LiveServer {
  private readonly desk: RunDesk;
  private readonly gate: Gate;
  private readonly sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MESSAGE_BYTES_MAX,
    perMessageDeflate: false,
  });

  constructor(desk: RunDesk, gate: Gate) {
    this.desk = desk;
    this.gate = gate;
  }

  upgrade(request: IncomingMessage, stream: Duplex, head: Buffer): void {
    stream.on("error", () => stream.destroy());
    const refused = this.gate(request, "upgrade");
    if (refused !== null) {
      answer(stream, refused.status, refused.refusal);
    } else if (request.url !== LIVE_PATH) {
      answer(stream, 404, refusalOf("REQUEST_REFUSED", said("Only /live takes WebSockets.")));
    } else if (this.sockets.clients.size >= SOCKETS_MAX) {
      answer(stream, 503, refusalOf("REQUEST_REFUSED", said("Too many pages are open.")));
    } else {
      this.sockets.handleUpgrade(request, stream, head, (socket) => {
        new LiveSocket(socket, this.desk);
      });
    }
  }

  /** Says goodbye, and cuts off whoever does not answer. */
  async close(): Promise<void> {
    const closed = new Promise((resolve) => this.sockets.close(resolve));
    for (const socket of this.sockets.clients) {
      socket.close(CLOSE_GOING_AWAY, "the program ends");
      setTimeout(() => socket.terminate(), CLOSE_GRACE_MS).unref();
    }
    await closed;
  }
}

function answer(stream: Duplex, status: number, refusal: Refusal): void {
  const body = JSON.stringify(refusal);
  stream.end(
    [
      `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
      "connection: close",
      "content-type: application/json; charset=utf-8",
      `content-length: ${Buffer.byteLength(body)}`,
      "",
      body,
    ].join("\r\n"),
  );
}
