// Lines as a rig must take or drop them (firmware-protocol.md, part 1). All are vents: nothing moves, whatever is done with them.
import type { TestBench } from "./bench.ts";
import { crcDigits } from "./forms.ts";

const LINE_BYTES_MAX = 240;

export async function checkFraming(bench: TestBench): Promise<void> {
  await checkDropped(bench);
  await checkTaken(bench);
  await checkMalformed(bench);
}

/** A dropped line must leave no trace: its number can be used after it. */
async function dropped(
  bench: TestBench,
  clause: string,
  what: string,
  textOf: (number: number) => string,
): Promise<void> {
  const number = bench.nextNumber();
  await bench.expectSilence(clause, what, textOf(number));
  const after = "after a dropped line its number is still to be used";
  await bench.expect("1.4", after, `vent,${number}`, "ok");
}

async function checkDropped(bench: TestBench): Promise<void> {
  const crcOf = (number: number) => crcDigits(`vent,${number}`);
  const wrong = (crc: string) => (crc.startsWith("0") ? "1" : "0") + crc.slice(1);
  await dropped(
    bench,
    "1.3",
    "a line with a wrong CRC is dropped",
    (n) => `vent,${n}*${wrong(crcOf(n))}\n`,
  );
  await dropped(
    bench,
    "1.3",
    "a line with the CRC of another is dropped",
    (n) => `vent,${n}*${crcOf(n + 1)}\n`,
  );
  while (!/[A-F]/.test(crcOf(bench.nextNumber() + 1)));
  await dropped(
    bench,
    "1.2",
    "a CRC in lower case is dropped",
    (n) => `vent,${n}*${crcOf(n).toLowerCase()}\n`,
  );
  await dropped(bench, "1.4", "a line without asterisk is dropped", (n) => `vent,${n}\n`);
  await dropped(
    bench,
    "1.4",
    "a line with seven digits is dropped",
    (n) => `vent,${n}*${crcOf(n).slice(0, 7)}\n`,
  );
  await dropped(bench, "1.1", "a line of 241 bytes is dropped", (n) =>
    padded(n, LINE_BYTES_MAX + 1),
  );
  await dropped(bench, "1.1", "a line of 1000 bytes is dropped", (n) => padded(n, 1000));
  for (const [what, letter] of [
    ["a control byte", "\x07"],
    ["byte 0x7F", "\x7f"],
    ["a byte above 0x7F", "\xe9"],
  ] as const) {
    await dropped(bench, "1.4", `a line with ${what} is dropped`, (n) =>
      closed(`vent,${n},a${letter}`),
    );
  }
  await dropped(bench, "1.4", "of two CRs before the LF only one is dropped", (n) =>
    closed(`vent,${n}`).replace("\n", "\r\r\n"),
  );
}

async function checkTaken(bench: TestBench): Promise<void> {
  await taken(bench, "1.1", "a line of 240 bytes is taken", (n) => padded(n, LINE_BYTES_MAX));
  await taken(bench, "1.4", "a CR before the LF is dropped", (n) =>
    closed(`vent,${n}`).replace("\n", "\r\n"),
  );
  await taken(bench, "1.4", "empty lines are ignored", (n) => `\n\r\n\n${closed(`vent,${n}`)}`);
  await taken(bench, "1.5", "further fields are ignored", (n) => closed(`vent,${n},later,0,`));
  const number = bench.nextNumber();
  const { heardBefore } = bench.wire.sendText(
    closed(`vent,${number}`).slice(0, 4),
    `vent,${number}`,
    false,
  );
  await bench.wire.sleep(20);
  bench.wire.write(closed(`vent,${number}`).slice(4));
  const pieces = await bench.answerFrom(number, heardBefore);
  bench.ledger.judge(
    "1.1",
    "a line in two pieces is taken",
    pieces.word === "ok",
    pieces.word,
    "ok",
  );
}

async function taken(
  bench: TestBench,
  clause: string,
  what: string,
  textOf: (number: number) => string,
): Promise<void> {
  const number = bench.nextNumber();
  const text = textOf(number);
  const { heardBefore } = bench.wire.sendText(text, `vent,${number}`, false);
  const { word, heard } = await bench.answerFrom(number, heardBefore);
  const seen = `${heard === null ? "no answer" : `"${heard.text}"`} to ${JSON.stringify(text.slice(0, 60))}`;
  bench.ledger.judge(clause, what, word === "ok", seen, `ok,${number}`);
}

async function checkMalformed(bench: TestBench): Promise<void> {
  const n = bench.nextNumber();
  const silent = (clause: string, what: string, body: string) =>
    bench.expectSilence(clause, what, closed(body));
  await silent("1.5", "a line of unknown type is not answered", `sing,${n}`);
  await silent("1.5", "a line of unknown type is not answered", `Vent,${n}`);
  await silent("1.6", "a command without number is dropped", "vent");
  await silent("1.7", "a number with a sign is dropped", `vent,+${n}`);
  await silent("1.7", "a number with a leading zero is dropped", `vent,0${n}`);
  await silent("1.7", "a number with a blank is dropped", `vent, ${n}`);
  await silent("1.7", "a number with a full stop is dropped", `vent,${n}.0`);
  await silent("1.7", "a number above 4294967295 is dropped", "vent,4294967296");
  const few = `hold,${bench.nextNumber()}`;
  await bench.expect("5.2", "a command with too few fields is refused", few, "fields");
  const lower = `hold,${bench.nextNumber()},abcdef01`;
  await bench.expect("5.2", "a token of the wrong form is refused", lower, "fields");
  await bench.expect(
    "1.4",
    "the rig goes on after dropped lines",
    `vent,${bench.nextNumber()}`,
    "ok",
  );
}

function closed(body: string): string {
  return `${body}*${crcDigits(body)}\n`;
}

/** A vent with a further field that makes it this long. */
function padded(number: number, bytes: number): string {
  const head = `vent,${number},`;
  return closed(head + "x".repeat(bytes - head.length - "*00000000\n".length));
}
