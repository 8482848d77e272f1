// The published ways into programs that listen on a computer of their own, each tried on ours.
// CVE numbers name the report that a way is taken from.
import { createConnection } from "node:net";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { WebSocket } from "ws";
import type { RunDocument } from "../../core/documents.ts";
import { Rate } from "../../server/http/rate.ts";
import { RECORD_ID, runDocuments, startDocument } from "../sheet/fixture.ts";
import { ask, openedBy, Page, type Served, serve, startMessage, upgradeHeaders } from "./served.ts";

let served: Served;

beforeEach(async () => {
  served = await serve({ page: true });
});

afterEach(() => served.close());

const json = { "content-type": "application/json" };
const unit = JSON.stringify({ name: "unit.json", text: "{}", replaces: null });

/** Bytes as they are, and the first line of what comes back; empty: the connection was closed without a word. */
function raw(port: number, text: string): Promise<string> {
  return new Promise((resolve) => {
    let heard = "";
    const socket = createConnection({ port, host: "127.0.0.1" }, () =>
      socket.write(text, "latin1"),
    );
    socket.on("data", (part) => {
      heard += part;
      socket.destroy();
    });
    socket.on("error", () => {});
    socket.on("close", () => resolve(heard.split("\r\n")[0] ?? ""));
  });
}

/** Whoever came in would have been told of it by now. */
async function expectNobodyIn(): Promise<void> {
  expect(served.bench.starts).toEqual([]);
  expect(await served.store.units.current()).toEqual([]);
  expect(served.reports).toEqual([]);
  // The server is still there for its own page.
  expect((await served.fetch("/api/choices")).status).toBe(200);
}

describe("a name of a foreign page, rebound to this computer", () => {
  it("opens nothing: neither a file, an answer, a change nor the stream", async () => {
    const { port } = served.server;
    const host = `rebound.example:${port}`;
    const own = { host, origin: `http://${host}` };
    for (const path of [
      "/",
      "/api/choices",
      "/api/records",
      `/${new URL(served.server.url).search}`,
    ]) {
      expect((await ask(port, "GET", path, { host })).status).toBe(403);
      expect((await ask(port, "GET", path, own)).status).toBe(403);
    }
    expect((await ask(port, "POST", "/api/units", { ...own, ...json }, unit)).status).toBe(403);
    expect((await ask(port, "GET", "/live", { ...own, ...upgradeHeaders })).status).toBe(403);
    await expectNobodyIn();
  });
});

describe("the WebSocket opened by a foreign page (CVE-2025-24010, CVE-2018-14732)", () => {
  it("is refused though the browser sends the cookie along", async () => {
    for (const origin of ["http://evil.example", "null", "file://", `http://127.0.0.1:1`]) {
      const socket = new WebSocket(`ws://${served.host}/live`, {
        origin,
        headers: { cookie: served.cookie },
      });
      const status = await new Promise((resolve) => {
        socket.on("unexpected-response", (_, { statusCode }) => resolve(statusCode));
        socket.on("open", () => resolve("open"));
      });
      expect([origin, status]).toEqual([origin, 403]);
    }
    await expectNobodyIn();
  });

  it("is refused without an Origin, as programs send none", async () => {
    const headers = { ...upgradeHeaders, host: served.host };
    expect((await ask(served.server.port, "GET", "/live", headers)).status).toBe(403);
    await expectNobodyIn();
  });
});

describe("Host and Origin on which a check might itself break off (CVE-2026-14631)", () => {
  const malformed = [
    "[",
    "[::1",
    "http://[",
    "://",
    "http://",
    "%",
    "%00",
    "\u00ff\u00fe",
    "http://127.0.0.1:99999999",
    "http:\\\\127.0.0.1",
    "a".repeat(8000),
    "127.0.0.1:8330@evil.example",
    "javascript:alert(1)",
    "data:,",
    "__proto__",
  ];

  it.each(malformed.map((value) => [value.slice(0, 40), value]))(
    "are refused like any other: %s",
    async (_, value) => {
      const { port } = served.server;
      const { host, origin, cookie } = served;
      const lines = (...more: string[]) => `${more.join("\r\n")}\r\n\r\n`;
      const upgrade = Object.entries(upgradeHeaders).map(([name, one]) => `${name}: ${one}`);
      for (const [own, from] of [
        [value, origin],
        [host, value],
        [value, value],
      ]) {
        const headers = [`Host: ${own}`, `Origin: ${from}`, `Cookie: ${cookie}`];
        const answers = [
          await raw(port, lines("GET /api/choices HTTP/1.1", ...headers)),
          await raw(port, lines("GET /live HTTP/1.1", ...headers, ...upgrade)),
        ];
        // Node answers 400 by itself where a header is none at all.
        for (const answer of answers) expect(answer).toMatch(/^HTTP\/1\.1 (403|400) /);
      }
      await expectNobodyIn();
    },
  );
});

