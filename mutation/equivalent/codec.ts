import type { Equivalent } from "./equivalent.ts";

export const CODEC: readonly Equivalent[] = [
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
];
