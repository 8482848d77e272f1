// Arming, the token and its expiry, at rest (firmware-protocol.md, 4.3, 4.8, part 5 and 6.1). Only with motion agreed to:
// a rig that is not as it should be may turn at any of these lines.
import { CheckEnded, HOST_MARGIN_MS, type TestBench } from "./bench.ts";
import { judgeExpiry } from "./expiry.ts";

/** "At once", with what the host may add. */
const AT_ONCE_MS = 30 + HOST_MARGIN_MS;
const TOKENS_ASKED = 6;
const LINGER_MS = 600;
const SLOW_RAMP_RPM_PER_S = 10;

export async function checkUnarmed(bench: TestBench): Promise<void> {
  const { hello, direction } = bench;
  const rpm = hello.speedMinRpm;
  // The spindle may still coast from before.
  await bench.rest();
  const from = bench.wire.heard.length;
  const first = `speed,${bench.nextNumber()},00000000,${direction},${rpm},100`;
  await bench.expect("5.5", "speed without a token in force is refused", first, "not-armed");
  const pascals = Math.max(1, hello.vacuumMinPa);
  const vacuum = `vacuum,${bench.nextNumber()},00000000,${pascals}`;
  await bench.expect("5.5", "vacuum without a token in force is refused", vacuum, "not-armed");
  const both = `speed,${bench.nextNumber()},00000000,${direction},${rpm},0`;
  await bench.expect("5.5", "not-armed comes before range", both, "not-armed");
  for (const [what, fields] of [
    ["too few fields", `00000000,${direction},${rpm}`],
    ["another word for the direction", `00000000,up,${rpm},100`],
    ["two digits after the full stop", `00000000,${direction},${Math.ceil(rpm)}.55,100`],
    ["a sign", `00000000,${direction},+${rpm},100`],
  ] as const) {
    const body = `speed,${bench.nextNumber()},${fields}`;
    await bench.expect("5.2", `speed with ${what} is refused`, body, "fields");
  }
  await bench.wire.sleep(LINGER_MS);
  judgeStill(bench, "6.3", "nothing moves before arm", from);
  await bench.rest();
}

/** By all that was heard from `from` on. */
export function judgeStill(bench: TestBench, clause: string, what: string, from: number): void {
  const moved = bench.wire
    .all("state", from)
    .find(({ line }) => line.setRpm > 0 || line.nowRpm > 0);
  bench.ledger.judge(clause, what, moved === undefined, `"${moved?.text}"`, "SETRPM 0, NOWRPM 0");
}

export async function checkToken(bench: TestBench): Promise<void> {
  const { wire, ledger } = bench;
  // Right after a state line, so that the next one that is due anyway is far off.
  await wire.state(() => true, 500);
  const number = bench.nextNumber();
  const { word, heard } = await bench.answerTo(`arm,${number}`);
  const token = heard?.line?.type === "ok" ? heard.line.token : null;
  const seen = heard === null ? "no answer" : `"${heard.text}"`;
  ledger.judge(
    "4.3",
    "arm gives a token",
    token !== null,
    seen,
    "ok with 8 upper-case hexadecimal digits",
  );
  if (token === null || heard === null) throw new CheckEnded(`the rig did not arm: ${word}`);
  bench.keepAlive(token);
  const from = wire.heard.indexOf(heard) + 1;
  const armed = await wire.state((line) => line.armed, 500, from);
  const afterMs = armed === null ? Number.POSITIVE_INFINITY : armed.atMs - heard.atMs;
  const told =
    armed === null ? "no state line with ARMED 1" : `it ${Math.round(afterMs)} ms after the answer`;
  ledger.judge(
    "3.5",
    "a change of ARMED is told at once",
    afterMs <= AT_ONCE_MS,
    told,
    `it within ${AT_ONCE_MS} ms`,
  );

  const again = await bench.answerTo(`arm,${number}`);
  const repeated = again.heard?.line?.type === "ok" ? again.heard.line.token : null;
  const wanted = `ok,${number},${token}`;
  ledger.judge(
    "4.5",
    "a repeated arm gives the same token",
    repeated === token,
    `"${again.heard?.text}"`,
    wanted,
  );

  await bench.arm();
  const old = `hold,${bench.nextNumber()},${token}`;
  await bench.expect("4.3", "the token before a new arm is void", old, "bad-token");
  await checkRefusalOrder(bench);
  await checkVoiding(bench);
}

