// Whether the database server could not be reached, as against having refused what was asked.

/** PostgreSQL's SQLSTATE: connection, shut down or starting, no room for one more connection. */
const AWAY = /^(08|57P|53)/;
const SQLSTATE = /^[0-9A-Z]{5}$/;
const SOCKET: ReadonlySet<string> = new Set([
  ...["ECONNREFUSED", "ECONNRESET", "ENOTFOUND", "EAI_AGAIN", "ETIMEDOUT", "EPIPE"],
  ...["EHOSTUNREACH", "EHOSTDOWN", "ENETUNREACH", "ENETDOWN"],
]);

export function isAway(cause: unknown): boolean {
  if (!(cause instanceof Error)) return false;
  const code = "code" in cause ? String(cause.code) : "";
  if (SOCKET.has(code)) return true;
  // A socket that is a file is not there while no server listens on it.
  if ("syscall" in cause && cause.syscall === "connect") return true;
  if (SQLSTATE.test(code)) return AWAY.test(code);
  // The client's own words, for which it has no code.
  return /^Connection terminated|^timeout|^Query read timeout/i.test(cause.message);
}
