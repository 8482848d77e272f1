// A server with a fake bench, and clients that can send what a browser would not.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { type IncomingHttpHeaders, request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WebSocket } from "ws";
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type {
  Choices,
  ClientMessage,
  NewByHand,
  ServerMessage,
  UnitOnHand,
  UnitsOnHand,
} from "../../core/messages.ts";
import type { Bench, Run, StartRequest } from "../../server/http/bench.ts";
import type { NetworkEntrance } from "../../server/http/entrance.ts";
import { openServer, type RunningServer } from "../../server/http/server.ts";
import { Keeping, type RunProgram } from "../../server/keeping.ts";
import { restoreBackup, writeBackup } from "../../server/store/backup.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { endDocument } from "../sheet/fixture.ts";

export const choices: Choices = {
  rigs: [{ id: "stand-in", name: "Stand-in rig", simulated: true, note: "", checks: [] }],
  units: [],
  scenarios: [],
  cautions: ["Guard shut?"],
};

/** Does what the test says, and notes what it was asked. */
export class FakeBench implements Bench {
  readonly starts: StartRequest[] = [];
  readonly stops: string[] = [];
  alives = 0;
  /** Rejects starts with this. */
  failure: Error | null = null;
  /** Holds every start back until it is called. */
  private release: (() => void) | null = null;
  private held = false;
  private emitter: ((document: RunDocument) => void) | null = null;
  private finish: ((end: EndDocument) => void) | null = null;
  private breakOff: ((error: Error) => void) | null = null;

  readonly byHands: NewByHand[] = [];

  choices(): Promise<Choices> {
    return Promise.resolve(choices);
  }

  readonly onHand: UnitOnHand[] = [];

  async units(): Promise<UnitsOnHand> {
    return { units: this.onHand, passedOver: [] };
  }

  async byHand(asked: NewByHand): Promise<string> {
    if (asked.notes === "nonsense") throw new BobweightError("NOTES_INVALID", "Readings, line 1.");
    this.byHands.push(asked);
    return "a record";
  }

  holdStarts(): () => void {
    this.held = true;
    return () => this.release?.();
  }

  async start(asked: StartRequest, emit: (document: RunDocument) => void): Promise<Run> {
    this.starts.push(asked);
    if (this.held) {
      await new Promise<void>((resolve) => {
        this.release = resolve;
      });
    }
    if (this.failure !== null) throw this.failure;
    this.emitter = emit;
    const ended = new Promise<EndDocument>((resolve, reject) => {
      this.finish = resolve;
      this.breakOff = reject;
    });
    return {
      ended,
      stop: (code) => {
        this.stops.push(code);
        this.end();
      },
      alive: () => {
        this.alives++;
      },
    };
  }

  emit(...documents: RunDocument[]): void {
    for (const document of documents) this.emitter?.(document);
  }

  end(): void {
    this.emit(endDocument);
    this.finish?.(endDocument);
  }

  fail(error: Error): void {
    this.breakOff?.(error);
  }
}

/** What `bobweight backup` and `restore` do, within the tests' own process. */
const backupProgram: RunProgram = async ([command, path = "", , folder = ""]) => {
  try {
    const contents = await (command === "backup"
      ? writeBackup(folder, path)
      : restoreBackup(path, folder));
    return { status: 0, out: JSON.stringify(contents), err: "" };
  } catch (error) {
    if (!(error instanceof BobweightError)) throw error;
    return { status: 65, out: "", err: `${JSON.stringify(error.told)}\n` };
  }
};

export interface Served {
  readonly bench: FakeBench;
  readonly store: Store;
  readonly keeping: Keeping;
  readonly server: RunningServer;
  readonly reports: unknown[];
  readonly host: string;
  readonly origin: string;
  readonly cookie: string;
  /** As a page of this server asks: a path, with the cookie and the Origin. */
  fetch(
    path: string,
    request?: { method: string; type: string; body: Uint8Array | string },
  ): Promise<Response>;
  /** Closes everything; a second call does nothing. */
  close(): Promise<void>;
}

/** By port, what lets a request in: `ask` and `Page` bring it along unless they are told otherwise. */
const cookies = new Map<number, string>();

/** What opening the printed address gives a browser. */
export async function openedBy(server: RunningServer): Promise<string> {
  const { host, pathname, search } = new URL(server.url);
  const { headers } = await ask(server.port, "GET", `${pathname}${search}`, { host });
  return headers["set-cookie"]?.[0]?.split(";")[0] ?? "";
}

