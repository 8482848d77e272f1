// Nothing gets past the gate but our own page on this computer: every route, every file, the upgrade.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { RECORD_ID, startDocument } from "../sheet/fixture.ts";
import { ask, type Served, serve, upgradeHeaders } from "./served.ts";

let served: Served;

beforeAll(async () => {
  served = await serve({ page: true });
  served.store.begin(startDocument, { nowMs: () => 0 });
});

afterAll(() => served.close());

const json = { "content-type": "application/json" };
const goodUnit = JSON.stringify({ name: "unit.json", text: "{}" });
const paths = [
  "/",
  "/index.html",
  "/page.js",
  "/api/choices",
  "/api/ports",
  "/api/records",
  `/api/records/${RECORD_ID}`,
  `/records/${RECORD_ID}/sheet.html`,
  `/records/${RECORD_ID}/curves.csv`,
  `/records/${RECORD_ID}/record.json`,
];
const nowhere = ["/no/such/path", "/api/%ZZ", "//"];

function foreign(port: number): Record<string, string>[] {
  return [
    { host: `bench.example:${port}` },
    { host: "127.0.0.1" },
    { host: `127.0.0.1:${port + 1}` },
    { host: `127.0.0.1:${port}.example` },
    { host: `user@127.0.0.1:${port}` },
    { host: `[::1]:${port}` },
    { host: `LOCALHOST:${port}` },
    { host: "%%%" },
    { host: "" },
  ];
}

describe("the Host header", () => {
  it.each([...paths, ...nowhere])("foreign or malformed, is refused on %s", async (path) => {
    const { port } = served.server;
    for (const headers of foreign(port)) {
      for (const method of ["GET", "HEAD"]) {
        const answer = await ask(port, method, path, headers);
        expect([headers, answer.status]).toEqual([headers, 403]);
      }
    }
  });

  it("foreign, is refused on the upgrade and on POST, whatever the Origin", async () => {
    const { port } = served.server;
    for (const headers of foreign(port)) {
      const { origin } = served;
      const upgrade = await ask(port, "GET", "/live", { ...headers, ...upgradeHeaders, origin });
      const post = await ask(port, "POST", "/api/units", { ...headers, ...json, origin }, goodUnit);
      expect([headers, upgrade.status, post.status]).toEqual([headers, 403, 403]);
    }
    expect(await served.store.units.current()).toEqual([]);
  });

  it("is needed once: none, or two, are refused", async () => {
    const { port } = served.server;
    const own = served.host;
    const twice = await ask(port, "GET", "/", ["host", own, "host", own]);
    const none = await ask(port, "GET", "/", {});
    // Node itself refuses a request without Host as malformed.
    expect([twice.status, none.status]).toEqual([403, 400]);
  });

  it.each(paths)("our own, by either name, lets %s pass", async (path) => {
    const { port } = served.server;
    for (const host of [`127.0.0.1:${port}`, `localhost:${port}`]) {
      expect((await ask(port, "GET", path, { host })).status).toBe(200);
    }
  });
});

const badOrigins = (port: number) => [
  "http://bench.example",
  `https://127.0.0.1:${port}`,
  "http://127.0.0.1",
  `http://127.0.0.1:${port + 1}`,
  `http://127.0.0.1:${port}/`,
  `http://127.0.0.1:${port}.example`,
  `http://user@127.0.0.1:${port}`,
  "null",
  "",
  "%%%",
  "://",
];

