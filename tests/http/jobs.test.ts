// The routes of jobs, as a page uses them, and as a page from elsewhere would like to.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { Job } from "../../core/jobs/job.ts";
import { ask, type Served, serve } from "./served.ts";

let served: Served;

beforeAll(async () => {
  served = await serve({ page: false });
});

afterAll(() => served.close());

async function call(method: string, path: string, body: unknown = null, type = "application/json") {
  const { host, origin, server } = served;
  const headers = { host, origin, "content-type": type };
  const text = body === null ? null : typeof body === "string" ? body : JSON.stringify(body);
  const answer = await ask(server.port, method, path, headers, text);
  return { status: answer.status, body: JSON.parse(answer.body) };
}

async function newJob(): Promise<Job> {
  return (await call("POST", "/api/jobs", {})).body;
}

describe("a job", () => {
  it("begins with an empty card, is edited, and is taken back", async () => {
    const made = await call("POST", "/api/jobs", {});
    expect(made.status).toBe(201);
    const { id, card } = made.body as Job;
    expect({ ...card, number: "" }).toEqual(EMPTY_CARD);
    const edited = await call("POST", `/api/jobs/${id}/card`, { ...card, owner: "A. Owner" });
    expect([edited.status, edited.body.card.owner, edited.body.canUndo]).toEqual([
      200,
      "A. Owner",
      true,
    ]);
    const undone = await call("POST", `/api/jobs/${id}/undo`, {});
    expect([undone.body.card.owner, undone.body.canUndo]).toEqual(["", false]);
    const archived = await call("POST", `/api/jobs/${id}/archive`, { archived: true });
    expect(archived.body.isArchived).toBe(true);
    expect((await call("GET", "/api/jobs?archived=true")).body).toHaveLength(1);
  });

  it("says which field of a card it cannot take, and keeps what it had", async () => {
    const { id, card } = await newJob();
    const wrong = await call("POST", `/api/jobs/${id}/card`, { ...card, sidePlayMm: "much" });
    expect([wrong.status, wrong.body.code]).toEqual([400, "JOB_INVALID"]);
    expect(wrong.body.text).toContain("Job card, sidePlayMm");
    expect((await call("GET", `/api/jobs/${id}`)).body.card).toEqual(card);
  });

  it.each([
    ["GET", "/api/jobs/nobody", 404, "JOB_UNKNOWN"],
    ["POST", "/api/jobs/nobody/undo", 404, "JOB_UNKNOWN"],
    ["GET", "/api/jobs?more=1", 400, "REQUEST_REFUSED"],
  ])("refuses %s %s with %i %s", async (method, path, status, code) => {
    const answer = await call(method, path, method === "POST" ? {} : null);
    expect([answer.status, answer.body.code]).toEqual([status, code]);
  });
});

describe("a photo", () => {
  const png = "\u0089PNG\r\n\u001a\nrest";

  it("is told by its bytes, whatever it is called", async () => {
    const { id } = await newJob();
    const wrong = await call("POST", `/api/jobs/${id}/photos?name=a.png`, "<svg/>", "image/png");
    expect([wrong.status, wrong.body.code]).toEqual([400, "PHOTO_INVALID"]);
    const json = await call("POST", `/api/jobs/${id}/photos?name=a.png`, {});
    expect([json.status, json.body.code]).toEqual([400, "PHOTO_INVALID"]);
  });

  it("is not taken from a form", async () => {
    const { id } = await newJob();
    const form = await call("POST", `/api/jobs/${id}/photos`, png, "text/plain");
    expect([form.status, form.body.code]).toEqual([415, "REQUEST_REFUSED"]);
    // By the gate already, before any route.
    expect(form.body.text).toContain("The Content-Type header is not application/json");
  });

  it("is served as the picture it is, and taken off", async () => {
    const { id } = await newJob();
    const response = await served.fetch(`/api/jobs/${id}/photos?name=before`, {
      method: "POST",
      type: "image/png",
      body: Buffer.from(png, "latin1"),
    });
    expect(response.status).toBe(201);
    const { photos } = (await response.json()) as Job;
    const path = `/api/jobs/${id}/photos/${photos[0]?.id}`;
    const picture = await served.fetch(path);
    expect(picture.headers.get("content-type")).toBe("image/png");
    expect(Buffer.from(await picture.arrayBuffer()).toString("latin1")).toBe(png);
    expect((await call("POST", `${path}/take-off`, {})).body.photos).toEqual([]);
  });
});
