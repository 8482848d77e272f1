// What a rig does while its spindle turns, and by what it stops (firmware-protocol.md, parts 4, 5.8 and 6).
import { judgeStill } from "./armChecks.ts";
import { CheckEnded, type TestBench, TURN_RAMP_RPM_PER_S } from "./bench.ts";
import { judgeExpiry } from "./expiry.ts";
import { judgeHighest, judgeRamp } from "./ramps.ts";
import type { HeardLine } from "./wire.ts";

const LOW_RPM = 300;
const RAMP_S = 3;
const LINGER_MS = 700;
const FALL_WAIT_MS = 5000;
/** A spindle without drive has lost this share of its speed by then, whatever its inertia (common practice, no source). */
const FALL_SHARE = 0.1;

/** The lowest speed that is good for a test on this rig. */
export function lowRpm({ hello, settings }: TestBench): number {
  return Math.max(hello.speedMinRpm, Math.min(LOW_RPM, settings.speedMaxRpm));
}

function highRpm({ hello, settings }: TestBench): number {
  return Math.min(hello.speedMaxRpm, settings.speedMaxRpm);
}

/** Speeds, ramps, coming to rest and turning about. */
export async function checkSpeeds(bench: TestBench): Promise<void> {
  const { ledger, hello } = bench;
  const low = lowRpm(bench);
  const high = highRpm(bench);
  await bench.arm();
  await bench.turn(low);
  const { line, text } = await bench.stateAfter(null);
  const isTold = line.setRpm === low && line.direction === bench.direction;
  ledger.judge(
    "3.5",
    "SETRPM and DIRECTION are those of the last speed",
    isTold,
    `"${text}"`,
    `SETRPM ${low}, DIRECTION ${bench.direction}`,
  );
  await bench.wire.sleep(LINGER_MS);
  if (high > low) {
    const ramp = Math.min(2000, Math.max(1, Math.round((high - low) / RAMP_S)));
    const from = bench.wire.heard.length;
    await judgeRamp(bench, low, high, ramp);
    if (high === hello.speedMaxRpm) judgeHighest(bench, from);
    await judgeRamp(bench, high, low, ramp);
  }
  if (high < hello.speedMaxRpm) {
    const why = `this test goes to ${high} rpm only, and MAXRPM is ${hello.speedMaxRpm}: see --speed-max`;
    ledger.notTested("6.5", "MAXRPM is not passed on command", why);
  }
  await checkComingToRest(bench, low);
  await bench.rest();
}

async function checkComingToRest(bench: TestBench, low: number): Promise<void> {
  const { ledger, wire, otherDirection } = bench;
  const about = (number: number) =>
    `speed,${number},${bench.token},${otherDirection},${low},${TURN_RAMP_RPM_PER_S}`;
  if (otherDirection !== null) {
    const what = "the other direction is refused while turning";
    await bench.expect("5.8", what, about(bench.nextNumber()), "turning");
    const both = `speed,${bench.nextNumber()},${bench.token},${otherDirection},${low},0`;
    await bench.expect("5.8", "turning comes before range", both, "turning");
  } else ledger.notTested("5.8", "turning", "the drive has one direction only");
  await bench.speed(0, TURN_RAMP_RPM_PER_S);
  let refusedNumber: number | null = null;
  if (otherDirection !== null) {
    refusedNumber = bench.nextNumber();
    const what = "the other direction is refused while coming to rest";
    await bench.expect("5.8", what, about(refusedNumber), "turning");
  }
  await bench.standstill("4.1", "speed 0 brings to rest and leaves armed");
  const { line, text } = await bench.stateAfter(null);
  const isAtRest = line.armed && line.setRpm === 0 && line.fault === "none";
  ledger.judge(
    "4.1",
    "speed 0 brings to rest and leaves armed",
    isAtRest,
    `"${text}"`,
    "SETRPM 0, ARMED 1, FAULT none",
  );
  if (otherDirection === null || refusedNumber === null) return;
  const from = wire.heard.length;
  const what = "a repeat of a refused command is refused though its reason has gone";
  await bench.expect("4.5", what, about(refusedNumber), "turning");
  await wire.sleep(LINGER_MS);
  judgeStill(bench, "4.5", "a repeat of a refused command is not done", from);
  await bench.turn(low, otherDirection);
  const turned = await bench.stateAfter(null);
  const isAbout = turned.line.direction === otherDirection;
  ledger.judge(
    "3.5",
    "DIRECTION is that of the drive",
    isAbout,
    `"${turned.text}"`,
    `DIRECTION ${otherDirection}`,
  );
}

