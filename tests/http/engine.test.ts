// The routes of a record's engine figures: kept beside it, handed on within a job, and printed.
import { afterAll, beforeAll, expect, it } from "vitest";
import type { EngineAsked } from "../../core/engine/asked.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { RECORD_ID, runDocuments, startDocument } from "../sheet/fixture.ts";
import { ask, type Served, serve } from "./served.ts";

const SECOND_ID = "019a0000-0000-7000-8000-000000000002";
const ASKED: EngineAsked = {
  initialTimingCrankshaftDeg: 6,
  atEngineRpm: 0,
  vacuumPort: "none",
  idleEngineRpm: null,
  engineSpeedsRpm: [1600],
  capsule: 0,
  unloadedVacuumPa: 50_000,
  cruiseVacuumPa: 40_000,
  readings: [{ engineRpm: 1600, markCrankshaftDeg: 30, vacuumLine: "plugged" }],
};

let served: Served;

beforeAll(async () => {
  served = await serve({ page: false });
  for (const recordId of [RECORD_ID, SECOND_ID]) {
    const writer = served.store.begin({ ...startDocument, recordId }, { nowMs: () => 0 });
    for (const document of runDocuments) {
      if (document.type === "end") writer.end(document);
      else if (document.type !== "start") writer.append(document);
    }
  }
});

afterAll(() => served.close());

async function call(method: string, path: string, body: unknown = null) {
  const { host, origin, server } = served;
  const headers = { host, origin, "content-type": "application/json" };
  const text = body === null ? null : JSON.stringify(body);
  return ask(server.port, method, path, headers, text);
}

const engineOf = async (id: string) =>
  JSON.parse((await call("GET", `/api/records/${id}/engine`)).body).asked;

it("keeps what was asked beside the record, and hands the timing on within the job", async () => {
  expect(await engineOf(RECORD_ID)).toBeNull();
  const before = (await call("GET", `/api/records/${RECORD_ID}`)).body;
  expect((await call("POST", `/api/records/${RECORD_ID}/engine`, ASKED)).status).toBe(201);
  expect(await engineOf(RECORD_ID)).toEqual(ASKED);
  expect((await call("GET", `/api/records/${RECORD_ID}`)).body).toBe(before);
  expect(await engineOf(SECOND_ID)).toBeNull();
  const jobId = await served.store.jobs.add(EMPTY_CARD);
  for (const id of [RECORD_ID, SECOND_ID]) await served.store.jobs.attach(jobId, id);
  expect(await engineOf(SECOND_ID)).toEqual({ ...ASKED, readings: [] });
});

it.each([
  ["initialTimingCrankshaftDeg", { initialTimingCrankshaftDeg: 61 }],
  ["vacuumPort", { vacuumPort: "carburettor" }],
  [
    "readings.0.markCrankshaftDeg",
    { readings: [{ ...ASKED.readings[0], markCrankshaftDeg: 121 }] },
  ],
])("refuses a wrong %s", async (field, wrong) => {
  const answer = await call("POST", `/api/records/${RECORD_ID}/engine`, { ...ASKED, ...wrong });
  expect([answer.status, JSON.parse(answer.body).code]).toEqual([400, "REQUEST_REFUSED"]);
  expect(answer.body).toContain(field);
});

it("knows no record that is not there", async () => {
  expect((await call("POST", "/api/records/nobody/engine", ASKED)).status).toBe(404);
});

it("prints what is asked with its cautions, and nothing runs in it", async () => {
  const query = new URLSearchParams({ asked: JSON.stringify(ASKED), paper: "letter" });
  const answer = await call("GET", `/records/${RECORD_ID}/engine.html?${query}`);
  expect(answer.status).toBe(200);
  expect(answer.headers["content-security-policy"]).toMatch(/style-src 'sha256-[^']+'; base-uri/);
  // The fixture's curve has 3.74° at 800.6 distributor rpm: 6 + 2 × 3.7.
  expect(answer.body).toMatch(/<td[^>]*>1600<\/td><td[^>]*>13\.[45] ±/);
  expect(answer.body).toContain("Exhaust gas kills");
  expect(answer.body).toContain("does not agree");
  const wrong = await call("GET", `/records/${RECORD_ID}/engine.html?asked=nonsense`);
  expect([wrong.status, JSON.parse(wrong.body).code]).toEqual([400, "REQUEST_REFUSED"]);
});
