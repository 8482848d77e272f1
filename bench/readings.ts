// The chain from bytes to readings, as a run goes through it.
import { Measurements } from "../core/angles/measurements.ts";
import { RunLog, type Span } from "../core/angles/runLog.ts";
import { LineCutter } from "../core/codec/framing.ts";
import { RigLineReader } from "../core/codec/rigLineReader.ts";
import { TurnAssembler } from "../core/turns.ts";
import { type Recording, TURNS_PER_READING, UNIT } from "./recording.ts";

/** CRC, parsing, whole turns, angles, lobes and readings. Gives the number of turns. */
export function readingsOf({ hello, knowledge, chunks }: Recording): number {
  const log = new RunLog(knowledge, UNIT.trigger.firingEdge);
  let measurements: Measurements | null = null;
  const assembler = new TurnAssembler(hello, (turn) => {
    log.pushTurn(turn);
    const to = log.turns.length;
    if (to % TURNS_PER_READING !== 0) return;
    const span = { from: to - TURNS_PER_READING, to };
    measurements ??= begin(log, knowledge, span);
    if (measurements.add(span, { sweep: "reference", branch: null }) === null)
      throw new Error("a reading had no events");
  });
  const reader = new RigLineReader();
  const cutter = new LineCutter((bytes, from, to) => {
    const line = reader.read(bytes, from, to);
    if (line.type === "rev") assembler.pushRev(line);
    else if (line.type === "pick") assembler.pushPick(line);
    else if (line.type === "vac") log.pushVacuum(line);
  });
  for (const chunk of chunks) cutter.push(chunk);
  return assembler.counts.good;
}

function begin(log: RunLog, knowledge: Recording["knowledge"], span: Span): Measurements {
  const lobes = log.takeReference(span, UNIT.lobeAnglesDeg);
  if (!lobes.found) throw new Error("the recording has no lobes");
  return new Measurements(UNIT, knowledge, log, lobes.anglesDeg);
}
