// The workshop as the papers name it at their head. Pure.
import type { Letterhead } from "../sheet/model.ts";
import type { Logo } from "./logo.ts";
import type { Workshop } from "./settings.ts";

/** Null where nothing is set. */
export function letterheadOf(
  { name, address, phone }: Workshop,
  logo: Logo | null,
): Letterhead | null {
  const lines = [address, phone].filter((line) => line !== "");
  return name === "" && lines.length === 0 && logo === null ? null : { name, lines, logo };
}
