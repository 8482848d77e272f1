// The routes of the settings and the logo, and what the settings change in a measurement.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defaultPlan } from "../../core/planFile.ts";
import { FIRST_SETTINGS, type Settings } from "../../core/settings/settings.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { withTolerance } from "../../server/settings.ts";
import { ask, type Served, serve } from "./served.ts";

let served: Served;

beforeAll(async () => {
  served = await serve({ page: false });
});

afterAll(() => served.close());

async function call(method: string, path: string, body: unknown = null) {
  const { host, origin, server } = served;
  const headers = { host, origin, "content-type": "application/json" };
  const text = body === null ? null : JSON.stringify(body);
  const answer = await ask(server.port, method, path, headers, text);
  return { status: answer.status, body: JSON.parse(answer.body) };
}

async function sendLogo(bytes: Buffer): Promise<{ status: number; body: { code?: string } }> {
  const answer = await served.fetch("/api/settings/logo", {
    method: "POST",
    type: "image/png",
    body: new Uint8Array(bytes),
  });
  return { status: answer.status, body: (await answer.json()) as { code?: string } };
}

describe("the settings", () => {
  it("are the program's until they are set, and stay as they were where a change is refused", async () => {
    expect((await call("GET", "/api/settings")).body).toEqual({
      ...FIRST_SETTINGS,
      hasLogo: false,
    });
    const workshop = { name: "A. Smith", address: "1 Yard Lane", phone: "" };
    const set = { ...FIRST_SETTINGS, language: "de", toleranceDeg: 0.75, workshop };
    const told = { ...set, hasLogo: false };
    expect((await call("POST", "/api/settings", set)).body).toEqual(told);
    const wrong = await call("POST", "/api/settings", { ...set, toleranceDeg: -1 });
    expect([wrong.status, wrong.body.code]).toEqual([400, "SETTINGS_INVALID"]);
    expect(wrong.body.text).toContain("Settings, toleranceDeg");
    expect((await call("GET", "/api/settings")).body).toEqual(told);
  });

  it.each([
    { language: "xx" },
    { vacuumUnit: "psi" },
    { shownShaft: "camshaft" },
    { holdSeconds: 0 },
    { workshop: { name: "x".repeat(81) } },
    { unknown: 1 },
  ])("refuse %j", async (wrong) => {
    const answer = await call("POST", "/api/settings", wrong);
    expect([answer.status, answer.body.code]).toEqual([400, "SETTINGS_INVALID"]);
  });
});

describe("the logo", () => {
  /** One dot. */
  const png = Buffer.from(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==",
    "base64",
  );

  it("is told by its bytes and its size", async () => {
    expect((await call("GET", "/api/settings/logo")).status).toBe(404);
    const webp = Buffer.from("RIFF\0\0\0\0WEBPVP8 ", "latin1");
    for (const bytes of [
      Buffer.from("<svg/>"),
      webp,
      Buffer.concat([png, Buffer.alloc(200_000)]),
    ]) {
      const answer = await sendLogo(bytes);
      expect([answer.status, answer.body.code]).toEqual([400, "LOGO_INVALID"]);
    }
    const json = await call("POST", "/api/settings/logo", {});
    expect([json.status, json.body.code]).toEqual([400, "LOGO_INVALID"]);
  });

  it("is served as the picture it is, and taken off", async () => {
    expect((await sendLogo(png)).status).toBe(201);
    const answer = await served.fetch("/api/settings/logo");
    expect(answer.headers.get("content-type")).toBe("image/png");
    expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
    expect(Buffer.from(await answer.arrayBuffer())).toEqual(png);
    await call("POST", "/api/settings/logo/take-off", {});
    expect((await call("GET", "/api/settings/logo")).status).toBe(404);
  });
});

describe("a workshop's habits", () => {
  const unitFile = {
    description: "four",
    lobes: 4,
    rotation: "cw",
    capsules: [{ name: "advance" }],
    speed: {
      source: "a manual",
      degrees: "distributor",
      rpm: "distributor",
      rows: [
        { at: 1000, degrees: 6 },
        { at: 2000, degrees: "9 to 11" },
      ],
    },
  };
  const settings: Settings = {
    ...FIRST_SETTINGS,
    toleranceDeg: 0.5,
    holdSeconds: 20,
    holdDropMaxPa: 1500,
  };
  const unit = (content: object) =>
    unitFromFile(withTolerance({ name: "unit", content }, settings).content, "unit");

  it("give limits to single figures only, which the band says", () => {
    const band = unit(unitFile).speedBand;
    expect(band?.rows.map((row) => row.kind !== "start" && row.limitsDeg)).toEqual([
      { min: 5.5, max: 6.5 },
      { min: 9, max: 11 },
    ]);
    expect(band?.workshopToleranceDeg).toBe(0.5);
    const own = unit({ ...unitFile, workshopToleranceDeg: 2 }).speedBand;
    expect(own?.workshopToleranceDeg).toBe(2);
  });

  it("stand in the plan where the unit says nothing of a hold", () => {
    const reach = { speedMinRpm: 50, speedMaxRpm: 3000, vacuumMaxPa: 90_000, ambientPa: 101_000 };
    const hold = { vacuum: 20, seconds: 60, dropMax: 1 };
    const specified = { ...unitFile, capsules: [{ name: "advance", vacuum: "kPa", hold }] };
    const planned = (file: object) => {
      const made = defaultPlan(unitFromFile(file, "unit"), reach, settings).capsules[0]?.hold;
      return [made?.seconds, made?.dropMaxPa];
    };
    expect(planned(unitFile)).toEqual([20, 1500]);
    expect(planned(specified)).toEqual([60, 1000]);
  });
});
