// The gate asked by itself: a scheme's own port, a look by HEAD, and what a document may do.
import type { IncomingMessage, ServerResponse } from "node:http";
import { expect, it } from "vitest";
import { documentPolicy, refusedAtGate, setSafeHeaders } from "../../server/http/gate.ts";

const NAMES = ["127.0.0.1", "localhost"];

function asked(
  method: string,
  headersDistinct: Record<string, string[]>,
  localPort: number | undefined,
): IncomingMessage {
  return { method, headersDistinct, socket: { localPort } } as unknown as IncomingMessage;
}

it.each<["http" | "https", number, string, number | null]>([
  ["http", 80, "localhost", null],
  ["http", 80, "localhost:80", 403],
  ["https", 443, "localhost", null],
  ["http", 443, "localhost:443", null],
  ["http", 443, "localhost", 403],
  ["http", 8330, "localhost:8330", null],
  ["http", 8330, "localhost", 403],
])("%s on port %i takes the Host %s with %s", (scheme, port, host, status) => {
  for (const method of ["GET", "HEAD"]) {
    const refused = refusedAtGate(asked(method, { host: [host] }, port), "request", {
      scheme,
      names: NAMES,
    });
    expect(refused?.status ?? null).toBe(status);
  }
});

it("lets nobody through whose connection is gone, nor without a Host", () => {
  const own = { scheme: "http", names: NAMES } as const;
  for (const host of ["", "localhost", "anybody"]) {
    expect(refusedAtGate(asked("GET", { host: [host] }, undefined), "request", own)?.status).toBe(
      403,
    );
  }
  expect(refusedAtGate(asked("GET", {}, 8330), "request", own)?.status).toBe(403);
});

it("lets a document have its one style and, where it has some, its pictures, and nothing else", () => {
  const rest = "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
  expect(documentPolicy("abc=", false)).toBe(
    `default-src 'none'; style-src 'sha256-abc='; ${rest}`,
  );
  expect(documentPolicy("abc=", true)).toBe(
    `default-src 'none'; style-src 'sha256-abc='; img-src data:; ${rest}`,
  );
  const headers = new Map<string, string>();
  setSafeHeaders({
    setHeader: (name: string, value: string) => headers.set(name, value),
  } as unknown as ServerResponse);
  expect(Object.fromEntries(headers)).toEqual({
    "content-security-policy": `default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; ${rest}`,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
  });
});
