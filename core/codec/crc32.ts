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
  let crc = -1;
  let i = start;
  for (; i + SLICES <= end; i += SLICES) {
    crc =
      (TABLE[0x700 | ((crc ^ (bytes[i] as number)) & 0xff)] as number) ^
      (TABLE[0x600 | (((crc >>> 8) ^ (bytes[i + 1] as number)) & 0xff)] as number) ^
      (TABLE[0x500 | (((crc >>> 16) ^ (bytes[i + 2] as number)) & 0xff)] as number) ^
      (TABLE[0x400 | ((crc >>> 24) ^ (bytes[i + 3] as number))] as number) ^
      (TABLE[0x300 | (bytes[i + 4] as number)] as number) ^
      (TABLE[0x200 | (bytes[i + 5] as number)] as number) ^
      (TABLE[0x100 | (bytes[i + 6] as number)] as number) ^
      (TABLE[bytes[i + 7] as number] as number);
  }
  for (; i < end; i++) {
    crc = (TABLE[(crc ^ (bytes[i] as number)) & 0xff] as number) ^ (crc >>> 8);
  }
  return ~crc >>> 0;
}
