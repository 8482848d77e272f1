// Who comes in: whoever opens the printed address on this computer, or knows the password where the network may come.

import { createHash, randomBytes, scrypt, timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { promisify } from "node:util";
import type { Refusal } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import { refusalOf } from "./refusals.ts";

/** What `--listen` and the options with it open; null where only this computer is served. */
export interface NetworkEntrance {
  /** The address to listen on. */
  readonly host: string;
  /** Names and addresses by which others call this computer, besides its own loopback ones. */
  readonly names: readonly string[];
  readonly password: string;
  /** PEM texts; null: nothing is encrypted. */
  readonly tls: { readonly cert: string; readonly key: string } | null;
}

export const LOOPBACK = "127.0.0.1";
const LOOPBACK_NAMES = [LOOPBACK, "localhost"];
const START_QUERY = "/?start=";
const TOKEN_BYTES = 32;
/** Loopback as Node tells it, on a socket for both families too. */
const LOOPBACK_PEERS = new Set([LOOPBACK, "::1", `::ffff:${LOOPBACK}`]);

export type Answer = "in" | "welcome" | "out";

/** One for each running server; its token and its key are of this start alone. */
export class Entrance {
  readonly network: NetworkEntrance | null;
  private readonly token = randomBytes(TOKEN_BYTES).toString("base64url");
  private readonly key = randomBytes(TOKEN_BYTES).toString("base64url");
  private readonly door: PasswordDoor | null;

  constructor(network: NetworkEntrance | null) {
    this.network = network;
    this.door = network === null ? null : new PasswordDoor(network.password);
  }

  get scheme(): "http" | "https" {
    return this.network?.tls ? "https" : "http";
  }

  get takesPassword(): boolean {
    return this.door !== null;
  }

  /** Every name that a Host header may have, without the port. */
  get names(): readonly string[] {
    return [...LOOPBACK_NAMES, ...(this.network?.names ?? [])];
  }

  /** The address to open on this computer; whoever has it is in. */
  startUrl(port: number): string {
    return `${this.scheme}://${LOOPBACK}:${port}${START_QUERY}${this.token}`;
  }

  /** Of a request that has passed the gate. `welcome`: it brought the token of the printed address. Never throws. */
  look(request: IncomingMessage): Answer {
    if (this.hasCookie(request)) return this.bringsToken(request) ? "welcome" : "in";
    return this.bringsToken(request) ? "welcome" : "out";
  }

  /** The value of the Set-Cookie header that lets somebody in. A name for each port: cookies know none. */
  cookie(request: IncomingMessage): string {
    const secure = this.scheme === "https" ? "; Secure" : "";
    return `${cookieName(request)}=${this.key}; Path=/; HttpOnly; SameSite=Strict${secure}`;
  }

  /** Null: the password is right. */
  async refusalOf(password: string): Promise<Refusal | null> {
    return this.door === null ? NO_PASSWORD : this.door.refusalOf(password);
  }

  private hasCookie(request: IncomingMessage): boolean {
    const start = `${cookieName(request)}=`;
    return (request.headers.cookie ?? "")
      .split(";")
      .map((part) => part.trim())
      .some((part) => part.startsWith(start) && isSame(part.slice(start.length), this.key));
  }

  /** The printed address is for this computer: by the peer itself, whatever headers say of others before it. */
  private bringsToken({ method, url, socket }: IncomingMessage): boolean {
    return (
      method === "GET" &&
      LOOPBACK_PEERS.has(socket.remoteAddress ?? "") &&
      url?.startsWith(START_QUERY) === true &&
      isSame(url.slice(START_QUERY.length), this.token)
    );
  }
}

function cookieName({ socket }: IncomingMessage): string {
  return `bobweight-${socket.localPort}`;
}

/** In a time that tells nothing of how much is right. */
function isSame(given: string, wanted: string): boolean {
  return timingSafeEqual(digest(given), digest(wanted));
}

function digest(text: string): Buffer {
  return createHash("sha256").update(text).digest();
}

const NO_PASSWORD = refusalOf(
  "NOT_ADMITTED",
  said("This page has not been opened by its own address."),
);

const deriveKey = promisify<string, Buffer, number, object, Buffer>(scrypt);
/** A try takes some 32 MB and a tenth of a second. */
const COST = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 };
const KEY_BYTES = 32;
const FREE_TRIES = 3;
const WAIT_MS_MAX = 60_000;

/** Compares with the password's derived key, one at a time, and slower with each wrong one. */
class PasswordDoor {
  private readonly salt = randomBytes(KEY_BYTES);
  private readonly wanted: Promise<Buffer>;
  private wrong = 0;
  private closedUntilMs = 0;
  private isTrying = false;

  constructor(password: string) {
    this.wanted = deriveKey(password, this.salt, KEY_BYTES, COST);
  }

  async refusalOf(password: string): Promise<Refusal | null> {
    const waitS = Math.ceil((this.closedUntilMs - performance.now()) / 1000);
    if (this.isTrying || waitS > 0) {
      return refusalOf(
        "PASSWORD_WRONG",
        said("No password is taken for {} s.", Math.max(waitS, 1)),
      );
    }
    this.isTrying = true;
    try {
      const given = await deriveKey(password, this.salt, KEY_BYTES, COST);
      if (timingSafeEqual(given, await this.wanted)) {
        this.wrong = 0;
        return null;
      }
    } finally {
      this.isTrying = false;
    }
    this.wrong++;
    const waitMs = this.wrong < FREE_TRIES ? 0 : 1000 * 2 ** (this.wrong - FREE_TRIES);
    this.closedUntilMs = performance.now() + Math.min(waitMs, WAIT_MS_MAX);
    return refusalOf("PASSWORD_WRONG", said("That is not the password."));
  }
}

export function notAdmitted(): Refusal {
  return NO_PASSWORD;
}
