// The papers a sheet is printed on, and the margins on them. Pure.
import type { Paper } from "./model.ts";

export interface PaperSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A4: ISO 216. Letter: 8.5 by 11 inches. */
export const PAPER_SIZES: Readonly<Record<Paper, PaperSize>> = {
  a4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
};

export const MARGINS_MM = { top: 9, side: 12, bottom: 10 } as const;

export function textWidthMm(paper: Paper): number {
  return PAPER_SIZES[paper].widthMm - 2 * MARGINS_MM.side;
}

/** Of a tag, cut line to cut line. */
export const TAG_SIZE: PaperSize = { widthMm: 100, heightMm: 60 };

/** The place of a logo at the head of a sheet. */
export const LETTERHEAD = { logoHeightMm: 11, logoWidthMm: 45 } as const;
