// The safety inputs, each first at rest and then with the spindle turning slowly (firmware-protocol.md, 5.3, 5.4 and 6.2).
import type { StateLine } from "../../core/codec/rigLines.ts";
import type { TestBench } from "./bench.ts";
import { AT_ONCE_MS, byHand, type Handful, judgeFault, personOf } from "./hands.ts";
import { judgeFalling, lowRpm } from "./motionChecks.ts";
import type { HandTask } from "./person.ts";

/** A safety input as the page has it. */
interface Input {
  readonly word: "guard" | "stop-input";
  readonly refusal: "guard-open" | "stop-input";
  readonly act: Handful;
  readonly undo: Handful;
}

function input(
  word: Input["word"],
  refusal: Input["refusal"],
  field: string,
  [act, undo]: readonly [HandTask, HandTask],
  isActed: (line: StateLine) => boolean,
): Input {
  const common = { clause: "3.5", wanted: `${field} to change` };
  return {
    word,
    refusal,
    act: { ...common, task: act, undo, wants: isActed },
    undo: { ...common, task: undo, undo: null, wants: (line) => !isActed(line) },
  };
}

const GUARD = input(
  "guard",
  "guard-open",
  "GUARD",
  ["open guard", "shut guard"],
  ({ guardShut }) => !guardShut,
);
const STOP = input(
  "stop-input",
  "stop-input",
  "STOP",
  ["press stop", "release stop"],
  ({ stopPressed }) => stopPressed,
);

export async function checkGuard(bench: TestBench): Promise<void> {
  if (bench.hello.guardInput) return checkInput(bench, GUARD);
  bench.ledger.notTested("6.2", "guard", "the rig has no guard input");
}

export async function checkStopInput(bench: TestBench): Promise<void> {
  if (bench.hello.stopInput) return checkInput(bench, STOP);
  bench.ledger.notTested("6.2", "stop-input", "the rig has no stop input");
}

async function checkInput(bench: TestBench, input: Input): Promise<void> {
  personOf(bench);
  // An input that does not work at rest is not to be relied on with the spindle turning.
  await checkAtRest(bench, input);
  if (!(await checkTurning(bench, input))) return;
  await checkLatched(bench, input);
}

const newArm = (bench: TestBench) => `arm,${bench.nextNumber()}`;

async function checkAtRest(bench: TestBench, { word, refusal, act, undo }: Input): Promise<void> {
  const { line, text } = await byHand(bench, act);
  const what = `${word} at rest and unarmed sets no fault`;
  bench.ledger.judge("6.2", what, line.fault !== word, `"${text}"`, "FAULT none");
  const arm = newArm(bench);
  const isRefused = await bench.expect("5.3", `arm is refused: ${refusal}`, arm, refusal);
  if (!isRefused) await bench.rest();
  await byHand(bench, undo);
  if (!isRefused) return;
  const again = "a refused arm is refused alike when repeated, its reason gone";
  await bench.expect("4.5", again, arm, refusal);
}

/** Whether it stopped the rig. */
async function checkTurning(bench: TestBench, { word, act, undo }: Input): Promise<boolean> {
  const { ledger, wire } = bench;
  const low = lowRpm(bench);
  await bench.arm();
  await bench.turn(low);
  const acted = await byHand(bench, act);
  const isStopped = ({ fault, armed, setRpm }: StateLine) =>
    fault === word && !armed && setRpm === 0;
  const latched = await wire.state(isStopped, AT_ONCE_MS, wire.heard.indexOf(acted));
  const wanted = `FAULT ${word}, ARMED 0, SETRPM 0 within ${AT_ONCE_MS} ms`;
  const what = `${word} stops a turning rig at once`;
  ledger.judge("6.2", what, latched !== null, `"${acted.text}"`, wanted);
  if (latched === null) {
    await bench.rest();
    await byHand(bench, undo);
    return false;
  }
  bench.letGo();
  await judgeFalling(bench, "6.2", `the spindle slows after ${word}`, low);
  await bench.standstill("6.2", `the spindle comes to rest after ${word}`);
  return true;
}

async function checkLatched(bench: TestBench, { word, refusal, undo }: Input): Promise<void> {
  const stop = () =>
    bench.expect("4.4", "stop is taken with a fault present", `stop,${bench.nextNumber()}`, "ok");
  const speed = `speed,${bench.nextNumber()},${bench.token},${bench.direction},${lowRpm(bench)},100`;
  await bench.expect("6.3", `no motion with the old token after ${word}`, speed, "not-armed");
  await stop();
  await judgeFault(bench, word, `${word} stays latched while its cause is there`);
  await bench.expect("5.3", `arm is refused: ${refusal}`, newArm(bench), refusal);
  await byHand(bench, undo);
  await judgeFault(bench, word, `${word} stays latched until a stop or ask`);
  await bench.expect("5.4", "arm is refused while a fault is latched", newArm(bench), "latched");
  await judgeFault(bench, word, `${word} is not cleared by arm`);
  await stop();
  await judgeFault(bench, "none", `stop clears ${word}, its cause gone`);
  await bench.expect("6.2", "arm is taken after that", newArm(bench), "ok");
  await bench.rest();
}
