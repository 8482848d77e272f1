// A run told to the page as the program would tell it, in as much time as is wanted: status, start, readings, live numbers.
import { readFileSync } from "node:fs";
import type { Page, WebSocketRoute } from "playwright-core";
import { measureReadings } from "../accuracy/standIn.ts";
import type { LiveDocument, PointDocument, RunDocument, StartDocument } from "../core/documents.ts";
import type { ServerMessage } from "../core/messages.ts";

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}.json`, import.meta.url), "utf8"));

/** What a real run on the stand-in rig told, to be told again and again. */
interface Told {
  readonly start: StartDocument;
  readonly points: readonly PointDocument[];
}

async function toldByStandIn(): Promise<Told> {
  const { documents } = await measureReadings({
    unit: example("everyday.unit"),
    scenario: example("healthy.scenario"),
    plan: { turnsPerReading: 40 },
  });
  const start = documents.find((one) => one.type === "start");
  const points = documents.filter((one) => one.type === "point" && one.sweep === "speed");
  if (start === undefined || points.length === 0) throw new Error("the stand-in told no readings");
  return { start, points: points as PointDocument[] };
}

export class Feed {
  private readonly socket: WebSocketRoute;
  private readonly told: Told;
  private runS = 0;
  private pointCount = 0;

  private constructor(socket: WebSocketRoute, told: Told) {
    this.socket = socket;
    this.told = told;
  }

  /** The page of `url`, its live stream in our hands, a run begun on it. */
  static async on(page: Page, url: string): Promise<Feed> {
    const told = await toldByStandIn();
    const connected = new Promise<WebSocketRoute>((resolve) => {
      void page.routeWebSocket(/\/live$/, resolve);
    });
    await page.goto(url);
    const feed = new Feed(await connected, told);
    feed.say({
      type: "status",
      control: "you",
      running: true,
      rigName: "Stand-in rig",
      simulated: true,
    });
    feed.document(told.start);
    return feed;
  }

  /** A further reading of the speed sweep, near one that was really read. */
  point(): void {
    const { points } = this.told;
    const like = points[this.pointCount % points.length] as PointDocument;
    // Spread over the sweep, so that each is a mark of its own.
    const offRpm = ((this.pointCount * 0.618) % 1) * 180;
    const targetRpm = like.targetRpm + offRpm;
    this.pointCount++;
    this.document({ ...like, targetRpm, reading: { ...like.reading, speedRpm: targetRpm } });
  }

  step(): void {
    this.document({
      type: "step",
      step: "speed",
      capsule: null,
      branch: "rising",
      targetRpm: 3000,
      targetPa: null,
      done: this.pointCount,
      total: 10_000,
      remainingS: 600,
    });
  }

  /** The numbers of now, `afterS` after the last ones. */
  live(afterS: number): void {
    this.runS += afterS;
    const live: LiveDocument = {
      type: "live",
      runS: this.runS,
      speedRpm: 2990 + 10 * Math.sin(this.runS),
      targetRpm: 3000,
      advanceDeg: 13 + 0.1 * Math.sin(this.runS / 3),
      vacuumPa: 100 * Math.abs(Math.sin(this.runS / 7)),
      targetPa: null,
      lobeDeviationsDeg: [0.01, -0.02, 0.03, -0.02].map((deg) => deg * Math.cos(this.runS)),
    };
    this.document(live);
  }

  private document(document: RunDocument): void {
    this.say({ type: "document", document });
  }

  private say(message: ServerMessage): void {
    this.socket.send(JSON.stringify(message));
  }
}
