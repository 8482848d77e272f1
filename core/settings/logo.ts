// The workshop's logo as the papers print it: told by its bytes, small, and no larger than it need be. Pure.
import { pictureType } from "../jobs/photo.ts";

/** Both papers can print these; WebP a PDF cannot. */
export const LOGO_TYPES = ["image/png", "image/jpeg"] as const;
export type LogoType = (typeof LOGO_TYPES)[number];

/** It goes whole into every sheet. */
export const LOGO_BYTES_MAX = 200_000;

export interface Logo {
  readonly type: LogoType;
  readonly base64: string;
}

/** Null: neither PNG nor JPEG. */
export function logoType(bytes: Uint8Array): LogoType | null {
  const type = pictureType(bytes);
  return LOGO_TYPES.find((one) => one === type) ?? null;
}
