// Who comes in, asked of the entrance itself: each condition by itself, with all others met.
import type { IncomingMessage } from "node:http";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Entrance, type NetworkEntrance, notAdmitted } from "../../server/http/entrance.ts";

const PORT = 8330;
const PASSWORD = "correct horse battery";
const NETWORK: NetworkEntrance = {
  host: "0.0.0.0",
  names: ["workshop.local"],
  password: PASSWORD,
  tls: null,
};

interface Asked {
  readonly method?: string;
  readonly url?: string;
  readonly peer?: string | undefined;
  readonly cookie?: string;
  readonly port?: number;
}

function asked(given: Asked): IncomingMessage {
  const { method = "GET", url = "/", peer = "127.0.0.1", cookie, port = PORT } = given;
  const socket = { remoteAddress: "peer" in given ? given.peer : peer, localPort: port };
  return { method, url, socket, headers: { cookie } } as unknown as IncomingMessage;
}

const pathOf = (entrance: Entrance) => entrance.startUrl(PORT).replace(/^[a-z]+:\/\/[^/]*/, "");
const cookieOf = (entrance: Entrance) => entrance.cookie(asked({})).split(";")[0] ?? "";

describe("an entrance", () => {
  const entrance = new Entrance(null);

  it("is this computer's, plain, and takes no password", async () => {
    expect([entrance.scheme, entrance.takesPassword]).toEqual(["http", false]);
    expect(entrance.names).toEqual(["127.0.0.1", "localhost"]);
    expect(entrance.startUrl(PORT)).toMatch(/^http:\/\/127\.0\.0\.1:8330\/\?start=[\w-]{43}$/);
    expect(await entrance.refusalOf("")).toEqual(notAdmitted());
    expect(notAdmitted().code).toBe("NOT_ADMITTED");
    expect(notAdmitted().text).toContain("This page has not been opened by its own address.");
  });

  it("welcomes whoever brings the token, from this computer by every name of it", () => {
    const url = pathOf(entrance);
    for (const peer of ["127.0.0.1", "::1", "::ffff:127.0.0.1"]) {
      expect(entrance.look(asked({ url, peer }))).toBe("welcome");
    }
    // With a cookie too: the token goes out of the address all the same.
    expect(entrance.look(asked({ url, cookie: cookieOf(entrance) }))).toBe("welcome");
  });

  it.each<[string, (url: string) => Asked]>([
    ["by another method", (url) => ({ url, method: "POST" })],
    ["from another computer", (url) => ({ url, peer: "192.168.1.20" })],
    ["from a peer that is gone", (url) => ({ url, peer: undefined })],
    ["by another start", () => ({ url: pathOf(new Entrance(null)) })],
    ["without the token", () => ({ url: "/?start=" })],
    ["by a longer one", (url) => ({ url: `${url}x` })],
    ["at another place", (url) => ({ url: `/x${url}` })],
    ["under another name", (url) => ({ url: url.replace("start", "begin") })],
    ["without an address", () => ({ url: "" })],
  ])("lets nobody in %s", (_, given) => {
    expect(entrance.look(asked(given(pathOf(entrance))))).toBe("out");
  });

  it("lets in whoever has the cookie, among others too", () => {
    const cookie = cookieOf(entrance);
    expect(cookie).toMatch(/^bobweight-8330=[\w-]{43}$/);
    for (const one of [cookie, `a=b; ${cookie}`, `a=b;${cookie};c=d`, ` ${cookie} ; c=d`]) {
      expect(entrance.look(asked({ cookie: one, method: "POST", peer: "192.168.1.20" }))).toBe(
        "in",
      );
    }
  });

  it("lets nobody in by another cookie", () => {
    const cookie = cookieOf(entrance);
    const others = [
      ...["", "bobweight-8330=", `x${cookie}`, `${cookie}x`, cookie.slice(0, -1)],
      ...[cookie.replace("8330", "8331"), cookieOf(new Entrance(null)), `a=${cookie}`],
    ];
    for (const one of others) expect(entrance.look(asked({ cookie: one }))).toBe("out");
    expect(entrance.look(asked({}))).toBe("out");
    // A cookie knows no port, so its name does.
    expect(entrance.look(asked({ cookie, port: 8331 }))).toBe("out");
  });

  it("gives a cookie that scripts and other sites do not get, encrypted alone where it is", () => {
    expect(entrance.cookie(asked({}))).toMatch(
      /^bobweight-8330=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/,
    );
    const tls = new Entrance({ ...NETWORK, tls: { cert: "", key: "" } });
    expect(tls.scheme).toBe("https");
    expect(tls.cookie(asked({}))).toMatch(/; SameSite=Strict; Secure$/);
    expect(tls.startUrl(PORT)).toMatch(/^https:\/\/127\.0\.0\.1:8330\//);
  });
});

describe("an entrance of the network", () => {
  let nowMs = 0;

  beforeEach(() => {
    nowMs = 1000;
    vi.spyOn(performance, "now").mockImplementation(() => nowMs);
  });

  afterEach(() => {
    vi.restoreAllMocks();
  });

  it("has its names beside this computer's, and a password", async () => {
    const entrance = new Entrance(NETWORK);
    expect([entrance.scheme, entrance.takesPassword]).toEqual(["http", true]);
    expect(entrance.names).toEqual(["127.0.0.1", "localhost", "workshop.local"]);
    expect(await entrance.refusalOf(PASSWORD)).toBeNull();
    expect(await entrance.refusalOf(`${PASSWORD}x`)).toMatchObject({
      code: "PASSWORD_WRONG",
      said: { say: "That is not the password." },
    });
  });

  it("makes waits of one second from the third wrong one on, doubled each time, and forgets by a right one", async () => {
    const entrance = new Entrance(NETWORK);
    const tried = async (password: string) => {
      const refusal = await entrance.refusalOf(password);
      return refusal === null ? "in" : refusal.text.split(".")[0];
    };
    const wrong = "That is not the password";
    expect([await tried("a"), await tried("b"), await tried("c")]).toEqual([wrong, wrong, wrong]);
    expect(await tried(PASSWORD)).toBe("No password is taken for 1 s");
    nowMs += 999;
    expect(await tried(PASSWORD)).toBe("No password is taken for 1 s");
    nowMs += 1;
    expect(await tried("d")).toBe(wrong);
    expect(await tried(PASSWORD)).toBe("No password is taken for 2 s");
    nowMs += 2000;
    expect(await tried("e")).toBe(wrong);
    expect(await tried("e")).toBe("No password is taken for 4 s");
    nowMs += 4000;
    expect(await tried(PASSWORD)).toBe("in");
    // From the beginning again.
    expect([await tried("a"), await tried("b")]).toEqual([wrong, wrong]);
    expect(await tried(PASSWORD)).toBe("in");
  });

  it("never makes a wait longer than a minute", async () => {
    const entrance = new Entrance(NETWORK);
    for (let i = 0; i < 9; i++) {
      await entrance.refusalOf("wrong");
      nowMs += 60_000;
    }
    // The ninth would be 64 s.
    expect(await entrance.refusalOf("wrong")).toMatchObject({ code: "PASSWORD_WRONG" });
    expect((await entrance.refusalOf(PASSWORD))?.text).toContain("taken for 60 s");
  });

  it("compares one password at a time", async () => {
    const entrance = new Entrance(NETWORK);
    const [first, second] = await Promise.all([
      entrance.refusalOf(PASSWORD),
      entrance.refusalOf(PASSWORD),
    ]);
    expect(first).toBeNull();
    expect(second?.text).toContain("No password is taken for 1 s");
    expect(await entrance.refusalOf(PASSWORD)).toBeNull();
  });
});
