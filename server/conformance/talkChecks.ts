// Numbers, repeats and commands that move nothing (firmware-protocol.md, 4.1 to 4.6).
import type { TestBench } from "./bench.ts";

export async function checkNumbers(bench: TestBench): Promise<void> {
  const { ledger } = bench;
  bench.startNumbersAt(5000);
  await bench.expect("4.2", "ask is answered by hello", "ask,5000", "hello");
  await bench.expect("4.1", "vent needs no token", "vent,5001", "ok");
  await bench.expect("4.6", "a lower number is refused", "vent,4000", "old-number");
  await bench.expect("4.4", "a stop with a lower number is refused", "stop,4999", "old-number");
  await bench.expect("5.1", "old-number comes before fields", "hold,4000", "old-number");
  bench.startNumbersAt(6000);
  // Without this the numbers below would all be refused, and the highest would be the last one ever.
  if (!(await bench.expect("4.2", "an ask with a lower number is taken", "ask,100", "hello")))
    return;
  const isSet = await bench.expect(
    "4.2",
    "an ask sets the last number to its own",
    "vent,101",
    "ok",
  );
  if (!isSet) return;
  await bench.expect("4.2", "an ask is answered again when repeated", "ask,102", "hello");
  await bench.expect("4.2", "an ask is answered again when repeated", "ask,102", "hello");
  await bench.answerTo("vent,103");
  await bench.expect("4.5", "a repeat gets its answer again", "vent,103", "ok");
  const other = "hold,103,00000000";
  await bench.expect("4.5", "the same number with other content is refused", other, "old-number");
  await bench.expect("4.5", "a repeat after that still gets its answer", "vent,103", "ok");
  await bench.expect("4.4", "a stop with the last number is taken", "stop,103", "ok");
  await bench.expect(
    "5.5",
    "hold without a token in force is refused",
    "hold,104,00000000",
    "not-armed",
  );
  await bench.expect(
    "4.5",
    "a repeat of a refused command is refused alike",
    "hold,104,00000000",
    "not-armed",
  );
  await bench.expect("1.7", "the highest number is taken", "vent,4294967295", "ok");
  await bench.expect("4.6", "a lower number is refused", "vent,105", "old-number");
  bench.startNumbersAt(1000);
  await bench.expect("4.2", "an ask with a lower number is taken", "ask,1000", "hello");

  const from = bench.wire.heard.length;
  const state = await bench.wire.state(() => true, 500, from);
  if (state === null) {
    ledger.broken("3.5", "state lines come at rest", "none within 500 ms", "at least 10 a second");
    return;
  }
  const isOff = !state.line.armed && state.line.setRpm === 0;
  ledger.judge(
    "4.2",
    "an ask leaves the rig stopped",
    isOff,
    `"${state.text}"`,
    "ARMED 0, SETRPM 0",
  );
}
