// `npm run bench`: time of the chain from bytes to readings against plain line reading of the same bytes.
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { ReadlineParser } from "serialport";
import type { RigKnowledge } from "../core/angles/knowledge.ts";
import { Measurements } from "../core/angles/measurements.ts";
import { RunLog, type Span } from "../core/angles/runLog.ts";
import { LineCutter } from "../core/codec/framing.ts";
import { RigLineReader } from "../core/codec/rigLineReader.ts";
import type { Hello } from "../core/codec/rigLines.ts";
import { TurnAssembler } from "../core/turns.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { uncheckedRig } from "./readings.ts";
import { driveThrough } from "./standIn.ts";

const LIMIT = 2.5;
const CHUNK_BYTES = 256;
/** The first rounds run code that is not compiled yet, and are not counted. */
const ROUNDS_BEFORE = 8;
const ROUNDS = 25;
/** So many times each goes over the recording in one timing, so that it clears away its own garbage within it. */
const PASSES = 8;
const TURNS_PER_READING = 400;
const UNIT = unitFromFile({ description: "bench", lobes: 4, rotation: "cw" }, "bench");
const SPEEDS_RPM = [300, 600, 1000, 1500, 2200, 3000, 4000];
const SECONDS = 20;

interface Recording {
  readonly hello: Hello;
  readonly knowledge: RigKnowledge;
  readonly chunks: readonly Uint8Array[];
  readonly bytes: number;
}

async function record(pickupEdges: number): Promise<Recording> {
  const scenario = {
    unit: { lobes: 4 },
    mechanism: { speedTable: [[0, 0]] },
    rig: { pickupEdges, eventJitterUs: 1.5, indexJitterUs: 1, sensorNoisePa: 25 },
  };
  const { hello, raw } = await driveThrough(
    scenario,
    SPEEDS_RPM.map((speedRpm) => ({ speedRpm, rampRpmPerS: 1000, waitS: 2, seconds: SECONDS })),
  );
  const whole = Buffer.concat(raw);
  const count = Math.ceil(whole.length / CHUNK_BYTES);
  const chunks = Array.from({ length: count }, (_, i) =>
    Uint8Array.from(whole.subarray(i * CHUNK_BYTES, (i + 1) * CHUNK_BYTES)),
  );
  return { hello, knowledge: uncheckedRig(hello, 1), chunks, bytes: whole.length };
}

/** CRC, parsing, whole turns, angles, lobes and readings. Gives the number of turns. */
function chain({ hello, knowledge, chunks }: Recording): number {
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

function begin(log: RunLog, knowledge: RigKnowledge, span: Span): Measurements {
  const lobes = log.takeReference(span, UNIT.lobeAnglesDeg);
  if (!lobes.found) throw new Error("the recording has no lobes");
  return new Measurements(UNIT, knowledge, log, lobes.anglesDeg);
}

/** The plain parser that comes with the serial port package. */
function readline({ chunks }: Recording): Promise<number> {
  const parser = new ReadlineParser({ delimiter: "\n" });
  let lines = 0;
  parser.on("data", () => lines++);
  for (const chunk of chunks) parser.write(chunk);
  parser.end();
  return new Promise((resolve) => parser.on("end", () => resolve(lines)));
}

/** The least that a program in JavaScript could do: text, cut at each line feed. */
function splitting({ chunks }: Recording): number {
  let rest = "";
  let lines = 0;
  for (const chunk of chunks) {
    const parts = (rest + Buffer.from(chunk).toString("latin1")).split("\n");
    rest = parts.pop() ?? "";
    lines += parts.length;
  }
  return lines;
}

setFlagsFromString("--expose-gc");
const collectGarbage = runInNewContext("gc") as (options: { type: "minor" }) => void;

/**
 * Processor time of one pass: of the whole process, threads of the collector and the compiler included,
 * since time by the clock would grow with whatever else the machine does. What others left behind is
 * collected before, of the young generation only: a full collection between two passes, when nothing of
 * a chain lives, throws away the code compiled for it, as never happens while a run is measured.
 */
async function secondsOf(pass: () => unknown): Promise<number> {
  collectGarbage({ type: "minor" });
  const from = process.cpuUsage();
  for (let i = 0; i < PASSES; i++) await pass();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1e6 / PASSES;
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] as number;
}

let missed = false;
for (const pickupEdges of [36, 1]) {
  const recording = await record(pickupEdges);
  const times: { chain: number; readline: number; splitting: number }[] = [];
  const turns = chain(recording);
  // All three in turn, so that whatever else the machine does meets them alike.
  for (let i = 0; i < ROUNDS_BEFORE + ROUNDS; i++) {
    const round = {
      chain: await secondsOf(() => chain(recording)),
      readline: await secondsOf(() => readline(recording)),
      splitting: await secondsOf(() => splitting(recording)),
    };
    if (i >= ROUNDS_BEFORE) times.push(round);
  }
  const chainS = middle(times.map((time) => time.chain));
  const readlineS = middle(times.map((time) => time.readline));
  const splittingS = middle(times.map((time) => time.splitting));
  const met = chainS <= LIMIT * readlineS;
  missed ||= !met;
  process.stdout.write(
    `${pickupEdges} edges: ${turns} turns, ${recording.bytes} bytes: ${Math.round(turns / chainS)} turns per second of processor time by the chain, ` +
      `${(chainS / readlineS).toFixed(2)} × the time of plain line reading (limit ${LIMIT}: ${met ? "met" : "MISSED"}), ` +
      `${(chainS / splittingS).toFixed(1)} × that of string splitting\n`,
  );
}
process.exitCode = missed ? 1 : 0;
