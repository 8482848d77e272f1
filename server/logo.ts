// Whether a logo is whole: one that is cut off would end the printing of a sheet, long after it was kept.
import { crc32, inflateSync } from "node:zlib";
import { logoType } from "../core/settings/logo.ts";

const SIDE_MAX = 4000;

export function isWhole(bytes: Uint8Array): boolean {
  const buffer = Buffer.from(bytes);
  return logoType(bytes) === "image/png" ? isWholePng(buffer) : isWholeJpeg(buffer);
}

/** Chunks with their checksums up to the last one, and dots for every line (ISO/IEC 15948 §§ 5.3, 10). */
function isWholePng(png: Buffer): boolean {
  const data: Buffer[] = [];
  let size: readonly [width: number, height: number] | null = null;
  let at = 8;
  while (at + 12 <= png.length) {
    const length = png.readUInt32BE(at);
    const end = at + 8 + length;
    if (end + 4 > png.length) return false;
    const chunk = png.subarray(at + 4, end);
    if (crc32(chunk) !== png.readUInt32BE(end)) return false;
    const type = chunk.toString("latin1", 0, 4);
    if (type === "IHDR" && length === 13) size = [chunk.readUInt32BE(4), chunk.readUInt32BE(8)];
    if (type === "IDAT") data.push(chunk.subarray(4));
    if (type === "IEND") break;
    at = end + 4;
  }
  if (size === null || !size.every((side) => side > 0 && side <= SIDE_MAX)) return false;
  try {
    // A line has a byte for its filter and at least a bit for each dot.
    const least = size[1] * (1 + Math.ceil(size[0] / 8));
    return inflateSync(Buffer.concat(data)).length >= least;
  } catch {
    return false;
  }
}

/** Segments up to the one with its size, and an end (ITU-T T.81 B.1.1). */
function isWholeJpeg(jpeg: Buffer): boolean {
  if (!jpeg.subarray(-2).equals(Buffer.from([0xff, 0xd9]))) return false;
  let at = 2;
  while (at + 9 < jpeg.length && jpeg[at] === 0xff) {
    const marker = jpeg[at + 1] as number;
    const isFrame = marker >= 0xc0 && marker <= 0xc2;
    if (isFrame) {
      const sides = [jpeg.readUInt16BE(at + 5), jpeg.readUInt16BE(at + 7)];
      return sides.every((side) => side > 0 && side <= SIDE_MAX);
    }
    at += 2 + jpeg.readUInt16BE(at + 2);
  }
  return false;
}
