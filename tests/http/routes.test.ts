// What the REST routes answer.
import { createHash } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { ListedRecord } from "../../core/records/listed.ts";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { openServer } from "../../server/http/server.ts";
import { keepSettings } from "../../server/settings.ts";
import { RECORD_ID, runDocuments, startDocument } from "../sheet/fixture.ts";
import { type Answer, ask, choices, type Served, serve } from "./served.ts";

let served: Served;
let unbuilt: Served;

beforeAll(async () => {
  served = await serve({ page: true });
  unbuilt = await serve({ page: false });
  const writer = served.store.begin(startDocument, { nowMs: () => 0 });
  for (const document of runDocuments) {
    if (document.type === "end") writer.end(document);
    else if (document.type !== "start") writer.append(document);
  }
});

afterAll(async () => {
  await served.close();
  await unbuilt.close();
});

const get = (path: string): Promise<Answer> =>
  ask(served.server.port, "GET", path, { host: served.host });

function post(body: unknown, path = "/api/units"): Promise<Answer> {
  const { host, origin, server } = served;
  const headers = { host, origin, "content-type": "application/json" };
  return ask(server.port, "POST", path, headers, JSON.stringify(body));
}

const parsed = ({ body }: Answer) => JSON.parse(body);

describe("the API", () => {
  it("gives choices, ports, heads and a record", async () => {
    expect(parsed(await get("/api/choices"))).toEqual(choices);
    expect(parsed(await get("/api/ports"))).toEqual([{ path: "/dev/ttyACM0", note: "an adapter" }]);
    const heads: ListedRecord[] = parsed(await get("/api/records")).records;
    expect(heads.map(({ id, ending, verdict }) => [id, ending, verdict])).toEqual([
      [RECORD_ID, "completed", "unproven"],
    ]);
    expect(parsed(await get(`/api/records/${RECORD_ID}`))).toMatchObject({
      head: { id: RECORD_ID, ending: "completed", verdict: "unproven" },
      documents: runDocuments,
    });
    expect(parsed(await get(`/api/records?limit=1&before=${RECORD_ID}`))).toEqual({
      records: [],
      before: null,
    });
  });

  it.each([
    ["/api/records/nobody", 404, "RECORD_UNKNOWN"],
    ["/records/nobody/sheet.html", 404, "RECORD_UNKNOWN"],
    ["/records/nobody/curves.csv", 404, "RECORD_UNKNOWN"],
    ["/records/nobody/record.json", 404, "RECORD_UNKNOWN"],
    ["/api/nothing", 404, "REQUEST_REFUSED"],
    ["/../package.json", 403, "REQUEST_REFUSED"],
    ["/..%2fdata%2fbobweight.sqlite", 404, "REQUEST_REFUSED"],
    ["/api/records?limit=0", 400, "REQUEST_REFUSED"],
    ["/api/records?limit=1&more=1", 400, "REQUEST_REFUSED"],
    [`/records/${RECORD_ID}/sheet.html?paper=a5`, 400, "REQUEST_REFUSED"],
  ])("refuses %s with %i %s", async (path, status, code) => {
    const answer = await get(path);
    expect([answer.status, parsed(answer).code]).toEqual([status, code]);
  });

  it("gives units on file, what one was before, and a unit file to carry off", async () => {
    served.bench.onHand.push({
      id: "everyday",
      file: { lobes: 4 },
      addedUtc: null,
      fileName: null,
      versions: [],
    });
    expect(parsed(await get("/api/units"))).toEqual({ units: served.bench.onHand, passedOver: [] });
    expect(parsed(await get("/api/units/everyday"))).toEqual({ file: { lobes: 4 } });
    const carried = await get("/api/units/everyday/unit.json");
    expect(carried.headers["content-disposition"]).toContain("attachment");
    expect(carried.body).toBe('{\n  "lobes": 4\n}\n');
    const unknown = await get("/api/units/nobody");
    expect([unknown.status, parsed(unknown).code]).toEqual([404, "UNIT_UNKNOWN"]);
  });

  it("keeps a unit file once it has been found good", async () => {
    const bad = await post({ name: "unit.json", text: "no" });
    expect([bad.status, parsed(bad).code, parsed(bad).text]).toEqual([
      400,
      "FILE_NOT_JSON",
      "unit.json, line 1. Mend the JSON at the place named.",
    ]);
    const more = await post({ name: "unit.json", text: "{}", path: "/etc" });
    expect([more.status, parsed(more).code]).toEqual([400, "REQUEST_REFUSED"]);
    expect(await served.store.units.current()).toEqual([]);
    const good = await post({ name: "unit.json", text: "{ }" });
    expect(good.status).toBe(201);
    expect((await served.store.units.current()).map(({ id, fileText }) => [id, fileText])).toEqual([
      [parsed(good).id, "{ }"],
    ]);
  });

  it("keeps readings taken by hand, and says which line cannot be read", async () => {
    const asked = { unitId: "everyday", notes: "500 0", jobId: null };
    const good = await post(asked, "/api/by-hand");
    expect([good.status, parsed(good)]).toEqual([201, { id: "a record" }]);
    expect(served.bench.byHands).toEqual([asked]);
    const wrong = await post({ ...asked, notes: "nonsense" }, "/api/by-hand");
    expect([wrong.status, parsed(wrong).code]).toEqual([400, "NOTES_INVALID"]);
    const empty = await post({ ...asked, notes: "" }, "/api/by-hand");
    expect([empty.status, parsed(empty).code]).toEqual([400, "REQUEST_REFUSED"]);
  });
});

