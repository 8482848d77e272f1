// The whole test of a rig against firmware-protocol.md, part by part. Whatever happens, it ends with stop.

import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { BytePort } from "../link/bytePort.ts";
import { checkExpiryAtRest, checkRanges, checkToken, checkUnarmed } from "./armChecks.ts";
import { CheckEnded, type Settings, TestBench } from "./bench.ts";
import { CLAUSES } from "./clauses.ts";
import { checkFraming } from "./framingChecks.ts";
import { NOBODY_THERE } from "./hands.ts";
import { askHello } from "./helloCheck.ts";
import { checkGuard, checkStopInput } from "./inputChecks.ts";
import { checkReset, checkSensor, checkStall } from "./leadChecks.ts";
import { type Finding, Ledger } from "./ledger.ts";
import { checkExpiryTurning, checkSpeeds, checkStops, lowRpm } from "./motionChecks.ts";
import { review } from "./review.ts";
import { checkNumbers } from "./talkChecks.ts";
import { checkVacuum } from "./vacuumChecks.ts";
import { type HeardLine, Wire } from "./wire.ts";

/** What a part needs beside a rig that answers. */
type Needs = "nothing" | "motion" | "person";

interface Part {
  readonly title: string;
  readonly needs: Needs;
  /** Named as not tested where the part could not be gone through. */
  readonly clauses: readonly string[];
  readonly run: (bench: TestBench) => Promise<void>;
}

const PARTS: readonly Part[] = [
  {
    title: "numbers and repeats",
    needs: "nothing",
    clauses: ["4.1", "4.2", "4.4", "4.5", "4.6", "5.1"],
    run: checkNumbers,
  },
  {
    title: "good and bad lines",
    needs: "nothing",
    clauses: ["1.1", "1.2", "1.3", "1.4", "1.5", "1.6", "1.7", "5.2"],
    run: checkFraming,
  },
  { title: "unarmed", needs: "motion", clauses: ["5.2", "5.5", "6.3"], run: checkUnarmed },
  { title: "arming and tokens", needs: "motion", clauses: ["4.3", "4.5", "5.6"], run: checkToken },
  { title: "stay-alive at rest", needs: "motion", clauses: ["4.8", "6.1"], run: checkExpiryAtRest },
  { title: "ranges", needs: "motion", clauses: ["5.7", "5.9", "5.10"], run: checkRanges },
  { title: "vacuum", needs: "motion", clauses: ["4.1"], run: checkVacuum },
  {
    title: "speeds and ramps",
    needs: "motion",
    clauses: ["3.5", "4.5", "5.8", "6.5"],
    run: checkSpeeds,
  },
  { title: "stopping", needs: "motion", clauses: ["4.2", "4.3", "4.4"], run: checkStops },
  {
    title: "stay-alive while turning",
    needs: "motion",
    clauses: ["4.5", "6.1", "6.3"],
    run: checkExpiryTurning,
  },
  { title: "guard input", needs: "person", clauses: ["5.3", "5.4", "6.2"], run: checkGuard },
  { title: "stop input", needs: "person", clauses: ["5.3", "5.4", "6.2"], run: checkStopInput },
  { title: "index pickup unplugged", needs: "person", clauses: ["6.6"], run: checkStall },
  { title: "vacuum sensor unplugged", needs: "person", clauses: ["6.7"], run: checkSensor },
  { title: "boot", needs: "person", clauses: ["3.1", "6.3"], run: checkReset },
];

export interface RigTestSettings extends Settings {
  /** Asks for leave to turn the spindle up to a speed; nothing that could move is sent without it. */
  readonly agree: (highestRpm: number) => Promise<boolean>;
  readonly say: (text: string) => void;
}

export interface RigTestOutcome {
  /** In the order of the page. */
  readonly findings: readonly Finding[];
  /** Null where no hello came that could be read. */
  readonly board: string | null;
  readonly agreed: boolean;
  /** Whether every part with motion was gone through, those that take a hand apart. */
  readonly moved: boolean;
  /** What ended it early; null where nothing did. */
  readonly ended: BobweightError | null;
}

/** Noise, as of a wrong baud setting, is nothing that a clause could be held against. */
function isOfRig({ text, fault }: HeardLine): boolean {
  return fault === null || text.startsWith("hello,");
}

function noHello(lines: number): BobweightError {
  const came =
    lines === 0 ? "Nothing came from the rig" : `${lines} lines came, none of them a rig's`;
  return new BobweightError("RIG_NO_HELLO", `${came}.`);
}

/** How often a last stop is sent, and how long each may take to be answered. */
const STOPS = 3;
const STOP_WAIT_MS = 250;

export class RigTest {
  private readonly wire: Wire;
  private readonly port: BytePort;
  private readonly settings: RigTestSettings;
  private readonly ledger = new Ledger();
  private ended: BobweightError | null = null;
  private bench: TestBench | null = null;
  private agreed = false;
  private moved = true;
  /** Why not; null where it was agreed to, undefined before it was asked. */
  private motion: string | null | undefined;
  private hands: string | null | undefined;

  constructor(port: BytePort, scheduler: Scheduler, settings: RigTestSettings) {
    this.port = port;
    this.settings = settings;
    this.wire = new Wire(port, scheduler);
    port.onLost = (what) =>
      this.end(new BobweightError("LINK_LOST", said("The link broke: {}.", what)));
  }

  /** Ends the test as soon as the rig has been stopped. */
  interrupt(): void {
    this.end(new BobweightError("STOPPED_BY_USER", "The test was stopped."));
  }