async function checkRefusalOrder(bench: TestBench): Promise<void> {
  const { direction, wrongToken, hello } = bench;
  const speed = `speed,${bench.nextNumber()},${wrongToken},${direction},${hello.speedMinRpm},0`;
  await bench.expect("5.6", "speed with another token is refused", speed, "bad-token");
  const vacuum = `vacuum,${bench.nextNumber()},${wrongToken},0`;
  await bench.expect("5.6", "vacuum with another token is refused", vacuum, "bad-token");
}

async function checkVoiding(bench: TestBench): Promise<void> {
  const { ledger } = bench;
  const tokens: string[] = [];
  for (let i = 0; i < TOKENS_ASKED; i++) {
    await bench.arm();
    tokens.push(bench.token);
    bench.letGo();
    const by = i % 2 === 0 ? "stop" : "ask";
    const word = await bench.command(by);
    const isAnswered = word === (by === "stop" ? "ok" : "hello");
    const clause = by === "stop" ? "4.4" : "4.2";
    ledger.judge(clause, `${by} is answered`, isAnswered, word, "ok or hello");
    const hold = `hold,${bench.nextNumber()},${bench.token}`;
    await bench.expect(clause, `${by} voids the token`, hold, "not-armed");
  }
  const values = tokens.map((token) => Number.parseInt(token, 16));
  const steps = new Set(values.slice(1).map((value, i) => value - (values[i] as number)));
  const isVaried = new Set(tokens).size === TOKENS_ASKED && steps.size > 1;
  ledger.judge(
    "4.3",
    "tokens differ each time, and not by the same step",
    isVaried,
    tokens.join(" "),
    "others",
  );
}

/** At rest nothing is lost by an expiry, so it is looked at here in all its endings. */
export async function checkExpiryAtRest(bench: TestBench): Promise<void> {
  const { wire, ledger } = bench;
  await bench.arm();
  await bench.drawVacuum();
  const from = wire.heard.length;
  await wire.sleep(1000);
  const before = wire.all("state").at(-1);
  ledger.judge(
    "6.1",
    "alive keeps the token in force",
    before?.line.armed === true,
    `"${before?.text}"`,
    "ARMED 1",
  );
  const isExpired = await judgeExpiry(bench, "at rest", bench.letGo());
  const silent = wire.heard
    .slice(from)
    .find(({ line }) => line?.type === "ok" || line?.type === "no");
  ledger.judge(
    "4.1",
    "alive is never answered",
    silent === undefined,
    `"${silent?.text}"`,
    "no answer",
  );
  if (isExpired) await checkAfterExpiry(bench);
  await bench.rest();
}

async function checkAfterExpiry(bench: TestBench): Promise<void> {
  const { wire, ledger } = bench;
  if (!(await judgeEnding(bench, "arm"))) await bench.rest();
  await expireNew(bench);
  const number = bench.lastNumber;
  await bench.expect(
    "4.5",
    "a repeated arm is answered alike after its token is void",
    `arm,${number}`,
    "ok",
  );
  const state = await bench.stateAfter(null);
  ledger.judge(
    "4.5",
    "a repeated arm does not arm again",
    !state.line.armed,
    `"${state.text}"`,
    "ARMED 0",
  );
  for (const ending of ["stop", "ask"] as const) {
    await judgeEnding(bench, ending);
    await expireNew(bench);
  }
  await bench.command("stop");

  await bench.arm();
  bench.letGo();
  const from = wire.heard.length;
  for (let i = 0; i < 8; i++) {
    wire.send(`alive,${bench.wrongToken}`);
    await wire.sleep(100);
  }
  const expired = wire.all("state", from).some(({ line }) => !line.armed);
  const seen = "a token still in force after 800 ms";
  ledger.judge("4.8", "alive with another token is ignored", expired, seen, "ARMED 0");
}