export async function serve(options: {
  page: boolean;
  network?: NetworkEntrance;
}): Promise<Served> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-http-"));
  if (options.page) {
    writeFileSync(join(folder, "index.html"), "<!doctype html><title>the page</title>");
    writeFileSync(join(folder, "page.js"), "export {};");
  }
  const bench = new FakeBench();
  const store = await openStore(join(folder, "data"));
  const keeping = new Keeping(join(folder, "data"), backupProgram);
  const reports: unknown[] = [];
  const server = await openServer({
    port: 0,
    network: options.network ?? null,
    pageFolder: folder,
    bench,
    store,
    keeping,
    ports: () => Promise.resolve([{ path: "/dev/ttyACM0", note: "an adapter" }]),
    checkUnit(text, name) {
      if (!text.startsWith("{")) throw new BobweightError("FILE_NOT_JSON", `${name}, line 1.`);
    },
    report: (error) => reports.push(error),
  });
  const cookie = await openedBy(server);
  cookies.set(server.port, cookie);
  let closed = false;
  return {
    bench,
    store,
    keeping,
    server,
    reports,
    host: `127.0.0.1:${server.port}`,
    origin: `http://127.0.0.1:${server.port}`,
    cookie,
    fetch(path, request) {
      const origin = `http://127.0.0.1:${server.port}`;
      const type = request === undefined ? {} : { "content-type": request.type };
      const headers = { cookie, origin, ...type };
      return fetch(`${origin}${path}`, { ...request, headers } as RequestInit);
    },
    async close() {
      if (closed) return;
      closed = true;
      await server.close();
      rmSync(folder, { recursive: true });
    },
  };
}

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** One request with exactly these headers, Host included, and the cookie; names and values in turn send one twice. */
export function ask(
  port: number,
  method: string,
  path: string,
  headers: Record<string, string> | readonly string[],
  body: string | null = null,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request(
      { host: "127.0.0.1", port, method, path, headers, setHost: false, agent: false },
      (response) => {
        let text = "";
        response.setEncoding("utf8");
        response.on("data", (part: string) => {
          text += part;
        });
        response.on("end", () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body: text }),
        );
      },
    );
    // A refused upgrade is a plain answer; an accepted one has status 101.
    asked.on("upgrade", (response, socket) => {
      socket.destroy();
      resolve({ status: response.statusCode ?? 0, headers: response.headers, body: "" });
    });
    asked.on("error", reject);
    const cookie = cookies.get(port);
    const isOpen = !Array.isArray(headers) && !asked.hasHeader("cookie");
    if (cookie !== undefined && isOpen) asked.setHeader("cookie", cookie);
    if (body !== null) asked.setHeader("content-length", Buffer.byteLength(body));
    asked.end(body);
  });
}

export const upgradeHeaders = {
  connection: "Upgrade",
  upgrade: "websocket",
  "sec-websocket-version": "13",
  "sec-websocket-key": "AAAAAAAAAAAAAAAAAAAAAA==",
} as const;

/** A page: what it was told, in order, and a wait for the next that fits. */
export class Page {
  readonly heard: ServerMessage[] = [];
  readonly socket: WebSocket;
  readonly closed: Promise<number>;
  private seen = 0;
  private wake: (() => void) | null = null;

  private constructor(socket: WebSocket) {
    this.socket = socket;
    socket.on("message", (data) => {
      this.heard.push(JSON.parse(String(data)) as ServerMessage);
      this.wake?.();
    });
    this.closed = new Promise((resolve) => socket.on("close", resolve));
  }

  static async open({ host, origin, server }: Served): Promise<Page> {
    const cookie = cookies.get(server.port) ?? "";
    const page = new Page(new WebSocket(`ws://${host}/live`, { origin, headers: { cookie } }));
    await new Promise((resolve, reject) => {
      page.socket.once("open", resolve);
      page.socket.once("error", reject);
    });
    await page.next((message) => message.type === "status");
    return page;
  }

  say(message: ClientMessage | Record<string, unknown>): void {
    this.socket.send(JSON.stringify(message));
  }

  /** The next message, from where the last wait ended, that fits. The test's own time limit ends a vain wait. */
  async next(fits: (message: ServerMessage) => boolean): Promise<ServerMessage> {
    for (;;) {
      while (this.seen < this.heard.length) {
        const message = this.heard[this.seen++] as ServerMessage;
        if (fits(message)) return message;
      }
      await new Promise<void>((resolve) => {
        this.wake = resolve;
      });
    }
  }

  status(control: "free" | "you" | "other"): Promise<ServerMessage> {
    return this.next((message) => message.type === "status" && message.control === control);
  }

  refused(): Promise<ServerMessage> {
    return this.next((message) => message.type === "refused");
  }

  document(type: RunDocument["type"]): Promise<ServerMessage> {
    return this.next((message) => message.type === "document" && message.document.type === type);
  }
}

export const startMessage: Extract<ClientMessage, { type: "start" }> = {
  type: "start",
  rigId: "stand-in",
  unitId: "some unit",
  scenarioId: null,
  pace: 1,
  plan: null,
  contacts: null,
  afterRecordId: null,
  jobId: null,
  cautionsRead: true,
};
