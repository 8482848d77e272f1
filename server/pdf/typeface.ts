// The fonts of a PDF, embedded so that every reader shows the same: DejaVu Sans Condensed has all signs used.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { printable } from "../../core/sheet/markup.ts";

const require = createRequire(import.meta.url);

const FILES = {
  regular: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf"),
  bold: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf"),
  italic: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Oblique.ttf"),
} as const;

export type Face = keyof typeof FILES;

/** Loads the fonts into a new document. */
export function registerFaces(doc: PDFKit.PDFDocument): void {
  for (const [face, file] of Object.entries(FILES)) doc.registerFont(face, readFileSync(file));
}

/** Where pdfkit keeps the font that is set; its types leave that out. */
interface WithFont {
  readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
}

/** The text on one line; what the font lacks stands as the sign for that. */
export function showable(doc: PDFKit.PDFDocument, face: Face, text: string): string {
  const { font } = (doc.font(face) as unknown as WithFont)._font;
  return [...printable(text).replace(/\s+/gu, " ")]
    .map((one) => (font.hasGlyphForCodePoint(one.codePointAt(0) ?? 0) ? one : "\uFFFD"))
    .join("");
}
