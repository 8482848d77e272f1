// The desk by itself: one controller, others watch and may stop, and what each is told.
import { describe, expect, it } from "vitest";
import type { LiveDocument, NoticeDocument, RunDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { ServerMessage } from "../../core/messages.ts";
import { RunDesk } from "../../server/http/runDesk.ts";
import { startDocument } from "../sheet/fixture.ts";
import { FakeBench, startMessage } from "./served.ts";

const LIVE = { type: "live" } as LiveDocument;
const NOTICE = { type: "notice" } as NoticeDocument;

function desk() {
  const bench = new FakeBench();
  const reports: unknown[] = [];
  const one = new RunDesk(bench, (error) => reports.push(error));
  const visitor = () => {
    const heard: ServerMessage[] = [];
    return { heard, send: (message: ServerMessage) => heard.push(message) };
  };
  return { bench, reports, desk: one, visitor };
}

/** What is due has been done. */
const settled = () => new Promise((resolve) => setImmediate(resolve));

const controls = (heard: readonly ServerMessage[]) =>
  heard.flatMap((message) =>
    message.type === "status" ? [`${message.control} ${message.running}`] : [],
  );
const documents = (heard: readonly ServerMessage[]) =>
  heard.flatMap((message) => (message.type === "document" ? [message.document.type] : []));
const refusals = (heard: readonly ServerMessage[]) =>
  heard.flatMap((message) => (message.type === "refused" ? [message.code] : []));

describe("a run desk", () => {
  it("tells everybody who controls, from the asking to the end", async () => {
    const { bench, desk: one, visitor } = desk();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    one.take(page, startMessage);
    await settled();
    bench.emit(startDocument);
    bench.emit(LIVE, NOTICE);
    bench.end();
    await settled();
    expect(controls(page.heard)).toEqual(["free false", "you true", "you true", "free false"]);
    expect(controls(other.heard)).toEqual(["free false", "other true", "other true", "free false"]);
    expect(documents(other.heard)).toEqual(["start", "live", "notice", "end"]);
    expect(bench.starts).toHaveLength(1);
    expect(bench.starts[0]).not.toHaveProperty("cautionsRead");
    expect(bench.starts[0]).not.toHaveProperty("type");
  });

  it("names the rig once the run has begun, and whoever comes later gets all but the live ones", async () => {
    const { bench, desk: one, visitor } = desk();
    const page = visitor();
    one.enter(page);
    expect(page.heard[0]).toMatchObject({ rigName: null, simulated: false });
    one.take(page, startMessage);
    await settled();
    bench.emit(startDocument, LIVE, NOTICE);
    const late = visitor();
    one.enter(late);
    expect(late.heard[0]).toMatchObject({
      rigName: startDocument.rig.name,
      simulated: startDocument.rig.simulated,
    });
    expect(documents(late.heard)).toEqual(["start", "notice"]);
  });

  it("starts nothing without the cautions, nor a second run, nor while it closes", async () => {
    const { bench, desk: one, visitor } = desk();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    one.take(page, { ...startMessage, cautionsRead: false });
    await settled();
    expect([refusals(page.heard), bench.starts]).toEqual([["REQUEST_REFUSED"], []]);
    one.refuseWhileRunning();
    one.take(page, startMessage);
    await settled();
    one.take(other, startMessage);
    one.take(page, startMessage);
    await settled();
    expect(refusals(other.heard)).toEqual(["RIG_BUSY"]);
    expect(bench.starts).toHaveLength(1);
    expect(() => one.refuseWhileRunning()).toThrow("A run is in progress.");
    await one.close();
    expect(bench.stops).toEqual(["STOPPED_BY_USER"]);
    one.take(page, startMessage);
    await settled();
    expect(refusals(page.heard)).toEqual(["REQUEST_REFUSED", "RIG_BUSY", "RIG_BUSY"]);
    expect(page.heard.at(-1)).toMatchObject({ text: expect.stringContaining("is closing") });
    expect(bench.starts).toHaveLength(1);
  });

  it("takes a sign of life of the controller alone, and of nobody where nothing runs", async () => {
    const { bench, desk: one, visitor } = desk();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    one.take(page, { type: "alive" });
    one.take(page, startMessage);
    // Asked for, and not yet running.
    one.take(page, { type: "alive" });
    await settled();
    one.take(other, { type: "alive" });
    expect(bench.alives).toBe(0);
    one.take(page, { type: "alive" });
    expect(bench.alives).toBe(1);
  });

  it("lets anybody stop, and stops where the controller leaves; another may leave", async () => {
    const { bench, desk: one, visitor } = desk();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    one.take(other, { type: "stop" });
    one.take(page, startMessage);
    await settled();
    one.leave(other);
    expect(bench.stops).toEqual([]);
    one.leave(page);
    await settled();
    expect(bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
    const next = visitor();
    one.enter(next);
    expect(controls(next.heard)).toEqual(["free false"]);
    one.take(next, startMessage);
    await settled();
    one.take(other, { type: "stop" });
    expect(bench.stops).toEqual(["STOPPED_PAGE_GONE", "STOPPED_BY_USER"]);
    // Whoever left is told nothing more.
    expect(controls(page.heard)).toEqual(["free false", "you true"]);
  });

  it("stops a run that was still being prepared, by the first of the reasons", async () => {
    const { bench, desk: one, visitor } = desk();
    const release = bench.holdStarts();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    one.take(page, startMessage);
    await settled();
    one.leave(page);
    one.take(other, { type: "stop" });
    expect(bench.stops).toEqual([]);
    release();
    await settled();
    expect(bench.stops).toEqual(["STOPPED_PAGE_GONE"]);
  });

  it("tells the asker alone why a run did not begin, and everybody why one broke off", async () => {
    const { bench, reports, desk: one, visitor } = desk();
    const [page, other] = [visitor(), visitor()];
    one.enter(page);
    one.enter(other);
    bench.failure = new BobweightError("RIG_NO_HELLO", "No hello.");
    one.take(page, startMessage);
    await settled();
    expect([refusals(page.heard), refusals(other.heard)]).toEqual([["RIG_NO_HELLO"], []]);
    bench.failure = null;
    one.take(page, startMessage);
    await settled();
    const mistake = new TypeError("ours");
    bench.fail(mistake);
    await settled();
    expect([refusals(page.heard), refusals(other.heard)]).toEqual([
      ["RIG_NO_HELLO", "BUG"],
      ["BUG"],
    ]);
    expect(reports).toEqual([mistake]);
    expect(controls(other.heard).at(-1)).toBe("free false");
    one.refuse(other, new BobweightError("USAGE", "Wrong."));
    expect(refusals(other.heard)).toEqual(["BUG", "USAGE"]);
  });

  it("closes once the run in progress is over, and at once where none is", async () => {
    const idle = desk();
    await idle.desk.close();
    expect(idle.bench.stops).toEqual([]);
    const { bench, desk: one, visitor } = desk();
    const page = visitor();
    one.enter(page);
    one.take(page, startMessage);
    await settled();
    let emitted: RunDocument["type"] | null = null;
    page.send = (message) => {
      if (message.type === "document") emitted = message.document.type;
      return 0;
    };
    await one.close();
    expect([bench.stops, emitted]).toEqual([["STOPPED_BY_USER"], "end"]);
  });
});
