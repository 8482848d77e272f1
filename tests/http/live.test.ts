// The live stream: one page controls, others watch and may stop, and a page that is gone stops the run.

import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LiveDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { GERMAN } from "../../core/speech/german.ts";
import { toldText } from "../../core/told.ts";
import { endDocument, holdDocument, startDocument } from "../sheet/fixture.ts";
import { Page, type Served, serve, startMessage } from "./served.ts";

let served: Served;

beforeEach(async () => {
  served = await serve({ page: false });
});

afterEach(() => served.close());

function live(runS: number): LiveDocument {
  return {
    type: "live",
    runS,
    speedRpm: 500,
    targetRpm: 500,
    advanceDeg: 1,
    vacuumPa: null,
    targetPa: null,
    lobeDeviationsDeg: [],
  };
}

async function controller(): Promise<Page> {
  const page = await Page.open(served);
  page.say(startMessage);
  await page.status("you");
  return page;
}

/** Both directions are in order: what the page said before this has been taken when it is answered. */
async function everythingTaken(page: Page): Promise<void> {
  page.say({ type: "nonsense" });
  await page.refused();
}

const types = (page: Page) =>
  page.heard.map((message) => (message.type === "document" ? message.document.type : message.type));

describe("control", () => {
  it("is free, then yours and the other's, then free again", async () => {
    const observer = await Page.open(served);
    expect(observer.heard).toEqual([
      { type: "status", control: "free", running: false, rigName: null, simulated: false },
    ]);
    await controller();
    await observer.status("other");
    served.bench.emit(startDocument);
    expect(
      await observer.next((message) => message.type === "status" && message.rigName !== null),
    ).toEqual({
      type: "status",
      control: "other",
      running: true,
      rigName: "Stand-in rig",
      simulated: true,
    });
    served.bench.end();
    await observer.status("free");
  });

  it("passes the start on as it was asked, and to one page at a time", async () => {
    const page = await Page.open(served);
    page.say({ ...startMessage, pace: 20, plan: { turnsPerReading: 10 } });
    await page.status("you");
    expect(served.bench.starts).toEqual([
      {
        rigId: "stand-in",
        unitId: "some unit",
        scenarioId: null,
        pace: 20,
        plan: { turnsPerReading: 10 },
        contacts: null,
        afterRecordId: null,
        jobId: null,
      },
    ]);
    const other = await Page.open(served);
    other.say(startMessage);
    const refused = await other.refused();
    expect(refused).toMatchObject({
      code: "RIG_BUSY",
      said: { say: "A run is in progress.", of: [] },
    });
    if (refused.type !== "refused") throw new Error("not refused");
    expect(toldText(refused, GERMAN)).toBe(
      "Ein Lauf ist im Gang. Das Ende des Laufs abwarten, oder ihn anhalten.",
    );
    expect(served.bench.starts).toHaveLength(1);
  });

  it("needs the cautions ticked", async () => {
    const page = await Page.open(served);
    page.say({ ...startMessage, cautionsRead: false });
    expect(await page.refused()).toMatchObject({ code: "REQUEST_REFUSED" });
    expect(served.bench.starts).toEqual([]);
  });

  it("counts the controller's sign of life and no other's", async () => {
    const page = await controller();
    const observer = await Page.open(served);
    for (let i = 0; i < 5; i++) observer.say({ type: "alive" });
    await everythingTaken(observer);
    expect(served.bench.alives).toBe(0);
    page.say({ type: "alive" });
    await everythingTaken(page);
    expect(served.bench.alives).toBe(1);
  });

  it("lets an observer stop", async () => {
    await controller();
    const observer = await Page.open(served);
    observer.say({ type: "stop" });
    await observer.document("end");
    expect(served.bench.stops).toEqual(["STOPPED_BY_USER"]);
  });

  it.each(["close", "terminate"] as const)("lost by %s stops the run", async (how) => {
    const page = await controller();
    const observer = await Page.open(served);
    page.socket[how]();
    await observer.document("end");
    expect(served.bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
    await observer.status("free");
  });

  it("is not lost when an observer goes", async () => {
    const page = await controller();
    const observer = await Page.open(served);
    observer.socket.close();
    await observer.closed;
    await everythingTaken(page);
    expect(served.bench.stops).toEqual([]);
  });
});

describe("a run being prepared", () => {
  it("is stopped as soon as it can be, if its page went or anyone asked meanwhile", async () => {
    const release = served.bench.holdStarts();
    const page = await controller();
    const observer = await Page.open(served);
    page.socket.close();
    await page.closed;
    observer.say({ type: "stop" });
    await everythingTaken(observer);
    expect(served.bench.stops).toEqual([]);
    release();
    await observer.status("free");
    expect(served.bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
  });

  it("that fails is told to who asked, and control is free", async () => {
    served.bench.failure = new BobweightError("RIG_NO_HELLO", "No answer on /dev/ttyACM0.");
    const page = await Page.open(served);
    page.say(startMessage);
    expect(await page.refused()).toEqual({
      type: "refused",
      code: "RIG_NO_HELLO",
      text: "No answer on /dev/ttyACM0. Check the rig's power, its baud setting, and that the port is the rig's.",
    });
    await page.status("free");
  });

  it("that fails by our own bug is reported, and its details are not sent", async () => {
    served.bench.failure = new Error("secret detail");
    const page = await Page.open(served);
    page.say(startMessage);
    expect(JSON.stringify(await page.refused())).not.toContain("secret");
    expect(served.reports).toEqual([served.bench.failure]);
  });
});

describe("documents", () => {
  it("reach a page that comes late, the live ones left out", async () => {
    await controller();
    served.bench.emit(startDocument, live(1), holdDocument, live(2));
    const late = await Page.open(served);
    await late.document("hold");
    served.bench.end();
    await late.status("free");
    expect(types(late)).toEqual(["status", "start", "hold", "end", "status"]);
  });

  it("of a run that is over are not sent to who comes after", async () => {
    const page = await controller();
    served.bench.emit(startDocument);
    served.bench.end();
    await page.status("free");
    const late = await Page.open(served);
    await everythingTaken(late);
    expect(types(late)).toEqual(["status", "refused"]);
  });

  it("keep their order, while of many live ones only first and newest go out", async () => {
    const page = await controller();
    served.bench.emit(startDocument);
    for (let runS = 1; runS <= 500; runS++) served.bench.emit(live(runS));
    served.bench.emit(holdDocument);
    served.bench.end();
    await page.document("end");
    const documents = page.heard.flatMap((message) =>
      message.type === "document" ? [message.document] : [],
    );
    expect(documents).toEqual([startDocument, live(1), live(500), holdDocument, endDocument]);
  });

  it("come to an end for all when the run breaks off", async () => {
    await controller();
    const observer = await Page.open(served);
    served.bench.fail(new BobweightError("STORE_FAILED", "The disk is full."));
    expect(await observer.refused()).toMatchObject({ code: "STORE_FAILED" });
    await observer.status("free");
  });
});

describe("a page that does not read", () => {
  it("is dropped, and as controller stops the run, while others go on", async () => {
    const page = await controller();
    const observer = await Page.open(served);
    page.socket.pause();
    const notice = { type: "notice", code: "LONG", text: "x".repeat(1024 * 1024) } as const;
    for (let i = 0; i < 40 && served.bench.stops.length === 0; i++) {
      served.bench.emit(notice);
      await observer.document("notice");
    }
    await observer.document("end");
    expect(served.bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
    page.socket.terminate();
  });
});

describe("messages that are none", () => {
  it.each([
    "",
    "{",
    "null",
    "[]",
    '"stop"',
    '{"type":"go"}',
    '{"type":"alive","more":1}',
    '{"type":"start"}',
    JSON.stringify({ ...startMessage, pace: 51 }),
    JSON.stringify({ ...startMessage, pace: "1" }),
    JSON.stringify({ ...startMessage, plan: [] }),
    JSON.stringify({ ...startMessage, extra: true }),
  ])("%s is refused and changes nothing", async (text) => {
    const page = await Page.open(served);
    page.socket.send(text);
    expect(await page.refused()).toMatchObject({ code: "REQUEST_REFUSED" });
    const { starts, stops, alives } = served.bench;
    expect([starts, stops, alives]).toEqual([[], [], 0]);
  });

  it("too long, or binary, cost the connection", async () => {
    const long = await Page.open(served);
    long.socket.send(JSON.stringify({ type: "stop", more: "x".repeat(40_000) }));
    expect(await long.closed).toBe(1009);
    const binary = await Page.open(served);
    binary.socket.send(Buffer.from('{"type":"stop"}'), { binary: true });
    expect(await binary.closed).toBe(1003);
  });
});

describe("closing", () => {
  it("stops the run, sends its end, then closes the pages and the store", async () => {
    const page = await controller();
    await served.close();
    expect(served.bench.stops).toEqual(["STOPPED_BY_USER"]);
    expect(await page.closed).toBe(1001);
    expect(types(page)).toEqual(["status", "status", "end", "status"]);
    await expect(served.store.units.current()).rejects.toThrow("STORE_FAILED");
  });
});