describe("an upgrade", () => {
  it("passes every check of an ordinary request, on whatever path", async () => {
    const { port } = served.server;
    const { host, origin } = served;
    const strangers = [
      { host: "evil.example", origin },
      { host, origin: "http://evil.example" },
      { host, origin, cookie: "" },
      { host, origin, cookie: `${served.cookie}x` },
    ];
    for (const headers of strangers) {
      for (const path of ["/live", "/", "/api/choices", "//live", "/live/../live"]) {
        const { status } = await ask(port, "GET", path, { ...upgradeHeaders, ...headers });
        expect([401, 403]).toContain(status);
      }
    }
    const posted = await ask(port, "POST", "/live", { ...upgradeHeaders, host, origin }, "{}");
    expect(posted.status).toBeGreaterThanOrEqual(400);
    await expectNobodyIn();
  });
});

describe("a Content-Type with tricks (CVE-2026-25223)", () => {
  async function posted(type: string, body: string): Promise<string> {
    const { host, origin, cookie } = served;
    const head = [
      "POST /api/units HTTP/1.1",
      `Host: ${host}`,
      `Origin: ${origin}`,
      `Cookie: ${cookie}`,
      `Content-Type: ${type}`,
      `Content-Length: ${body.length}`,
    ];
    return raw(served.server.port, `${head.join("\r\n")}\r\n\r\n${body}`);
  }

  it.each([
    "application/json\ta",
    "application/json;",
    "application/json; a",
    "application/json\u00a0",
    "APPLICATION/JSON",
    "application/jsonx",
    "text/plain; application/json",
    "application/json/..",
    "",
  ])("is none of ours, whatever the body is: %j", async (type) => {
    expect(await posted(type, unit)).toMatch(/^HTTP\/1\.1 415 /);
    await expectNobodyIn();
  });

  it.each(["application/json", "application/json ", "application/json\t"])(
    "that is JSON about its spaces slips past no schema: %j",
    async (type) => {
      const body = JSON.stringify({ name: 1, text: [], replaces: {}, more: true });
      expect(await posted(type, body)).toMatch(/^HTTP\/1\.1 400 /);
      await expectNobodyIn();
      expect(await posted(type, unit)).toMatch(/^HTTP\/1\.1 201 /);
    },
  );
});

