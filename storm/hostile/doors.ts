// Hostile requests to the real server: good ones of every route that takes something in, mangled.
import { readdirSync, readFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import type { Draw } from "../../accuracy/draw.ts";
import { BACKUP_TYPE } from "../../core/backup.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { projectFolder } from "../../server/measurement.ts";
import type { Listened } from "../wire/listened.ts";
import { mangled, mangledBytes, PNG } from "./mangle.ts";

const EXAMPLES = join(projectFolder(), "examples");
const JSON_TYPE = "application/json";
/** Longer, and a run beside it would be without its sign of life. */
const ANSWER_MS_MAX = 5000;

/** A request; what it carries is good until it is mangled. */
export interface Knock {
  readonly method: "GET" | "POST";
  readonly path: string;
  readonly type: string;
  readonly body: string | Uint8Array;
}

/** What the server has by the time, for requests that name it. */
export interface OnHand {
  readonly jobId: string;
  readonly recordId: string;
}

export interface Answered {
  readonly status: number;
  readonly body: string;
}

function text(ending: string): string {
  const [name = ""] = readdirSync(EXAMPLES).filter((one) => one.endsWith(ending));
  return readFileSync(join(EXAMPLES, name), "utf8");
}

const post = (path: string, body: unknown): Knock => ({
  ...{ method: "POST", path, type: JSON_TYPE, body: JSON.stringify(body) },
});
const get = (path: string): Knock => ({ method: "GET", path, type: JSON_TYPE, body: "" });

/** The record and the job that other requests name. @throws where the server refuses good ones */
export async function prepared(bench: Listened): Promise<OnHand> {
  const job = await made(bench, post("/api/jobs", EMPTY_CARD));
  const notes = text(".by-hand.txt");
  const record = await made(bench, post("/api/by-hand", { unitId: "everyday", notes, jobId: job }));
  return { jobId: job, recordId: record };
}

async function made(bench: Listened, knock: Knock): Promise<string> {
  const { status, body } = await knocked(bench, knock);
  if (status !== 201) throw new Error(`${knock.path}: ${status} ${body}`);
  return (JSON.parse(body) as { id: string }).id;
}

/** Every route that takes something in, as a page asks it. */
export function goodKnocks({ jobId, recordId }: OnHand): readonly Knock[] {
  const record = `/api/records/${recordId}`;
  const job = `/api/jobs/${jobId}`;
  const engine = {
    ...{ initialTimingCrankshaftDeg: 8, atEngineRpm: 600, vacuumPort: "ported" },
    ...{ idleEngineRpm: 800, engineSpeedsRpm: [1000, 2000], capsule: 0 },
    ...{ unloadedVacuumPa: 0, cruiseVacuumPa: 40_000, readings: [] },
  };
  const asked = encodeURIComponent(JSON.stringify(engine));
  const image = (path: string): Knock => ({ method: "POST", path, type: "image/png", body: PNG });
  return [
    post("/api/jobs", EMPTY_CARD),
    post(`${job}/card`, { ...EMPTY_CARD, partsReplaced: ["bush"], sidePlayMm: 0.05 }),
    post(`${job}/undo`, {}),
    post(`${job}/archive`, { archived: true }),
    post(`${job}/records`, { recordId }),
    image(`${job}/photos?name=before`),
    image("/api/settings/logo"),
    post("/api/settings", FIRST_SETTINGS),
    post("/api/settings/logo/take-off", {}),
    post("/api/by-hand", { unitId: "everyday", notes: text(".by-hand.txt"), jobId: null }),
    post("/api/units", { name: "a", text: text("everyday.unit.json"), replaces: null }),
    post("/api/drawer", { name: "a", text: text(".springs.csv") }),
    post("/api/drawer/bring-back", {}),
    post(`${record}/engine`, engine),
    post(`${record}/notes`, { text: "Bush replaced." }),
    post(`${record}/notes/1/take-back`, { takenBack: true }),
    post(`${record}/archive`, { archived: false }),
    post("/api/records?name=a", { format: "bobweight record", version: 1, documents: [] }),
    post("/login", { password: "a" }),
    get(`/records/${recordId}/engine.html?asked=${asked}`),
    get(`/records/${recordId}/sheet.html?paper=a4&for=owner`),
    get(`${job}/photos/1`),
    get("/api/jobs?search=a&archived=true"),
    get("/api/records?search=a"),
    get(`/backups/${recordId}.backup`),
    get(`/api/units/everyday`),
    get("/index.html"),
  ];
}

/** The same, with what it carries or where it goes no longer good. */
export function hostileKnock(draw: Draw, good: Knock): Knock {
  // A restore reads the whole of its body by a process of its own: a few will do.
  if (draw.chance(0.003)) {
    return { ...good, method: "POST", path: "/api/restore", type: BACKUP_TYPE, body: PNG };
  }
  const type = draw.chance(0.05)
    ? draw.oneOf([JSON_TYPE, "image/jpeg", "text/plain", `${JSON_TYPE};\ttext/plain`, BACKUP_TYPE])
    : good.type;
  const isPath = good.method === "GET" || draw.chance(0.2);
  const path = isPath ? hostilePath(draw, good.path) : good.path;
  if (good.method === "GET") return { ...good, type, path };
  const body =
    typeof good.body === "string" ? mangled(draw, good.body) : mangledBytes(draw, good.body);
  return { ...good, type, path, body };
}

const STEPS = [
  "..%2f..%2fetc%2fpasswd",
  "..",
  "%00",
  "%ff",
  "%",
  "__proto__",
  "constructor",
  "",
  "%E2",
];

function hostilePath(draw: Draw, path: string): string {
  const parts = path.split(/(?<=[/?&=])/);
  const at = draw.whole(1, parts.length - 1);
  const by = draw.chance(0.5)
    ? draw.oneOf(STEPS)
    : encodeURIComponent(writable(mangled(draw, parts[at] ?? "").slice(0, 2000)));
  return parts
    .map((part, i) => (i === at ? by + (/[/?&=]$/.exec(part)?.[0] ?? "") : part))
    .join("");
}

/** A lone surrogate cannot be written in an address at all. */
function writable(text: string): string {
  return Buffer.from(text, "utf8").toString("utf8");
}

/** Sends a request as the page of this server would. @throws where no answer comes */
export function knocked(
  { origin, cookie }: Pick<Listened, "origin" | "cookie">,
  { method, path, type, body }: Knock,
): Promise<Answered> {
  const headers = { origin, cookie, ...(method === "POST" ? { "content-type": type } : {}) };
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(origin);
    const asked = request({ hostname, port, method, path, headers, agent: false }, (response) => {
      const parts: Buffer[] = [];
      response.on("data", (part: Buffer) => parts.push(part));
      response.on("error", reject);
      response.on("end", () =>
        resolve({ status: response.statusCode ?? 0, body: Buffer.concat(parts).toString("utf8") }),
      );
    });
    asked.setTimeout(ANSWER_MS_MAX, () => asked.destroy(new Error("no answer")));
    asked.on("error", reject);
    asked.end(body);
  });
}

/** What is wrong with an answer, in a sentence; null: it is read, or refused with code and remedy. */
export function faultOf({ status, body }: Answered): string | null {
  if (status >= 200 && status < 400) return null;
  if (status >= 500 || status < 200) return `status ${status}: ${body.slice(0, 200)}`;
  try {
    const { code, text: told } = JSON.parse(body) as { code?: unknown; text?: unknown };
    const isTold = typeof code === "string" && code !== "BUG" && typeof told === "string";
    // What is wrong, and what to do: two sentences at least.
    if (isTold && /\S\. +\S.*\S/s.test(told)) return null;
  } catch {
    // Told below.
  }
  return `status ${status} without code and remedy: ${body.slice(0, 200)}`;
}
