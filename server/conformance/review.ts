// What all lines of a test tell together once it is over: form, answers and rates (firmware-protocol.md, parts 1, 2 and 3).
import type { Hello, RigLine } from "../../core/codec/rigLines.ts";
import { HOST_MARGIN_MS, isAnswer } from "./bench.ts";
import type { Ledger } from "./ledger.ts";
import { reviewTurns } from "./reviewTurns.ts";
import { stepCount, stepTicks } from "./ticks.ts";
import type { HeardLine, SentLine, Wire } from "./wire.ts";

const ANSWER_MS = 100;
const BITS_PER_BYTE = 10;
/** Rates are counted over windows of this length, of which one line may be short at an end. */
const WINDOW_S = 2;
const VACUUM_LINES_PER_S = 20;
const STATE_LINES_PER_S = 10;
/** Between two lines, what queues at both ends may add. */
const QUEUE_MS = 250;
/** Of this computer's own clock. */
const HOST_PPM = 200;

export function review(wire: Wire, ledger: Ledger, hello: Hello, baud: number | null): void {
  reviewForm(wire.heard, ledger);
  reviewAnswers(wire, ledger, baud);
  for (const boot of boots(wire.heard)) {
    reviewHello(boot, ledger, hello);
    reviewSequences(boot, ledger, "vac");
    reviewSequences(boot, ledger, "state");
    reviewClock(boot, ledger, hello);
    reviewRates(boot, ledger, hello);
    reviewTurns(boot, ledger, hello);
  }
  reviewWiring(wire, ledger, hello);
}

/** A boot begins with a hello that nobody asked for. */
function boots(heard: readonly HeardLine[]): HeardLine[][] {
  const all: HeardLine[][] = [[]];
  for (const one of heard) {
    if (one.line?.type === "hello" && one.line.ask === 0) all.push([]);
    all.at(-1)?.push(one);
  }
  return all.filter((boot) => boot.length > 0);
}

const FORM_CLAUSES = ["1.1", "1.2", "1.3", "1.7"];
const TYPE_CLAUSES: Partial<Record<RigLine["type"], string>> = {
  rev: "3.2",
  pick: "3.3",
  vac: "3.4",
  state: "3.5",
};

function reviewForm(heard: readonly HeardLine[], ledger: Ledger): void {
  // The port may have been opened in the middle of a line, or while the board still boots.
  const begun = heard.findIndex(({ fault }) => fault === null);
  for (const { text, fault } of heard.slice(Math.max(0, begun))) {
    if (fault !== null) ledger.broken(fault.clause, fault.what, `"${text}"`, fault.wanted);
  }
  const types = new Set(heard.map(({ line }) => line?.type));
  for (const clause of FORM_CLAUSES) {
    ledger.holds(clause, "form of the rig's lines", `${heard.length} lines`);
  }
  for (const [type, clause] of Object.entries(TYPE_CLAUSES)) {
    if (types.has(type as RigLine["type"])) ledger.holds(clause, `form of ${type} lines`);
  }
}

function reviewAnswers({ heard, sent }: Wire, ledger: Ledger, baud: number | null): void {
  let slowestMs = 0;
  const taken = new Set<HeardLine>();
  for (const [i, command] of sent.entries()) {
    if (command.isToBeDropped) {
      // Whether such a line was answered has been judged under the clause that wants it dropped.
      const until = sent[i + 1]?.heardBefore ?? heard.length;
      for (const one of heard.slice(command.heardBefore, until)) taken.add(one);
    }
    const number = Number(command.body.split(",")[1]);
    if (command.isToBeDropped || command.body.startsWith("alive,")) continue;
    const again = sent.slice(i + 1).find(({ body }) => Number(body.split(",")[1]) === number);
    const answer = heard
      .slice(command.heardBefore, again?.heardBefore)
      .find((one) => !taken.has(one) && one.line !== null && numberOf(one.line) === number);
    if (answer === undefined) continue;
    taken.add(answer);
    const bytes = command.bytes + answer.text.length + 1;
    const wireMs = baud === null ? 0 : (1000 * BITS_PER_BYTE * bytes) / baud;
    const afterMs = answer.atMs - command.atMs - wireMs;
    slowestMs = Math.max(slowestMs, afterMs);
    judgeAnswer(command, answer, afterMs, ledger);
  }
  ledger.holds("3.6", "answers come in time", `the slowest after ${Math.round(slowestMs)} ms`);
  const unasked = heard.find((one) => one.line !== null && isAnswer(one.line) && !taken.has(one));
  const what = "nothing is answered that was not asked, and nothing twice";
  ledger.judge(
    "3.6",
    what,
    unasked === undefined,
    `"${unasked?.text}"`,
    "one answer for each command",
  );
}