/** Lets a new token run out. */
async function expireNew(bench: TestBench): Promise<void> {
  await bench.arm();
  bench.letGo();
  await bench.wire.state(({ armed }) => !armed, 1000);
}

/** That an expiry is over with the next command of these. Whether it was taken. */
async function judgeEnding(bench: TestBench, ending: "arm" | "stop" | "ask"): Promise<boolean> {
  const { word, heard } = await bench.answerTo(`${ending},${bench.nextNumber()}`);
  const isTaken = word === "ok" || word === "hello";
  const what = `${ending} is taken after an expiry`;
  bench.ledger.judge("6.1", what, isTaken, heard?.text ?? "no answer", "ok or hello");
  if (!isTaken) return false;
  const { line, text } = await bench.stateAfter(heard);
  const isBack = line.fault === "none";
  bench.ledger.judge("6.1", `${ending} sets FAULT back`, isBack, `"${text}"`, "FAULT none");
  return true;
}

/** What is out of range is sent at rest and with a slow ramp, and stopped at once where it is taken after all. */
export async function checkRanges(bench: TestBench): Promise<void> {
  const { hello, direction, ledger } = bench;
  await bench.arm();
  const speed = (what: string, rpm: number, ramp: number) =>
    refused(
      bench,
      "5.9",
      what,
      `speed,${bench.nextNumber()},${bench.token},${direction},${tenths(rpm)},${tenths(ramp)}`,
      "range",
    );
  await speed("a speed above MAXRPM is refused", hello.speedMaxRpm + 0.1, SLOW_RAMP_RPM_PER_S);
  if (hello.speedMinRpm > 0.1) {
    await speed("a speed below MINRPM is refused", hello.speedMinRpm - 0.1, SLOW_RAMP_RPM_PER_S);
  }
  await speed("a ramp of 0 is refused", hello.speedMinRpm, 0);
  await speed("a ramp above 2000 is refused", hello.speedMinRpm, 2000.1);
  const vacuum = (what: string, pascals: number) =>
    refused(bench, "5.9", what, `vacuum,${bench.nextNumber()},${bench.token},${pascals}`, "range");
  const { vacuumMinPa, vacuumMaxPa } = hello;
  if (vacuumMaxPa > 0) {
    await vacuum("a vacuum of 0 is refused", 0);
    await vacuum("a vacuum above VACMAX is refused", vacuumMaxPa + 1);
    if (vacuumMinPa > 1) await vacuum("a vacuum below VACMIN is refused", vacuumMinPa - 1);
    ledger.notTested("5.10", "no-sensor", "the rig has a vacuum sensor");
  } else {
    const body = (type: string, fields: string) =>
      `${type},${bench.nextNumber()},${bench.token}${fields}`;
    await refused(
      bench,
      "5.10",
      "vacuum is refused without sensor",
      body("vacuum", ",20000"),
      "no-sensor",
    );
    await refused(bench, "5.10", "hold is refused without sensor", body("hold", ""), "no-sensor");
  }
  if (bench.otherDirection === null) {
    const other = direction === "cw" ? "ccw" : "cw";
    const body = `speed,${bench.nextNumber()},${bench.token},${other},${hello.speedMinRpm},100`;
    await refused(bench, "5.7", "a direction that the drive has not is refused", body, "direction");
  } else ledger.notTested("5.7", "direction", "the drive has both directions");
  await bench.rest();
}

async function refused(
  bench: TestBench,
  clause: string,
  what: string,
  body: string,
  reason: string,
): Promise<void> {
  if (await bench.expect(clause, what, body, reason)) return;
  await bench.rest();
  await bench.arm();
}

function tenths(value: number): string {
  return String(Math.round(value * 10) / 10);
}