/** Everything by which the host stops a turning spindle. */
export async function checkStops(bench: TestBench): Promise<void> {
  const low = lowRpm(bench);
  for (const [type, clause] of [
    ["stop", "4.4"],
    ["ask", "4.2"],
    ["arm", "4.3"],
  ] as const) {
    await bench.arm();
    await bench.drawVacuum();
    await bench.turn(low);
    const old = bench.token;
    // The stay-alive goes on, so that it is not its end that stops the drive.
    const { word, heard } = await bench.answerTo(`${type},${bench.nextNumber()}`);
    const answered = `${type} is answered while turning`;
    const isAnswered = heard !== null && word === (type === "ask" ? "hello" : "ok");
    bench.ledger.judge(clause, answered, isAnswered, heard?.text ?? "no answer", "ok or hello");
    if (heard === null) throw new CheckEnded(`no answer came to ${type}`);
    if (type === "arm") await expectStoppedAndArmed(bench, heard);
    else await bench.expectStopped(clause, `${type} stops a turning rig`, heard);
    const speed = `speed,${bench.nextNumber()},${old},${bench.direction},${low},${TURN_RAMP_RPM_PER_S}`;
    const reason = type === "arm" ? "bad-token" : "not-armed";
    const place = type === "arm" ? "4.3" : "6.3";
    await bench.expect(place, `no motion with the old token after ${type}`, speed, reason);
    await judgeFalling(bench, clause, `the spindle slows after ${type}`, low);
    await bench.rest();
  }
  await bench.arm();
  await bench.drawVacuum();
  const number = await bench.turn(low);
  const what = "a stop with the last number is taken while turning";
  const { word, heard } = await bench.answerTo(`stop,${number}`);
  bench.ledger.judge("4.4", what, word === "ok", heard?.text ?? "no answer", "ok");
  await bench.expectStopped("4.4", "a stop with the last number stops a turning rig", heard);
  await judgeFalling(bench, "4.4", "the spindle slows after a stop with the last number", low);
  await bench.rest();
}

async function expectStoppedAndArmed(bench: TestBench, heard: HeardLine): Promise<void> {
  if (heard.line?.type === "ok" && heard.line.token !== null) bench.keepAlive(heard.line.token);
  const { line, text } = await bench.stateAfter(heard);
  const what = "a new arm stops a turning rig";
  bench.ledger.judge(
    "4.3",
    what,
    line.armed && line.setRpm === 0,
    `"${text}"`,
    "ARMED 1, SETRPM 0",
  );
}

/** The stay-alive runs out while it turns. */
export async function checkExpiryTurning(bench: TestBench): Promise<void> {
  const { wire, ledger, direction } = bench;
  const low = lowRpm(bench);
  await bench.arm();
  await bench.drawVacuum();
  const number = await bench.turn(low);
  const { token } = bench;
  if (!(await judgeExpiry(bench, "while turning", bench.letGo()))) return bench.rest();
  wire.send(`alive,${token}`);
  const again = `speed,${number},${token},${direction},${low},${TURN_RAMP_RPM_PER_S}`;
  await bench.expect("4.5", "a repeat is answered alike, whatever happened since", again, "ok");
  const from = wire.heard.length;
  const state = await bench.stateAfter(null);
  const isOff = !state.line.armed && state.line.setRpm === 0;
  ledger.judge(
    "4.5",
    "a repeat is not done a second time",
    isOff,
    `"${state.text}"`,
    "ARMED 0, SETRPM 0",
  );
  await judgeFalling(bench, "6.1", "the spindle slows after an expiry", low);
  const next = `speed,${bench.nextNumber()},${token},${direction},${low},${TURN_RAMP_RPM_PER_S}`;
  await bench.expect("6.3", "no motion with the old token after an expiry", next, "not-armed");
  const rearmed = wire.all("state", from).find(({ line }) => line.armed);
  ledger.judge(
    "6.3",
    "alive does not bring a token back",
    rearmed === undefined,
    `"${rearmed?.text}"`,
    "ARMED 0",
  );
  await bench.rest();
}

/**
 * That the drive is off is seen by the spindle, whatever the rig says of itself.
 * @throws CheckEnded where it goes on: a rig that does not stop is not set in motion again
 */
export async function judgeFalling(
  bench: TestBench,
  clause: string,
  what: string,
  fromRpm: number,
): Promise<void> {
  const limitRpm = (1 - FALL_SHARE) * fromRpm;
  const slower = await bench.wire.state(({ nowRpm }) => nowRpm < limitRpm, FALL_WAIT_MS);
  const last = bench.wire.all("state").at(-1);
  const wanted = `NOWRPM below ${Math.round(limitRpm)} within ${FALL_WAIT_MS / 1000} s`;
  if (bench.ledger.judge(clause, what, slower !== null, `"${last?.text}"`, wanted)) return;
  bench.unsafe = "the spindle did not slow when it was stopped, and is not set in motion again";
  throw new CheckEnded(bench.unsafe);
}