function judgeAnswer(command: SentLine, answer: HeardLine, afterMs: number, ledger: Ledger): void {
  if (afterMs > ANSWER_MS + HOST_MARGIN_MS) {
    const seen = `"${answer.text}" ${Math.round(afterMs)} ms after "${command.body}"`;
    const wanted = `${ANSWER_MS} ms (and ${HOST_MARGIN_MS} ms for this computer)`;
    ledger.broken("3.6", "answers come in time", seen, wanted);
  }
  const hasToken = answer.line?.type === "ok" && answer.line.token !== null;
  if (!hasToken || command.body.startsWith("arm,")) return;
  ledger.broken(
    "3.6",
    "only arm is answered with a token",
    `"${answer.text}" to "${command.body}"`,
    "ok,N",
  );
}

function numberOf(line: RigLine): number | null {
  if (line.type === "ok" || line.type === "no") return line.number;
  return line.type === "hello" ? line.ask : null;
}

function reviewHello(boot: readonly HeardLine[], ledger: Ledger, hello: Hello): void {
  const hellos = boot.filter(({ line }) => line?.type === "hello");
  const first = hellos[0]?.line;
  if (first?.type !== "hello") return;
  for (const { line, text } of hellos) {
    if (line?.type !== "hello") continue;
    const same = { ...line, ask: first.ask, ambientPa: first.ambientPa };
    const isSame = JSON.stringify(same) === JSON.stringify(first);
    const wanted = "the same rig as before, and the same BOOT";
    ledger.judge("3.1", "hello says the same each time", isSame, `"${text}"`, wanted);
  }
  const { vacuumMaxPa, vacuumMinPa } = hello;
  const hasRange = vacuumMaxPa > vacuumMinPa || (vacuumMaxPa === 0 && vacuumMinPa === 0);
  ledger.judge(
    "3.1",
    "hello: VACMIN, VACMAX",
    hasRange,
    `${vacuumMinPa}, ${vacuumMaxPa}`,
    "a range, or 0,0",
  );
}

/** Where no bad line lies between, the sequence grows by one with each line (clause 2.2). */
function reviewSequences(boot: readonly HeardLine[], ledger: Ledger, type: "vac" | "state"): void {
  let last: HeardLine | null = null;
  for (const one of boot) {
    if (one.fault !== null) last = null;
    if (one.line?.type !== type) continue;
    if (last?.line?.type === type) {
      const step = stepCount(last.line.sequence, one.line.sequence);
      const seen = `"${last.text}" and then "${one.text}"`;
      ledger.judge("2.2", `sequence of ${type} lines`, step === 1, seen, "SEQ to grow by one");
    }
    last = one;
  }
}