describe("text that a rig or a file sent (CVE-2025-64187)", () => {
  const MARKUP = `<img src=x onerror="alert(1)"></script><script>alert(2)</script>'"&`;
  const hostile: RunDocument[] = JSON.parse(
    JSON.stringify(runDocuments, (_, value: unknown) =>
      typeof value === "string" &&
      /^(Stand-in rig|stand-in 1|Four-cylinder|BW 4101|Sound unit|Invented)/.test(value)
        ? `${value}${MARKUP}`
        : value,
    ),
  );

  it("never becomes markup on a sheet, and nothing on it may run", async () => {
    const writer = served.store.begin(hostile[0] as typeof startDocument, { nowMs: () => 0 });
    for (const document of hostile.slice(1)) {
      if (document.type === "end") writer.end(document);
      else if (document.type !== "start") writer.append(document);
    }
    for (const query of ["", "?for=owner", "?for=tag"]) {
      const answer = await served.fetch(`/records/${RECORD_ID}/sheet.html${query}`);
      const html = await answer.text();
      expect(html).toContain("&lt;img src=x onerror=");
      expect(html).not.toMatch(/<(img src=x|script)/);
      const policy = answer.headers.get("content-security-policy") ?? "";
      expect(policy).toMatch(/^default-src 'none'; style-src 'sha256-/);
      expect(policy).not.toContain("script-src");
      expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
    }
    const data = await served.fetch(`/api/records/${RECORD_ID}`);
    expect(data.headers.get("content-type")).toBe("application/json; charset=utf-8");
  });
});

describe("whoever says of himself that he is local (CVE-2024-32977)", () => {
  const forged = {
    "x-forwarded-for": "127.0.0.1",
    "x-real-ip": "127.0.0.1",
    forwarded: "for=127.0.0.1",
    "x-forwarded-host": "127.0.0.1",
    "x-forwarded-proto": "https",
    "x-original-url": "/",
    "x-http-method-override": "GET",
  };

  it("is let in by no header, though he sends all of them", async () => {
    const { host, origin, server } = served;
    const headers = { host, origin, cookie: "", ...forged };
    for (const path of ["/", "/api/choices", "/api/records"]) {
      expect((await ask(server.port, "GET", path, headers)).status).toBe(401);
    }
    const upgrade = { ...headers, ...upgradeHeaders };
    expect((await ask(server.port, "GET", "/live", upgrade)).status).toBe(401);
    const post = await ask(server.port, "POST", "/api/units", { ...headers, ...json }, unit);
    expect(post.status).toBe(401);
    await expectNobodyIn();
  });

  it("gets a Host or a method by no such header either", async () => {
    const { origin, server } = served;
    const elsewhere = { host: "evil.example", origin, ...forged };
    expect((await ask(server.port, "GET", "/api/choices", elsewhere)).status).toBe(403);
    await expectNobodyIn();
  });
});

describe("the token of the printed address", () => {
  it("lets in once it was opened, by a cookie that no script and no other site can use", async () => {
    const { host, server } = served;
    const { pathname, search } = new URL(server.url);
    const opened = await ask(server.port, "GET", `${pathname}${search}`, { host, cookie: "" });
    expect([opened.status, opened.headers.location]).toEqual([303, "/"]);
    expect(opened.headers["set-cookie"]?.[0]).toMatch(
      /^bobweight-\d+=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/,
    );
    // The cookie is another secret than the one in the address.
    expect(opened.headers["set-cookie"]?.[0]).not.toContain(search.slice("?start=".length));
  });

  it("wrong, cut short, on another path, or in a foreign page's hands, lets nobody in", async () => {
    const { host, server } = served;
    const { search } = new URL(server.url);
    for (const path of [
      `/${search.slice(0, -1)}`,
      `/${search}x`,
      "/?start=",
      "/?start",
      `/api/choices${search}`,
      `/live${search}`,
      `/index.html${search}`,
    ]) {
      const answer = await ask(server.port, "GET", path, { host, cookie: "" });
      expect([path, answer.status, answer.headers["set-cookie"]]).toEqual([path, 401, undefined]);
    }
    const foreign = { host, origin: "http://evil.example", cookie: "" };
    expect((await ask(server.port, "GET", `/${search}`, foreign)).status).toBe(403);
  });

  it("is told to a browser that has none, in words", async () => {
    const headers = { host: served.host, cookie: "", accept: "text/html" };
    const answer = await ask(served.server.port, "GET", "/", headers);
    expect(answer.status).toBe(401);
    expect(answer.body).toContain("Open the address that Bobweight printed");
    expect(answer.headers["content-security-policy"]).toContain("script-src 'self'");
  });

  it("of another start is none", async () => {
    const other = await serve({ page: true });
    const { host, server } = served;
    const swapped = served.cookie.replace(/=.*/, other.cookie.replace(/^[^=]*/, ""));
    await other.close();
    expect((await ask(server.port, "GET", "/", { host, cookie: swapped })).status).toBe(401);
  });
});

describe("a look without an act", () => {
  it("changes nothing by GET or HEAD, on every route that changes something", async () => {
    served.store.begin(startDocument, { nowMs: () => 0 });
    const before = JSON.stringify(await served.store.heads({ limit: 10, before: null }));
    for (const path of [
      "/api/units",
      "/api/jobs",
      "/api/by-hand",
      "/api/drawer",
      "/api/settings",
      "/api/settings/logo",
      "/api/settings/logo/take-off",
      "/api/backup",
      "/api/restore",
      "/api/records",
      `/api/records/${RECORD_ID}/notes`,
      `/api/records/${RECORD_ID}/archive`,
    ]) {
      const { host, server } = served;
      await ask(server.port, "GET", `${path}?start=1`, { host });
      await ask(server.port, "HEAD", path, { host });
    }
    expect(JSON.stringify(await served.store.heads({ limit: 10, before: null }))).toBe(before);
    expect(served.bench.byHands).toEqual([]);
    await expectNobodyIn();
  });
});

describe("too much", () => {
  it("from one address is refused for a while, and others are heard", () => {
    const rate = new Rate(10, 5);
    const taken = (who: string, nowMs: number, times: number) =>
      Array.from({ length: times }, () => rate.takes(who, nowMs)).filter(Boolean).length;
    expect(taken("flood", 0, 100)).toBe(10);
    expect(taken("other", 0, 3)).toBe(3);
    expect(taken("flood", 1000, 100)).toBe(5);
    expect(taken("flood", 100_000, 100)).toBe(10);
  });

  it("of requests is refused by status 429", async () => {
    const asked = Array.from({ length: 1300 }, () =>
      ask(served.server.port, "GET", "/api/ports", { host: served.host }).catch(() => null),
    );
    const statuses = (await Promise.all(asked)).map((answer) => answer?.status);
    expect(statuses).toContain(429);
    expect(statuses.filter((status) => status === 200).length).toBeGreaterThan(400);
  });

  it("of messages ends the connection, and with it the run that it controls", async () => {
    const page = await Page.open(served);
    page.say(startMessage);
    await page.status("you");
    for (let i = 0; i < 300; i++) page.say({ type: "alive" });
    await page.closed;
    await expect.poll(() => served.bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
  });
});

describe("opened to the network", () => {
  const PASSWORD = "correct horse battery";
  let open: Served;

  beforeAll(async () => {
    open = await serve({
      page: true,
      network: { host: "0.0.0.0", names: ["workshop.local"], password: PASSWORD, tls: null },
    });
  });

  afterAll(() => open.close());

  const login = (password: unknown) => {
    const host = `workshop.local:${open.server.port}`;
    const headers = { host, origin: `http://${host}`, cookie: "", ...json };
    return ask(open.server.port, "POST", "/login", headers, JSON.stringify({ password }));
  };

  it("asks for the password before anything else", async () => {
    const host = `workshop.local:${open.server.port}`;
    const headers = { host, cookie: "", accept: "text/html" };
    for (const path of ["/", "/page.js", "/api/choices"]) {
      const answer = await ask(open.server.port, "GET", path, headers);
      expect([path, answer.status]).toEqual([path, 401]);
    }
    expect((await ask(open.server.port, "GET", "/", headers)).body).toContain('type="password"');
    expect((await ask(open.server.port, "GET", "/login.js", headers)).status).toBe(200);
    const unnamed = { ...headers, host: `other.local:${open.server.port}` };
    expect((await ask(open.server.port, "GET", "/", unnamed)).status).toBe(403);
  });

  it("lets in by the password, and is slower with each wrong one", async () => {
    const right = await login(PASSWORD);
    const cookie = right.headers["set-cookie"]?.[0]?.split(";")[0] ?? "";
    expect(right.status).toBe(200);
    const host = `workshop.local:${open.server.port}`;
    const { port } = open.server;
    expect((await ask(port, "GET", "/api/choices", { host, cookie })).status).toBe(200);
    for (const wrong of [[], null, 1, "", "x".repeat(2000)]) {
      expect((await login(wrong)).status).toBe(400);
    }
    const said: string[] = [];
    for (let i = 0; i < 4; i++) {
      const answer = await login("wrong");
      expect([answer.status, answer.headers["set-cookie"]]).toEqual([401, undefined]);
      said.push(JSON.parse(answer.body).said.say);
    }
    expect(said).toContain("No password is taken for {} s.");
    // The right one has to wait as well: whoever guesses learns nothing by it.
    expect((await login(PASSWORD)).status).toBe(401);
  });

  it("does not count a forged header as this computer, nor the token's absence", async () => {
    const host = `127.0.0.1:${open.server.port}`;
    const headers = { host, cookie: "", "x-forwarded-for": "127.0.0.1" };
    expect((await ask(open.server.port, "GET", "/api/choices", headers)).status).toBe(401);
    expect(await openedBy(open.server)).toMatch(/^bobweight-/);
  });
});
