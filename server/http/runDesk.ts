// One run at a time, one page that controls it, any number that watch and may stop it.

import type { RunDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { ClientMessage, ServerMessage, StatusMessage } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import type { HandOver } from "../store/handOver.ts";
import type { Bench, Run } from "./bench.ts";
import { refusalFrom } from "./refusals.ts";

/** A connected page. `send` never throws, whatever became of the connection. */
export interface Visitor {
  send(message: ServerMessage): void;
}

type StartMessage = Extract<ClientMessage, { type: "start" }>;
type StopCode = Parameters<Run["stop"]>[0];

/** The run from its being asked for to its end. */
interface Current {
  readonly controller: Visitor;
  /** Null while the bench prepares it. */
  run: Run | null;
  /** Stop asked for while it was prepared. */
  stopCode: StopCode | null;
  /** All but the live ones, for whoever comes later. */
  readonly documents: RunDocument[];
}

export class RunDesk {
  private readonly bench: Bench;
  private readonly report: (error: unknown) => void;
  private readonly visitors = new Set<Visitor>();
  private readonly handOver: HandOver | null;
  private current: Current | null = null;
  /** Settles when the run in progress is over; never rejects. */
  private over: Promise<void> = Promise.resolve();
  private closing = false;

  constructor(bench: Bench, report: (error: unknown) => void, handOver: HandOver | null = null) {
    this.bench = bench;
    this.report = report;
    this.handOver = handOver;
    handOver?.onChange(() => this.tellStatus());
  }

  enter(visitor: Visitor): void {
    this.visitors.add(visitor);
    visitor.send(this.status(visitor));
    for (const document of this.current?.documents ?? []) {
      visitor.send({ type: "document", document });
    }
  }

  leave(visitor: Visitor): void {
    this.visitors.delete(visitor);
    if (this.current?.controller === visitor) this.stop("STOPPED_PAGE_GONE");
  }

  take(visitor: Visitor, message: ClientMessage): void {
    switch (message.type) {
      case "start":
        this.start(visitor, message);
        break;
      case "stop":
        this.stop("STOPPED_BY_USER");
        break;
      case "alive":
        // An observer's page is no sign that the user who started the run still watches.
        if (this.current?.controller === visitor) this.current.run?.alive();
        break;
    }
  }

  /** For what would keep a running rig without its sign of life. @throws RIG_BUSY */
  refuseWhileRunning(): void {
    if (this.current !== null) throw new BobweightError("RIG_BUSY", said("A run is in progress."));
  }

  refuse(visitor: Visitor, error: unknown): void {
    visitor.send({ type: "refused", ...refusalFrom(error, this.report) });
  }

  /** Stops the run in progress, takes no further one, and waits for the end. */
  async close(): Promise<void> {
    this.closing = true;
    this.stop("STOPPED_BY_USER");
    await this.over;
  }

  private start(controller: Visitor, message: StartMessage): void {
    const obstacle = this.obstacle(message);
    if (obstacle !== null) {
      this.refuse(controller, obstacle);
      return;
    }
    const current: Current = { controller, run: null, stopCode: null, documents: [] };
    this.current = current;
    this.tellStatus();
    this.over = this.carryOut(current, message);
  }

  private obstacle(message: StartMessage): BobweightError | null {
    if (this.closing) return new BobweightError("RIG_BUSY", said("The program is closing."));
    if (this.current !== null) return new BobweightError("RIG_BUSY", said("A run is in progress."));
    if (message.cautionsRead) return null;
    return new BobweightError(
      "REQUEST_REFUSED",
      said("The cautions have not been ticked as read."),
    );
  }

  private async carryOut(current: Current, message: StartMessage): Promise<void> {
    const { type, cautionsRead, ...request } = message;
    try {
      const run = await this.bench.start(request, (document) => this.emit(current, document));
      current.run = run;
      if (current.stopCode !== null) run.stop(current.stopCode);
      await run.ended;
    } catch (error) {
      const refusal = refusalFrom(error, this.report);
      const hearers = current.run === null ? [current.controller] : this.visitors;
      for (const visitor of hearers) visitor.send({ type: "refused", ...refusal });
    }
    this.current = null;
    this.tellStatus();
  }

  private emit(current: Current, document: RunDocument): void {
    if (document.type !== "live") current.documents.push(document);
    for (const visitor of this.visitors) visitor.send({ type: "document", document });
    if (document.type === "start") this.tellStatus();
  }

  private stop(code: StopCode): void {
    const { current } = this;
    if (current === null) return;
    current.stopCode ??= code;
    current.run?.stop(code);
  }

  private tellStatus(): void {
    for (const visitor of this.visitors) visitor.send(this.status(visitor));
  }

  private status(visitor: Visitor): StatusMessage {
    const { current } = this;
    const start = current?.documents[0];
    const rig = start?.type === "start" ? start.rig : null;
    return {
      type: "status",
      control: current === null ? "free" : current.controller === visitor ? "you" : "other",
      running: current !== null,
      rigName: rig?.name ?? null,
      simulated: rig?.simulated ?? false,
      ...(this.handOver === null ? {} : { handOver: this.handOver.now() }),
    };
  }
}