/** Ticks against this computer's clock: from line to line, and on the whole (clauses 2.1 and 3.1). */
function reviewClock(boot: readonly HeardLine[], ledger: Ledger, hello: Hello): void {
  for (const type of ["state", "vac"] as const) {
    const told = boot.flatMap((one) =>
      one.line?.type === type ? [{ one, tick: one.line.tick }] : [],
    );
    let totalTicks = 0;
    let wraps = false;
    for (const [i, { one, tick }] of told.entries()) {
      const before = told[i - 1];
      if (before === undefined) continue;
      const step = stepTicks(before.tick, tick);
      totalTicks += step;
      wraps ||= step > 0 && tick < before.tick;
      const offMs = Math.abs((1000 * step) / hello.tickHz - (one.atMs - before.one.atMs));
      const seen = `"${before.one.text}" and ${Math.round(one.atMs - before.one.atMs)} ms later "${one.text}"`;
      const isGood = step >= 0 && offMs <= QUEUE_MS;
      ledger.judge(
        "2.1",
        `ticks of ${type} lines go on with time`,
        isGood,
        seen,
        `${hello.tickHz} ticks a second, modulo 2^32`,
      );
    }
    const first = told[0];
    const last = told.at(-1);
    if (first === undefined || last === undefined || last === first) continue;
    if (type === "vac") continue;
    // Of a counter that does not go on with time there is no rate.
    if (!ledger.isBroken("2.1"))
      judgeRate(ledger, hello, totalTicks, last.one.atMs - first.one.atMs);
    if (wraps) ledger.holds("2.1", "the counter wraps");
    else {
      const leftS = (2 ** 32 - last.tick) / hello.tickHz;
      ledger.notTested(
        "2.1",
        "the counter wraps",
        `it did not come round; it would in ${Math.round(leftS)} s`,
      );
    }
  }
}

function judgeRate(ledger: Ledger, hello: Hello, ticks: number, ms: number): void {
  const ratio = (1000 * ticks) / hello.tickHz / ms;
  const allowed = (hello.tickPpm + HOST_PPM) * 1e-6 + QUEUE_MS / ms;
  const seen = `${Math.round((1000 * ticks) / ms)} ticks a second`;
  const wanted = `TICKHZ ${hello.tickHz} within ${Math.round(allowed * 1e6)} ppm`;
  ledger.judge("3.1", "TICKHZ is the counter's rate", Math.abs(ratio - 1) <= allowed, seen, wanted);
}

/** By the rig's own ticks, so that this computer's load makes no difference. */
function reviewRates(boot: readonly HeardLine[], ledger: Ledger, hello: Hello): void {
  judgeRates(boot, ledger, hello, "state", "3.5", STATE_LINES_PER_S);
  if (hello.vacuumMaxPa > 0) judgeRates(boot, ledger, hello, "vac", "3.4", VACUUM_LINES_PER_S);
}

function judgeRates(
  boot: readonly HeardLine[],
  ledger: Ledger,
  { tickHz }: Hello,
  type: "vac" | "state",
  clause: string,
  perS: number,
): void {
  const least = WINDOW_S * perS - 1;
  let ticks: number[] = [];
  for (const { line } of boot) {
    // A failed sensor sends no vac lines (clause 6.7).
    if (type === "vac" && line?.type === "state" && line.fault === "sensor") ticks = [];
    if (line?.type !== type) continue;
    ticks = [...ticks.slice(-least), line.tick];
    if (ticks.length <= least) continue;
    const spanS = stepTicks(ticks[0] as number, line.tick) / tickHz;
    const seen = `${least} lines in ${spanS.toFixed(2)} s`;
    const what = `rate of ${type} lines`;
    ledger.judge(clause, what, spanS <= WINDOW_S, seen, `at least ${perS} a second`);
  }
}

function reviewWiring({ heard }: Wire, ledger: Ledger, hello: Hello): void {
  const none = (type: "vac" | "pick", clause: string, why: string) => {
    const one = heard.find(({ line }) => line?.type === type);
    ledger.judge(clause, `no ${type} lines ${why}`, one === undefined, `"${one?.text}"`, "none");
  };
  if (hello.vacuumMaxPa === 0) none("vac", "3.4", "without a sensor");
  else if (!heard.some(({ line }) => line?.type === "vac")) {
    ledger.broken("3.4", "vac lines come", "none", "at least 20 a second");
  }
  if (hello.edgesPerTurn === 1) none("pick", "3.3", "with the index only");
  for (const { line, text } of heard) {
    if (line?.type !== "state") continue;
    const guardGood = hello.guardInput || line.guardShut;
    const stopGood = hello.stopInput || !line.stopPressed;
    if (guardGood && stopGood) continue;
    ledger.broken(
      "3.5",
      "inputs that are not wired",
      `"${text}"`,
      "GUARD 1 and STOP 0 where no input is wired",
    );
  }
}
