// What opens the page to the network: a flag, a password, and a certificate or a warning.
import { readFileSync } from "node:fs";
import { networkInterfaces } from "node:os";
import { createInterface } from "node:readline/promises";
import { Writable } from "node:stream";
import { createSecureContext } from "node:tls";
import { BobweightError } from "../../core/errors.ts";
import type { NetworkEntrance } from "../http/entrance.ts";

/** Environment variable of the password: a command line can be read by every user of a computer. */
export const PASSWORD_VARIABLE = "BOBWEIGHT_PASSWORD";
const PASSWORD_LENGTH_MIN = 10;
const ANY_ADDRESS = new Set(["0.0.0.0", "::"]);

export const UNENCRYPTED_WARNING = `WARNING: without --tls-cert and --tls-key nothing is encrypted. Whoever sees the network's traffic can read
the password and everything on the page, and can start the rig. Use a certificate, or a network that is yours alone.
`;

export interface NetworkOptions {
  readonly listen?: string;
  readonly name?: readonly string[];
  readonly tlsCert?: string;
  readonly tlsKey?: string;
}

/** Null: this computer only. @throws USAGE, FILE_UNREADABLE, FILE_INVALID */
export async function networkFrom(options: NetworkOptions): Promise<NetworkEntrance | null> {
  const { listen, name = [], tlsCert, tlsKey } = options;
  if (listen === undefined) {
    if (name.length === 0 && tlsCert === undefined && tlsKey === undefined) return null;
    throw new BobweightError("USAGE", "--name, --tls-cert and --tls-key go with --listen.");
  }
  if ((tlsCert === undefined) !== (tlsKey === undefined)) {
    throw new BobweightError("USAGE", "--tls-cert and --tls-key go together.");
  }
  const tls =
    tlsCert === undefined || tlsKey === undefined
      ? null
      : { cert: pemText(tlsCert), key: pemText(tlsKey) };
  if (tls !== null) checkPair(tls);
  const password = process.env[PASSWORD_VARIABLE] ?? (await typedPassword());
  if (password.length < PASSWORD_LENGTH_MIN) {
    throw new BobweightError("USAGE", `The password needs ${PASSWORD_LENGTH_MIN} characters.`);
  }
  const addresses = ANY_ADDRESS.has(listen) ? ownAddresses() : [listen];
  return { host: listen, names: [...addresses.map(bracketed), ...name], password, tls };
}

function pemText(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("FILE_UNREADABLE", `${path} cannot be read (${why}).`, { cause });
  }
}

function checkPair(tls: { cert: string; key: string }): void {
  try {
    createSecureContext(tls);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("FILE_INVALID", `Certificate and key do not go together (${why}).`, {
      cause,
    });
  }
}

function ownAddresses(): string[] {
  return Object.values(networkInterfaces()).flatMap((all) =>
    (all ?? []).map(({ address }) => address),
  );
}

/** As an IPv6 address stands in a Host header. */
function bracketed(address: string): string {
  return address.includes(":") ? `[${address}]` : address;
}

async function typedPassword(): Promise<string> {
  if (!process.stdin.isTTY) {
    throw new BobweightError(
      "USAGE",
      `--listen needs a password, in ${PASSWORD_VARIABLE} or typed.`,
    );
  }
  process.stderr.write("Password for the page: ");
  // What is typed is not shown.
  const output = new Writable({ write: (_, __, done) => done() });
  const lines = createInterface({ input: process.stdin, output, terminal: true });
  try {
    return await lines.question("");
  } finally {
    lines.close();
    process.stderr.write("\n");
  }
}
