// CRC-32/ISO-HDLC, which closes every line of the rig protocol (clause 1.3).

/**
 * Eight tables of 256 entries: table k says what a byte does to the remainder when k more bytes follow
 * it, so that eight bytes are taken at once ("slicing by eight", from memory).
 */
const SLICES = 8;
const TABLE = new Int32Array(SLICES * 256);
for (let byte = 0; byte < 256; byte++) {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) {
    value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  }
  TABLE[byte] = value;
}
for (let at = 256; at < TABLE.length; at++) {
  const shorter = TABLE[at - 256] as number;
  TABLE[at] = (TABLE[shorter & 0xff] as number) ^ (shorter >>> 8);
}

/** CRC-32/ISO-HDLC over `bytes[start..end)`, as an unsigned 32-bit number. */
export function crc32(bytes: Uint8Array, start = 0, end = bytes.length): number {
  return crc32In(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength), start, end);
}

/** The same for whoever has a view already. */
export function crc32In(view: DataView, start: number, end: number): number {
  let crc = -1;
  let i = start;
  for (; i + SLICES <= end; i += SLICES) {
    const first = crc ^ view.getInt32(i, true);
    const second = view.getInt32(i + 4, true);
    crc =
      (TABLE[0x700 | (first & 0xff)] as number) ^
      (TABLE[0x600 | ((first >>> 8) & 0xff)] as number) ^
      (TABLE[0x500 | ((first >>> 16) & 0xff)] as number) ^
      (TABLE[0x400 | (first >>> 24)] as number) ^
      (TABLE[0x300 | (second & 0xff)] as number) ^
      (TABLE[0x200 | ((second >>> 8) & 0xff)] as number) ^
      (TABLE[0x100 | ((second >>> 16) & 0xff)] as number) ^
      (TABLE[second >>> 24] as number);
  }
  for (; i < end; i++) crc = (TABLE[(crc ^ view.getUint8(i)) & 0xff] as number) ^ (crc >>> 8);
  return ~crc >>> 0;
}