describe("the Origin header", () => {
  it("foreign, missing or malformed, is refused on the upgrade", async () => {
    const { host, server } = served;
    for (const origin of badOrigins(server.port)) {
      const headers = { ...upgradeHeaders, host, origin };
      expect([origin, (await ask(server.port, "GET", "/live", headers)).status]).toEqual([
        origin,
        403,
      ]);
    }
    const missing = await ask(server.port, "GET", "/live", { ...upgradeHeaders, host });
    expect(missing.status).toBe(403);
  });

  it("foreign, missing or malformed, is refused on POST, and nothing is kept", async () => {
    const { host, server, store } = served;
    for (const origin of badOrigins(server.port)) {
      const headers = { ...json, host, origin };
      const answer = await ask(server.port, "POST", "/api/units", headers, goodUnit);
      expect([origin, answer.status]).toEqual([origin, 403]);
    }
    const missing = await ask(server.port, "POST", "/api/units", { ...json, host }, goodUnit);
    expect(missing.status).toBe(403);
    expect(await store.units.current()).toEqual([]);
  });

  it("foreign, is refused on a GET; missing, it is a visit by hand", async () => {
    const { host, server } = served;
    for (const origin of badOrigins(server.port)) {
      const answer = await ask(server.port, "GET", "/api/choices", { host, origin });
      expect([origin, answer.status]).toEqual([origin, 403]);
    }
    expect((await ask(server.port, "GET", "/api/choices", { host })).status).toBe(200);
  });

  it("our own, by either name, lets the upgrade pass", async () => {
    const { host, server } = served;
    for (const name of ["127.0.0.1", "localhost"]) {
      const headers = { ...upgradeHeaders, host, origin: `http://${name}:${server.port}` };
      expect((await ask(server.port, "GET", "/live", headers)).status).toBe(101);
    }
  });

  it("does not help where the upgrade's path is another", async () => {
    const { host, origin, server } = served;
    for (const path of ["/", "/live/", "/live?x", "/api/choices"]) {
      const answer = await ask(server.port, "GET", path, { ...upgradeHeaders, host, origin });
      expect([path, answer.status]).toEqual([path, 404]);
    }
  });
});

describe("a body", () => {
  it("is taken as application/json alone", async () => {
    const { host, origin, server, store } = served;
    for (const type of [
      "text/plain",
      "application/x-www-form-urlencoded",
      "multipart/form-data; boundary=x",
      "application/json; charset=utf-8",
      "application/json, text/plain",
      "application/jsonp",
    ]) {
      const headers = { host, origin, "content-type": type };
      const answer = await ask(server.port, "POST", "/api/units", headers, goodUnit);
      expect([type, answer.status]).toEqual([type, 415]);
    }
    const without = await ask(server.port, "POST", "/api/units", { host, origin }, goodUnit);
    expect(without.status).toBe(415);
    expect(await store.units.current()).toEqual([]);
  });

  it("that is too large is refused", async () => {
    const { host, origin, server } = served;
    const large = JSON.stringify({ name: "unit.json", text: `{${" ".repeat(1_100_000)}}` });
    const answer = await ask(server.port, "POST", "/api/units", { ...json, host, origin }, large);
    expect(answer.status).toBe(413);
  });
});

describe("every answer", () => {
  it("has the strict headers and no leave for other origins, refused ones too", async () => {
    const { host, server } = served;
    for (const path of [...paths, ...nowhere]) {
      for (const headers of [{ host }, { host: "bench.example" }]) {
        const answer = await ask(server.port, "GET", path, headers);
        expect(answer.headers).toMatchObject({
          "x-content-type-options": "nosniff",
          "referrer-policy": "no-referrer",
          "cross-origin-opener-policy": "same-origin",
          "cross-origin-resource-policy": "same-origin",
        });
        const policy = String(answer.headers["content-security-policy"]);
        expect(policy).toMatch(/^default-src 'none'; .*frame-ancestors 'none'$/);
        expect(policy).not.toContain("unsafe");
        const allows = Object.keys(answer.headers).filter((name) => name.includes("allow"));
        expect(allows).toEqual([]);
      }
    }
  });
});

describe("GET", () => {
  it("changes nothing, and other methods are not there", async () => {
    const { bench, host, origin, server, store } = served;
    const before = await store.heads({ limit: 50, before: null });
    for (const path of [...paths, "/api/units", "/live", "/api/start", "/api/stop"]) {
      await ask(server.port, "GET", path, { host });
      for (const method of ["PUT", "DELETE", "PATCH", "OPTIONS"]) {
        const answer = await ask(server.port, method, path, { ...json, host, origin }, "{}");
        expect([method, path, answer.status]).toEqual([method, path, 404]);
      }
    }
    expect(await store.heads({ limit: 50, before: null })).toEqual(before);
    expect(await store.units.current()).toEqual([]);
    expect([bench.starts, bench.stops, bench.alives]).toEqual([[], [], 0]);
  });
});
