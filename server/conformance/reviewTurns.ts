// The turns that a rig told during a test: each alone, and as a chain (firmware-protocol.md, 3.2 and 3.3).
import type { Hello, PickPart, RevPart } from "../../core/codec/rigLines.ts";
import type { Ledger } from "./ledger.ts";
import { stepCount, stepTicks } from "./ticks.ts";
import type { HeardLine } from "./wire.ts";

/** Stall time at its shortest, less some: without this much time there was no standstill (clause 6.6). */
const STANDSTILL_S = 0.4;
/** How long after its last index a turn may be told; common practice, no source. */
const TOLD_S_MAX = 1;

interface Told<T> {
  readonly part: T;
  readonly text: string;
}

/** A turn with all its parts. */
interface Turn {
  readonly picks: readonly Told<PickPart>[];
  readonly revs: readonly Told<RevPart>[];
}

export function reviewTurns(boot: readonly HeardLine[], ledger: Ledger, hello: Hello): void {
  let turn: { picks: Told<PickPart>[]; revs: Told<RevPart>[] } = { picks: [], revs: [] };
  let last: Turn | null = null;
  let stood = false;
  for (const [at, { line, text, fault }] of boot.entries()) {
    if (fault !== null) {
      // What a bad line was cannot be told, so the chain begins anew after it.
      last = null;
      turn = { picks: [], revs: [] };
      continue;
    }
    if (line?.type === "state" && line.nowRpm === 0) stood = true;
    if (line?.type === "pick") turn.picks.push({ part: line, text });
    if (line?.type !== "rev") continue;
    turn.revs.push({ part: line, text });
    if (!judgeParts(ledger, turn.revs)) {
      last = null;
      turn = { picks: [], revs: [] };
      continue;
    }
    if (line.part < line.parts) continue;
    judgeEvents(ledger, turn.revs);
    judgePicks(ledger, hello, turn);
    judgeTime(ledger, hello, boot, at, line, text);
    if (last !== null) judgeChain(ledger, hello, last, turn, stood);
    last = turn;
    stood = false;
    turn = { picks: [], revs: [] };
  }
}

function judgeParts(ledger: Ledger, revs: readonly Told<RevPart>[]): boolean {
  const first = revs[0] as Told<RevPart>;
  const last = revs.at(-1) as Told<RevPart>;
  const head = ({ text }: Told<RevPart>) => text.split(",").slice(0, 8).join();
  const isNext = last.part.part === revs.length && last.part.parts === first.part.parts;
  const isSame = head(first) === head(last);
  const seen = `"${first.text}" and "${last.text}"`;
  const what = "parts of a turn follow one another";
  if (first.part.parts === 1 && isNext) return true;
  return ledger.judge(
    "3.2.3",
    what,
    isNext && isSame,
    seen,
    "PART from 1 on, with the same fields before it",
  );
}

function judgeEvents(ledger: Ledger, revs: readonly Told<RevPart>[]): void {
  let before = -1;
  for (const { part, text } of revs) {
    for (const tick of part.eventTicks) {
      const isWithin = tick < part.duringTicks;
      ledger.judge(
        "3.2.1",
        "events lie within their turn",
        isWithin,
        `"${text}"`,
        "less than DURING",
      );
      ledger.judge(
        "3.2",
        "events come in the order of their ticks",
        tick >= before,
        `"${text}"`,
        "ascending",
      );
      before = tick;
    }
  }
}

function judgePicks(ledger: Ledger, { edgesPerTurn }: Hello, { picks, revs }: Turn): void {
  if (edgesPerTurn < 2) return;
  const { part, text } = revs[0] as Told<RevPart>;
  if (part.lost) {
    const seen = picks[0]?.text;
    ledger.judge(
      "3.3",
      "a turn with LOST 1 has no pick lines",
      seen === undefined,
      `"${seen}"`,
      "none",
    );
    return;
  }
  const isOwn = picks.every(({ part: pick }, i) => {
    const isPart = pick.part === i + 1 && pick.parts === picks.length;
    return isPart && pick.sequence === part.sequence;
  });
  const lines = `${picks.map((one) => `"${one.text}"`).join(", ") || "no pick line"} before "${text}"`;
  ledger.judge(
    "3.3",
    "pick lines come before their turn",
    picks.length > 0 && isOwn,
    lines,
    "all parts, with its SEQ",
  );
  if (picks.length === 0 || !isOwn) return;
  const all = picks.flatMap(({ part: pick }) => pick.differenceTicks);
  const sum = all.reduce((total, ticks) => total + ticks, 0);
  ledger.judge(
    "3.3",
    "one difference for each edge",
    all.length === edgesPerTurn,
    lines,
    `${edgesPerTurn} differences`,
  );
  ledger.judge(
    "3.3",
    "differences add up to DURING",
    sum === part.duringTicks,
    `${sum} in ${lines}`,
    `${part.duringTicks}`,
  );
}

