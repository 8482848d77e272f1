// Which pictures a job takes, told by their first bytes and not by their names. Pure.

export const PICTURE_TYPES = ["image/jpeg", "image/png", "image/webp"] as const;
export type PictureType = (typeof PICTURE_TYPES)[number];

export const PHOTO_BYTES_MAX = 15_000_000;

/** JPEG (ITU-T T.81 B.1.1.3), PNG (ISO/IEC 15948 § 5.2), WebP (RFC 9649 § 2.4); null: none of these. */
export function pictureType(bytes: Uint8Array): PictureType | null {
  if (startsWith(bytes, [0xff, 0xd8, 0xff])) return "image/jpeg";
  if (startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return "image/png";
  const isWebp =
    startsWith(bytes, [0x52, 0x49, 0x46, 0x46]) &&
    startsWith(bytes.subarray(8), [0x57, 0x45, 0x42, 0x50]);
  return isWebp ? "image/webp" : null;
}

function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return bytes.length >= start.length && start.every((byte, i) => bytes[i] === byte);
}
