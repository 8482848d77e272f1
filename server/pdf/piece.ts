// A part of a sheet that stays on one page: how high it is, and how it is painted where it comes to lie.
import type { Canvas } from "./canvas.ts";

export interface Piece {
  /** Between it and what stands above; none at the head of a page. Points. */
  readonly spaceBefore: number;
  readonly height: number;
  /** Must not be the last on its page. */
  readonly keepsWithNext: boolean;
  /** Painted again above it where it begins a page. */
  readonly repeated: Piece | null;
  readonly paint: (canvas: Canvas, x: number, y: number) => void;
}

export function piece(
  spaceBefore: number,
  height: number,
  paint: Piece["paint"],
  also: Partial<Pick<Piece, "keepsWithNext" | "repeated">> = {},
): Piece {
  return { spaceBefore, height, keepsWithNext: false, repeated: null, ...also, paint };
}
