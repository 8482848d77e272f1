// The one check that every request and every upgrade passes first: only our own page, on this computer.
//
// A page from elsewhere can make the user's browser send requests to 127.0.0.1, and by rebinding its
// own name to 127.0.0.1 it can read the answers too. The Host list stops the second, the Origin list
// the first; a form or a plain script cannot send application/json, pictures or backups without asking, and
// we never allow.

import type { IncomingMessage, ServerResponse } from "node:http";
import { BACKUP_TYPE } from "../../core/backup.ts";
import { PICTURE_TYPES } from "../../core/jobs/photo.ts";
import type { Refusal } from "../../core/messages.ts";
import { type Said, said } from "../../core/said.ts";
import { refusalOf } from "./refusals.ts";

/** Browsers leave the port out of Host and Origin where it is the scheme's own. */
const PORT_OF_SCHEME = { http: 80, https: 443 } as const;
/** None of them can be sent from elsewhere without asking first. */
const BODY_TYPES = ["application/json", ...PICTURE_TYPES, BACKUP_TYPE];

export interface Refused {
  readonly status: number;
  readonly refusal: Refusal;
}

/** What requests and upgrades alike pass first; null: may pass. Never throws. */
export type Gate = (request: IncomingMessage, kind: "request" | "upgrade") => Refused | null;

/** How this server is called. */
export interface OwnAddress {
  readonly scheme: "http" | "https";
  /** Every name and address without the port, IPv6 ones in brackets. */
  readonly names: readonly string[];
}

/** Null: may pass. Never throws, whatever the headers are. */
export function refusedAtGate(
  request: IncomingMessage,
  kind: "request" | "upgrade",
  { scheme, names }: OwnAddress,
): Refused | null {
  const port = request.socket.localPort;
  const hosts = port === undefined ? [] : names.map((name) => hostOf(name, port, scheme));
  if (!isOneOf(request.headersDistinct.host, hosts)) {
    return refuse(403, said("The Host header is not this server's address."));
  }
  const origins = request.headersDistinct.origin;
  const harmless = kind === "request" && (request.method === "GET" || request.method === "HEAD");
  if (!(harmless && origins === undefined)) {
    const own = hosts.map((host) => `${scheme}://${host}`);
    if (!isOneOf(origins, own)) {
      return refuse(403, said("The Origin header is not this server's own page."));
    }
  }
  if (!harmless && kind === "request") {
    if (!isOneOf(request.headersDistinct["content-type"], BODY_TYPES)) {
      return refuse(415, said("The Content-Type header is not application/json, nor a picture's."));
    }
  }
  return null;
}

function hostOf(name: string, port: number, scheme: OwnAddress["scheme"]): string {
  return port === PORT_OF_SCHEME[scheme] ? name : `${name}:${port}`;
}

/** Exactly one header, byte for byte one of the allowed; nothing is parsed. */
function isOneOf(values: readonly string[] | undefined, allowed: readonly string[]): boolean {
  const [value, ...more] = values ?? [];
  return value !== undefined && more.length === 0 && allowed.includes(value);
}

function refuse(status: number, what: Said): Refused {
  return { status, refusal: refusalOf("REQUEST_REFUSED", what) };
}

/** The page's scripts and styles are files of its own; nothing inline, nothing from elsewhere. */
const PAGE_POLICY = policy(
  "script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'",
);

/** A document whose one style element has this SHA-256 (base64), and which runs nothing; pictures only those in it. */
export function documentPolicy(styleSha256: string, hasPictures: boolean): string {
  return policy(`style-src 'sha256-${styleSha256}'${hasPictures ? "; img-src data:" : ""}`);
}

function policy(sources: string): string {
  return `default-src 'none'; ${sources}; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;
}

/** Set on every answer, refusals included. A route may replace the policy by a narrower one. */
export function setSafeHeaders(response: ServerResponse): void {
  response.setHeader("content-security-policy", PAGE_POLICY);
  response.setHeader("x-content-type-options", "nosniff");
  response.setHeader("referrer-policy", "no-referrer");
  response.setHeader("cross-origin-opener-policy", "same-origin");
  response.setHeader("cross-origin-resource-policy", "same-origin");
}