/** Told one turn late (clause 3.2): after index k + 2, by the state line that comes next, and not long after. */
function judgeTime(
  ledger: Ledger,
  { tickHz }: Hello,
  boot: readonly HeardLine[],
  at: number,
  { indexTick, duringTicks, afterTicks }: RevPart,
  text: string,
): void {
  const next = boot.slice(at, at + 400).find(({ line }) => line?.type === "state");
  if (next?.line?.type !== "state") return;
  const sinceS = stepTicks(indexTick + duringTicks + afterTicks, next.line.tick) / tickHz;
  const isInTime = sinceS >= 0 && sinceS <= TOLD_S_MAX;
  const what = "a turn is told after the index that ends the next one";
  ledger.judge(
    "3.2",
    what,
    isInTime,
    `"${text}" before "${next.text}"`,
    `0 to ${TOLD_S_MAX} s after it`,
  );
}

function judgeChain(
  ledger: Ledger,
  { tickHz }: Hello,
  last: Turn,
  turn: Turn,
  stood: boolean,
): void {
  const one = (last.revs[0] as Told<RevPart>).part;
  const { part: next, text } = turn.revs[0] as Told<RevPart>;
  const seen = `"${last.revs[0]?.text}" and then "${text}"`;
  const step = stepCount(one.sequence, next.sequence);
  const betweenS =
    stepTicks(one.indexTick + one.duringTicks + one.afterTicks, next.indexTick) / tickHz;
  if (stood) {
    ledger.judge("3.2", "BEFORE is 0 after a standstill", next.beforeTicks === 0, seen, "BEFORE 0");
    ledger.judge(
      "2.2",
      "the turns' sequence goes on",
      step > 0 && step < 2 ** 31,
      seen,
      "SEQ to grow",
    );
    ledger.judge(
      "3.2.4",
      "the sequence counts turns that are not told",
      step > 1,
      seen,
      "SEQ to grow by more than one",
    );
    return;
  }
  if (next.beforeTicks === 0) {
    const what = "BEFORE is 0 only after a standstill";
    ledger.judge("3.2", what, betweenS > STANDSTILL_S, seen, "BEFORE of the turn before it");
    return;
  }
  ledger.judge(
    "3.2.5",
    "EVERY is the number of turns since the line before",
    step === next.every,
    seen,
    `EVERY ${step}`,
  );
  ledger.judge(
    "2.2",
    "the turns' sequence grows",
    step > 0 && step < 2 ** 31,
    seen,
    "SEQ to grow with each turn",
  );
  if (step === 1) {
    const isTied = one.duringTicks === next.beforeTicks;
    ledger.judge(
      "3.2.6",
      "DURING is BEFORE of the next turn",
      isTied,
      seen,
      `BEFORE ${one.duringTicks}`,
    );
    const indexTick = (one.indexTick + one.duringTicks) % 2 ** 32;
    ledger.judge(
      "3.2.6",
      "INDEX and DURING add up to the next INDEX",
      next.indexTick === indexTick,
      seen,
      `INDEX ${indexTick}`,
    );
    const isForetold = one.afterTicks === next.duringTicks;
    ledger.judge(
      "3.2",
      "AFTER is DURING of the next turn",
      isForetold,
      seen,
      `DURING ${one.afterTicks}`,
    );
  }
  if (step === 2) {
    const isTied = one.afterTicks === next.beforeTicks;
    ledger.judge(
      "3.2",
      "AFTER is BEFORE of the turn after next",
      isTied,
      seen,
      `BEFORE ${one.afterTicks}`,
    );
  }
}
