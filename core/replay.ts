// A record computed again from the bytes that came from the rig: the same numbers, or what differs.

import { rigKnowledge } from "./angles/knowledge.ts";
import { Measurements } from "./angles/measurements.ts";
import { RunLog, type Span } from "./angles/runLog.ts";
import { LineCutter } from "./codec/framing.ts";
import { RigLineReader } from "./codec/rigLineReader.ts";
import type { Hello } from "./codec/rigLines.ts";
import type {
  FinalDocument,
  HoldDocument,
  PointDocument,
  PresentRig,
  RunDocument,
  StartDocument,
} from "./documents.ts";
import { BobweightError } from "./errors.ts";
import { holdFrom, holdSeconds } from "./hold.ts";
import { LineOrder } from "./lineOrder.ts";
import type { Plan } from "./plan.ts";
import { type Said, said } from "./said.ts";
import { TurnAssembler } from "./turns.ts";

/**
 * The record's documents with readings and hold tests computed anew from `raw`. What was decided while
 * it ran is taken from the record: which turns make a reading, when a line was closed off.
 *
 * @throws RECORD_INCOMPLETE where the raw bytes do not hold the turns of a reading
 */
export function replay(documents: readonly RunDocument[], raw: Uint8Array): readonly RunDocument[] {
  const start = documents.find((document): document is StartDocument => document.type === "start");
  if (start === undefined) throw incomplete(said("there is no start"));
  const { hello } = start.rig;
  if (hello === null) throw incomplete(said("it was read by hand, without a rig that sent lines"));
  const rig: PresentRig = { ...start.rig, hello };
  const points = documents.filter((document) => document.type === "point");
  const knowledge = rigKnowledge(rig, start.unit.rotation);
  const log = new RunLog(knowledge, start.unit.trigger.firingEdge);
  const measurements = readAll({ ...start, rig }, points, log, raw);
  const final = measurements?.final() ?? null;
  const told: FinalDocument | null = final === null ? null : { type: "final", ...final };
  const others = documents.filter(({ type }) => type !== "end" && type !== "final");
  const again = others.map((document) =>
    document.type === "hold" ? holdAgain(document, start.plan, hello, log) : document,
  );
  return told === null ? again : [...again, told];
}

/** Feeds the bytes to the log and hands each reading's turns over once they are in. */
function readAll(
  start: StartDocument & { readonly rig: PresentRig },
  points: readonly PointDocument[],
  log: RunLog,
  raw: Uint8Array,
): Measurements | null {
  let measurements: Measurements | null = null;
  const [reference, ...others] = points;
  const assembler = new TurnAssembler(start.rig.hello, (turn) => {
    log.pushTurn(turn);
    // As in the run, lobes are followed from the reference's last turn on, not before.
    const ends = (turn.indexTick + turn.duringTicks) % 2 ** 32 === reference?.reading.toTick;
    if (measurements !== null || reference === undefined || !ends) return;
    const span = spanOf(reference, log, 0);
    const lobes = log.takeReference(span, start.unit.lobeAnglesDeg);
    if (!lobes.found) throw incomplete(said("the lobes cannot be found at the reference"));
    measurements = new Measurements(
      start.unit,
      rigKnowledge(start.rig, start.unit.rotation),
      log,
      lobes.anglesDeg,
    );
    measurements.add(span, reference);
  });
  const vacuumOrder = new LineOrder();
  const reader = new RigLineReader();
  const cutter = new LineCutter((bytes, from, to) => {
    const line = reader.read(bytes, from, to);
    if (line.type === "rev") assembler.pushRev(line);
    else if (line.type === "pick") assembler.pushPick(line);
    else if (line.type === "vac" && vacuumOrder.take(line)) log.pushVacuum(line);
  });
  cutter.push(raw);
  if (reference === undefined) return null;
  const found = measurements as Measurements | null;
  if (found === null) throw incomplete(said("the turns of the reference are not in it"));
  let from = 0;
  for (const point of others) {
    const span = spanOf(point, log, from);
    found.beginWay(wayOf(point, log, from, span));
    found.add(span, point);
    from = span.to;
  }
  return found;
}

/** The tick counter may wrap within a run, so turns are looked for onward from the reading before. */
function spanOf({ reading, targetRpm }: PointDocument, log: RunLog, after: number): Span {
  const { turns } = log;
  const from = turns.findIndex(({ turn }, i) => i >= after && turn.indexTick === reading.fromTick);
  const to = turns.findIndex(
    ({ turn }, i) => i >= from && (turn.indexTick + turn.duringTicks) % 2 ** 32 === reading.toTick,
  );
  if (from < 0 || to < 0)
    throw incomplete(said("the turns of the reading at {} rpm are not in it", targetRpm));
  return { from, to: to + 1 };
}

/** Where the way to a reading began, which was decided while the run went on. */
function wayOf({ reading }: PointDocument, { turns }: RunLog, after: number, span: Span): number {
  const at = turns.findIndex(
    ({ turn }, i) => i >= after && i < span.to && turn.indexTick === reading.wayFromTick,
  );
  return at < 0 ? after : at;
}

function holdAgain(hold: HoldDocument, plan: Plan, { tickHz }: Hello, log: RunLog): HoldDocument {
  const planned = plan.capsules[hold.capsule]?.hold ?? null;
  const lines = log.vacuumsFrom(hold.fromTick);
  const long = planned === null ? 0 : planned.settleS + planned.seconds;
  if (planned === null || holdSeconds(lines, tickHz) < long) {
    throw incomplete(said("the vacuum lines of the hold test are not in it"));
  }
  const again = holdFrom(lines, planned, tickHz);
  return again === null ? hold : { ...hold, ...again };
}

function incomplete(what: Said): BobweightError {
  return new BobweightError(
    "RECORD_INCOMPLETE",
    said("The record cannot be computed again: {}.", what),
  );
}