  /** @throws RIG_NOT_AVAILABLE where the port cannot be opened, RIG_NO_HELLO where nothing at all came from it */
  async run(): Promise<RigTestOutcome> {
    const { wire, ledger, port, settings } = this;
    await port.open();
    try {
      const asked = await askHello(wire, ledger);
      if (asked === null && !wire.heard.some(isOfRig)) throw noHello(wire.heard.length);
      if (asked !== null) {
        const { hello, number } = asked;
        const bench = new TestBench(wire, ledger, settings, hello, number);
        this.bench = bench;
        await this.goThrough(bench);
      }
    } catch (error) {
      // Whoever is interrupted says so in words of its own; why the test ended is known already.
      if (!(error instanceof BobweightError) || this.ended === null) throw error;
    } finally {
      await this.lastStop();
      await port.close();
    }
    return this.outcome();
  }

  private async goThrough(bench: TestBench): Promise<void> {
    const { settings, ledger } = this;
    for (const part of PARTS) {
      const why = await this.whyNot(part.needs, bench);
      if (why === null) settings.say(`${part.title} …`);
      const failed = why ?? (await this.runPart(part, bench));
      if (failed === null) continue;
      if (part.needs === "motion") this.moved = false;
      for (const clause of part.clauses) ledger.notTested(clause, part.title, failed);
    }
  }

  /** Null where a part may be gone through. Leave is asked for once, when the first part needs it. */
  private async whyNot(needs: Needs, bench: TestBench): Promise<string | null> {
    if (needs === "nothing") return null;
    if (bench.unsafe !== null) return bench.unsafe;
    if (this.motion === undefined) this.motion = await this.askForMotion(bench);
    if (needs === "motion" || this.motion !== null) return this.motion;
    if (this.hands === undefined) this.hands = await this.askForHands(bench);
    return this.hands;
  }

  private async askForHands({ settings: { person } }: TestBench): Promise<string | null> {
    if (person === null) return NOBODY_THERE;
    const agrees = await person.agrees();
    if (this.ended !== null) throw this.ended;
    return agrees ? null : "it takes a person at the rig, and was not agreed to";
  }

  /** Null where the motor may move, else why not. */
  private async askForMotion(bench: TestBench): Promise<string | null> {
    const { hello, settings } = bench;
    if (hello.speedMinRpm > settings.speedMaxRpm) {
      return `MINRPM is ${hello.speedMinRpm}, and this test goes to ${settings.speedMaxRpm} rpm only: see --speed-max`;
    }
    const highestRpm = Math.max(lowRpm(bench), Math.min(settings.speedMaxRpm, hello.speedMaxRpm));
    this.agreed = await this.settings.agree(highestRpm);
    if (this.ended !== null) throw this.ended;
    return this.agreed ? this.whyNotReady() : "motion was not agreed to";
  }

  /** What at the rig keeps it from arming, by its last state line; null where nothing does. */
  private whyNotReady(): string | null {
    const { line } = this.wire.all("state").at(-1) ?? { line: null };
    if (line?.guardShut === false) return "the guard is open: shut it and start again";
    if (line?.stopPressed) return "the stop input is pressed: release it and start again";
    if (line === null || line.fault === "none" || line.fault === "alive") return null;
    return `the fault "${line.fault}" is latched, and an ask did not clear it`;
  }

  /** Null where it was gone through, else what ended it. The rig is stopped after it in any case. */
  private async runPart(part: Part, bench: TestBench): Promise<string | null> {
    try {
      await part.run(bench);
      return null;
    } catch (error) {
      if (!(error instanceof CheckEnded)) throw error;
      await this.recover(bench);
      return error.message;
    } finally {
      bench.letGo();
    }
  }

  private async recover(bench: TestBench): Promise<void> {
    this.wire.reopen();
    try {
      await bench.rest();
    } catch (error) {
      if (!(error instanceof CheckEnded)) throw error;
    }
  }

  private end(error: BobweightError): void {
    this.ended ??= error;
    // At once, and not only when whoever waits has noticed.
    if (this.bench !== null) {
      this.bench.letGo();
      this.wire.send(`stop,${this.bench.nextNumber()}`);
    }
    this.wire.end(this.ended);
  }

  /** What can still be said is said, up to an answer. */
  private async lastStop(): Promise<void> {
    const { wire, bench } = this;
    wire.reopen();
    bench?.letGo();
    for (let i = 0; i < STOPS; i++) {
      const number = bench?.nextNumber() ?? 2 ** 31 + i;
      const { heardBefore } = wire.send(`stop,${number}`);
      const isAnswer = ({ text }: { text: string }) => text.startsWith(`ok,${number}*`);
      if ((await wire.until(isAnswer, STOP_WAIT_MS, heardBefore)) !== null) return;
    }
    this.settings.say(
      "The rig did not confirm that it is stopped. Take the power from it before you touch it.",
    );
  }

  private outcome(): RigTestOutcome {
    const { wire, ledger, bench, settings, agreed, ended } = this;
    if (bench !== null) review(wire, ledger, bench.hello, settings.baud);
    for (const [clause, why] of CLAUSES) {
      if (!ledger.knows(clause)) ledger.notTested(clause, "", this.whyUnknown(why));
    }
    const order = new Map(CLAUSES.map(([clause], i) => [clause, i]));
    const place = ({ clause }: Finding) => order.get(clause) ?? CLAUSES.length;
    const findings = ledger.findings.toSorted((a, b) => place(a) - place(b));
    const moved = bench !== null && this.moved;
    return { findings, board: bench?.hello.board ?? null, agreed, moved, ended };
  }

  private whyUnknown(why: string): string {
    if (this.bench === null) return "without a hello that can be read nothing else can be tested";
    return why;
  }
}
