// Mutants that change nothing which a test could notice, each with its reason. They count as survivors all the same.

interface Equivalent {
  readonly file: string;
  /** The line it begins in, without the white space around it. */
  readonly line: string;
  readonly becomes: string;
  readonly reason: string;
}

export const EQUIVALENT: readonly Equivalent[] = [
  {
    file: "core/codec/crc32.ts",
    line: "for (let byte = 0; byte < 256; byte++) {",
    becomes: "byte <= 256",
    reason: "the entry after the last is written anew by the next loop",
  },
  {
    file: "core/codec/crc32.ts",
    line: "for (let at = 256; at < TABLE.length; at++) {",
    becomes: "at <= TABLE.length",
    reason: "a typed array takes nothing beyond its end",
  },
  {
    file: "core/codec/crc32.ts",
    line: "for (; i + SLICES <= end; i += SLICES) {",
    becomes: "i + SLICES < end",
    reason: "the last eight bytes come to the same one by one",
  },
  {
    file: "core/codec/crc32.ts",
    line: "for (; i + SLICES <= end; i += SLICES) {",
    becomes: "false",
    reason: "all bytes come to the same one by one, only slower",
  },
  {
    file: "core/codec/framing.ts",
    line: "if (at % 4 === 0) {",
    becomes: "at * 4",
    reason: "looking at four bytes at once is only faster",
  },
  {
    file: "core/codec/framing.ts",
    line: "if (at % 4 === 0) {",
    becomes: "false",
    reason: "looking at four bytes at once is only faster",
  },
  {
    file: "core/codec/framing.ts",
    line: "if (at % 4 === 0) {",
    becomes: "{}",
    reason: "looking at four bytes at once is only faster",
  },
  {
    file: "core/codec/framing.ts",
    line: "while (at + 4 <= end && isUsual(words[at >> 2] as number)) at += 4;",
    becomes: "at + 4 < end",
    reason: "the last four bytes come to the same one by one",
  },
  {
    file: "core/codec/framing.ts",
    line: "while (at + 4 <= end && isUsual(words[at >> 2] as number)) at += 4;",
    becomes: "false",
    reason: "looking at four bytes at once is only faster",
  },
  {
    file: "core/codec/framing.ts",
    line: "return ((tooSmall | tooLarge | asterisk) & (0x80 * EACH)) === 0;",
    becomes: "false",
    reason: "looking at four bytes at once is only faster",
  },
  {
    file: "core/codec/framing.ts",
    line: "const isWhole = chunk.length <= PIECE_BYTES_MAX;",
    becomes: "chunk.length < PIECE_BYTES_MAX",
    reason: "a part that is the whole has the same bytes",
  },
  {
    file: "core/codec/framing.ts",
    line: "const isWhole = chunk.length <= PIECE_BYTES_MAX;",
    becomes: "false",
    reason: "a part that is the whole has the same bytes",
  },
  {
    file: "server/run/moves.ts",
    line: "return last.length === 0 ? null : meanSpeedRpm(last, tickHz);",
    becomes: "false",
    reason: "the speed of no turns is no number, and no speed is near that",
  },
  {
    file: "server/run/moves.ts",
    line: "turns.length - from >= STEADY_WINDOW.turns && ticks >= STEADY_WINDOW.leastS * tickHz;",
    becomes: "turns.length + from",
    reason: "the loop before ends with enough turns, or with `from` at 0",
  },
  {
    file: "server/run/moves.ts",
    line: "return isSteady(earlier, later) ? true : undefined;",
    becomes: "false",
    reason: "what the wait gives is not looked at",
  },
  {
    file: "server/run/moves.ts",
    line: "if (turns.length < EARLIEST.turns || ticks < EARLIEST.seconds * tickHz) return false;",
    becomes: "false",
    reason: "as many turns with an advance are asked for below",
  },
  {
    file: "server/run/moves.ts",
    line: "return last === undefined || last.vacuumPa < VENTED_PA ? true : undefined;",
    becomes: "false",
    reason: "what the wait gives is not looked at",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "false",
    reason: "nobody asks whether a look ended the wait",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "true",
    reason: "nobody asks whether a look ended the wait",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "value === undefined",
    reason: "nobody asks whether a look ended the wait",
  },
];