describe("what can be taken away", () => {
  it("is a sheet for either paper, whose one style its policy allows and nothing else", async () => {
    for (const [paper, size] of [
      ["a4", "A4"],
      ["letter", "letter"],
    ]) {
      const { headers, body } = await get(`/records/${RECORD_ID}/sheet.html?paper=${paper}`);
      expect(headers["content-type"]).toBe("text/html; charset=utf-8");
      expect(body).toContain(`size: ${size} portrait`);
      const style = /<style>([\s\S]*)<\/style>/.exec(body)?.[1] ?? "";
      const sha256 = createHash("sha256").update(style).digest("base64");
      expect(headers["content-security-policy"]).toBe(
        `default-src 'none'; style-src 'sha256-${sha256}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`,
      );
    }
  });

  it("prints vacuum in the unit asked for", async () => {
    const { body } = await get(`/records/${RECORD_ID}/sheet.html?vacuum=mmHg`);
    expect(body).toContain("vacuum, mmHg");
  });

  it("is CSV and JSON to save under the record's name", async () => {
    const csv = await get(`/records/${RECORD_ID}/curves.csv`);
    expect(csv.headers).toMatchObject({
      "content-type": "text/csv; charset=utf-8; header=present",
      "content-disposition": `attachment; filename="bobweight-${RECORD_ID}.csv"`,
    });
    expect(csv.body.split("\r\n")).toHaveLength(36);
    const json = await get(`/records/${RECORD_ID}/record.json`);
    expect(parsed(json).documents).toEqual(runDocuments);
    expect(json.headers["content-disposition"]).toBe(
      `attachment; filename="bobweight-${RECORD_ID}.json"`,
    );
  });
});

describe("the page", () => {
  it("is the built one, or a plain word where it is not built", async () => {
    expect((await get("/")).body).toContain("<title>the page</title>");
    const { host, server } = unbuilt;
    const plain = await ask(server.port, "GET", "/", { host });
    expect([plain.status, plain.body]).toEqual([
      200,
      expect.stringContaining("The page has not been built"),
    ]);
  });
});

describe("a port in use", () => {
  it("is an error of its own", async () => {
    const opening = openServer({
      port: served.server.port,
      network: null,
      pageFolder: "nowhere",
      bench: served.bench,
      store: served.store,
      keeping: served.keeping,
      ports: () => Promise.resolve([]),
      checkUnit: () => {},
      report: () => {},
    });
    await expect(opening).rejects.toMatchObject({ code: "PORT_TAKEN" });
  });
});

it("prints the file's sheet in the settings' language, or the one asked for", async () => {
  const sheet = `/records/${RECORD_ID}/sheet.html`;
  expect((await get(sheet)).body).toContain("<h1>Distributor test sheet</h1>");
  expect((await get(`${sheet}?language=de`)).body).toContain("<h1>Prüfblatt Zündverteiler</h1>");
  await keepSettings(served.store, { ...FIRST_SETTINGS, language: "de" });
  const { body, headers } = await get(sheet);
  expect(body).toContain("<h1>Prüfblatt Zündverteiler</h1>");
  const style = /<style>([\s\S]*)<\/style>/.exec(body)?.[1] ?? "";
  const sha256 = createHash("sha256").update(style).digest("base64");
  expect(headers["content-security-policy"]).toContain(`style-src 'sha256-${sha256}'`);
  await keepSettings(served.store, FIRST_SETTINGS);
});

it("prints owner's page and tag with the card of the record's job", async () => {
  const paper = (reader: string) => get(`/records/${RECORD_ID}/sheet.html?for=${reader}`);
  expect((await paper("owner")).body).not.toContain("A. Owner");
  const { jobs } = served.store;
  await jobs.attach(await jobs.add({ ...EMPTY_CARD, number: "41", owner: "A. Owner" }), RECORD_ID);
  expect((await paper("owner")).body).toContain("A. Owner");
  expect((await paper("tag")).body).toContain("41");
  // No raw lines belong to this record.
  expect((await paper("file")).body).toContain("none kept");
  expect((await paper("nobody")).status).toBe(400);
});

describe("the spring drawer", () => {
  const csv =
    "name,quantity,free_length_mm,rate_n_per_mm,rate_uncertainty_n_per_mm\nsoft,2,12,0.8,0.05\n";

  it("is empty until one is kept, and names row and column of what is wrong", async () => {
    expect(parsed(await get("/api/drawer"))).toEqual([]);
    const good = await post({ name: "drawer.csv", text: csv }, "/api/drawer");
    expect([good.status, parsed(good)[0].name]).toEqual([201, "soft"]);
    const wrong = await post({ name: "d.csv", text: csv.replace("0.8", "much") }, "/api/drawer");
    expect([wrong.status, parsed(wrong).code]).toEqual([400, "TABLE_INVALID"]);
    expect(parsed(await get("/api/drawer"))[0].measuredRate.rateNPerM).toBe(800);
  });
});
