// Leads pulled and the board reset, by hand (firmware-protocol.md, 6.3, 6.6, 6.7 and the boot of 3.1).
import type { RigFault } from "../../core/codec/rigLines.ts";
import { judgeStill } from "./armChecks.ts";
import { CheckEnded, type TestBench } from "./bench.ts";
import { byHand, HAND_S, judgeFault, personOf } from "./hands.ts";
import { lowRpm } from "./motionChecks.ts";
import { stepTicks } from "./ticks.ts";

const LINGER_MS = 700;
/** After a boot NOWRPM is 0 until two indexes have come, whatever the spindle does. */
const BOOT_LINGER_MS = 1500;
/** Clause 6.6. */
const STALL_TURNS = 1.5;
const STALL_S_MIN = 0.5;
/** Control and reporting may take this much of it, or add it. */
const STALL_OFF_S = 0.1;

/** The index pickup's lead pulled while it turns slowly. */
export async function checkStall(bench: TestBench): Promise<void> {
  const { ledger } = bench;
  const person = personOf(bench);
  const low = lowRpm(bench);
  await bench.arm();
  await bench.turn(low);
  const { line, text } = await byHand(bench, {
    task: "pull index",
    undo: "put index back",
    clause: "6.6",
    wants: ({ fault, nowRpm }) => fault !== "none" || nowRpm === 0,
    wanted: "FAULT stall",
  });
  const isStall = line.fault === "stall";
  const what = "a spindle without index is a stall";
  ledger.judge(
    "6.6",
    what,
    isStall,
    `"${text}"`,
    "FAULT stall with the first line that tells of it",
  );
  if (isStall) {
    judgeStallTime(bench, line.tick, low);
    const isOff = !line.armed && line.setRpm === 0;
    ledger.judge("6.6", "a stall stops the rig", isOff, `"${text}"`, "ARMED 0, SETRPM 0");
  }
  await bench.rest();
  person.please("put index back", HAND_S);
  if (!(await person.did("put index back")))
    throw new CheckEnded("the index pickup was not put back");
  if (isStall) await judgeFault(bench, "none", "stop clears stall");
}

function judgeStallTime({ ledger, wire, hello }: TestBench, stallTick: number, rpm: number): void {
  const turn = wire.all("rev").at(-1);
  if (turn === undefined) return;
  const { indexTick, duringTicks, afterTicks } = turn.line;
  const toldTick = indexTick + duringTicks + afterTicks;
  const afterS = stepTicks(toldTick, stallTick) / hello.tickHz;
  const stallS = Math.max(STALL_S_MIN, (STALL_TURNS * 60) / rpm);
  // Nothing tells of the last index but the turn that it ended.
  const isInTime = afterS >= stallS - STALL_OFF_S && afterS <= stallS + STALL_OFF_S;
  const seen = `it ${afterS.toFixed(2)} s after the last index`;
  const wanted = `${stallS.toFixed(2)} s within ${STALL_OFF_S} s`;
  ledger.judge("6.6", "a stall is found after its time", isInTime, seen, wanted);
}

/** The vacuum sensor's lead pulled, armed and at rest. */
export async function checkSensor(bench: TestBench): Promise<void> {
  const { ledger, wire, hello } = bench;
  if (hello.vacuumMaxPa === 0) {
    ledger.notTested("6.7", "sensor", "the rig has no vacuum sensor");
    return;
  }
  const person = personOf(bench);
  await bench.arm();
  const { line, text } = await byHand(bench, {
    task: "pull sensor",
    undo: "put sensor back",
    clause: "6.7",
    wants: ({ fault }) => fault !== "none",
    wanted: "FAULT sensor",
  });
  bench.letGo();
  const isStopped = line.fault === ("sensor" satisfies RigFault) && !line.armed;
  ledger.judge(
    "6.7",
    "a failed sensor stops the rig",
    isStopped,
    `"${text}"`,
    "FAULT sensor, ARMED 0",
  );
  await wire.sleep(100);
  const from = wire.heard.length;
  await wire.sleep(LINGER_MS);
  const vac = wire.all("vac", from)[0];
  const none = "no vac lines while the sensor fails";
  ledger.judge("6.7", none, vac === undefined, `"${vac?.text}"`, "none");
  const arm = `arm,${bench.nextNumber()}`;
  await bench.expect("5.4", "arm is refused while a fault is latched", arm, "latched");
  person.please("put sensor back", HAND_S);
  if (!(await person.did("put sensor back"))) throw new CheckEnded("the sensor was not put back");
  await bench.rest();
  await judgeFault(bench, "none", "stop clears sensor");
}

/** A boot in the middle of motion. */
export async function checkReset(bench: TestBench): Promise<void> {
  const { ledger, wire, hello } = bench;
  const person = personOf(bench);
  const low = lowRpm(bench);
  await bench.arm();
  await bench.turn(low);
  bench.isBootExpected = true;
  person.please("reset board", HAND_S);
  const isHello = ({ text }: { text: string }) => text.startsWith("hello,0,");
  const heard = await wire.until(isHello, HAND_S * 1000);
  bench.isBootExpected = false;
  bench.letGo();
  if (heard === null) {
    await bench.rest();
    if (!(await person.did("reset board"))) throw new CheckEnded("nobody reset the board");
    ledger.broken("3.1", "a hello comes after boot", "none", "hello with ASK 0");
    return;
  }
  ledger.holds("3.1", "a hello comes after boot");
  const isOther = heard.line?.type === "hello" && heard.line.boot !== hello.boot;
  const other = `another BOOT than ${hello.boot}`;
  ledger.judge("3.1", "BOOT differs from the boot before", isOther, `"${heard.text}"`, other);
  await wire.sleep(BOOT_LINGER_MS);
  const since = wire.heard.indexOf(heard) + 1;
  const on = wire.all("state", since).find(({ line }) => line.armed || line.setRpm > 0);
  const off = "a boot leaves the drive off";
  ledger.judge("6.3", off, on === undefined, `"${on?.text}"`, "ARMED 0, SETRPM 0");
  const again = wire.heard.slice(since).find(isHello);
  ledger.judge(
    "3.1",
    "the hello after boot comes once",
    again === undefined,
    `"${again?.text}"`,
    "one",
  );
  await bench.expect("4.2", "ask is answered after boot", `ask,${bench.nextNumber()}`, "hello");
  await bench.standstill("6.3", "the spindle comes to rest after a boot");
  const speed = `speed,${bench.nextNumber()},${bench.token},${bench.direction},${low},100`;
  await bench.expect("6.3", "no motion with a token from before the boot", speed, "not-armed");
  const from = wire.heard.length;
  await wire.sleep(LINGER_MS);
  judgeStill(bench, "6.3", "nothing moves after a boot", from);
  await bench.rest();
}
