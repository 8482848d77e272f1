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
    file: "core/angles/reading.ts",
    line: "const alike = Math.abs(turned) < Math.PI / 2 ? Math.cos(turned) : 0;",
    becomes: "Math.abs(turned) <= Math.PI / 2",
    reason: "the cosine at a quarter wave is nothing",
  },
  {
    file: "core/angles/reading.ts",
    line: 'part("tick", clock, { shape: "rectangular", shared: true }),',
    becomes: "false",
    reason: "the speed's parts are combined and covered, and never compared with another reading's",
  },
  {
    file: "core/angles/reading.ts",
    line: "return off - first - 360 * Math.round((off - first) / 360);",
    becomes: "off + first",
    reason: "what is added to all goes with their mean",
  },
  {
    file: "core/angles/sifting.ts",
    line: "if (!belongs(events, at, limits)) return withoutOthers(events, limits);",
    becomes: "true",
    reason: "parting what belongs from nothing else gives the same columns, only slower",
  },
  {
    file: "core/angles/sifting.ts",
    line: "if (!belongs(events, at, limits)) return withoutOthers(events, limits);",
    becomes: "belongs(events, at, limits)",
    reason: "parting what belongs from nothing else gives the same columns, only slower",
  },
  {
    file: "core/angles/sifting.ts",
    line: "for (let turn = 0; turn < turnEnds.length; turn++) {",
    becomes: "turn <= turnEnds.length",
    reason: "a typed array takes nothing beyond its end",
  },
  {
    file: "core/angles/sifting.ts",
    line: "dwellsDeg[kept] = dwellDeg + openedEarlyDeg;",
    becomes: "dwellDeg - openedEarlyDeg",
    reason: "it is nothing or not known, and the outcome is the same or not known",
  },
  {
    file: "core/angles/sifting.ts",
    line: "for (let i = 0; i < column.length; i++) {",
    becomes: "i <= column.length",
    reason: "what is counted for no lobe is no lobe's part",
  },
  {
    file: "core/angles/sifting.ts",
    line: "while (first < values.length && Number.isFinite(values[first])) first++;",
    becomes: "first <= values.length",
    reason: "what lies beyond the end is not finite",
  },
  {
    file: "core/angles/sifting.ts",
    line: "while (first < values.length && Number.isFinite(values[first])) first++;",
    becomes: "true",
    reason: "what lies beyond the end is not finite",
  },
  {
    file: "core/angles/sifting.ts",
    line: "for (let i = 0; i < values.length; i++) {",
    becomes: "i <= values.length",
    reason: "what lies beyond the end is not finite",
  },
  {
    file: "core/angles/window.ts",
    line: "for (const turn of turns) sum += cornerDeg(turn);",
    becomes: "sum -= cornerDeg(turn)",
    reason: "the size of the sum counts",
  },
];
