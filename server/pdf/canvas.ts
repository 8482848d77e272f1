// What a sheet's parts draw on: text, rules and boxes in points from the top left, each said to mean something or not.
import { type Face, showable } from "./typeface.ts";

export const POINTS_PER_MM = 72 / 25.4;

export interface TextStyle {
  readonly face: Face;
  readonly sizePt: number;
  /** From one base line to the next. */
  readonly leadingPt: number;
}

/** A branch of the document's structure, which readers aloud follow. */
export type Branch = PDFKit.PDFStructureElement;

/** A picture that was opened. */
export interface Picture {
  readonly width: number;
  readonly height: number;
}

/** Where the base line lies in its line, as a part of the leading. */
const BASE_LINE = 0.76;

export class Canvas {
  readonly doc: PDFKit.PDFDocument;

  constructor(doc: PDFKit.PDFDocument) {
    this.doc = doc;
  }

  width({ face, sizePt }: TextStyle, text: string): number {
    return this.doc
      .font(face)
      .fontSize(sizePt)
      .widthOfString(showable(this.doc, face, text));
  }

  /** Lines no wider than asked for; a word that is wider is cut. */
  wrapped(style: TextStyle, text: string, width: number): string[] {
    const lines: string[] = [];
    let line = "";
    for (const word of text.split(/\s+/u).filter((one) => one !== "")) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (this.width(style, longer) <= width) {
        line = longer;
        continue;
      }
      if (line !== "") lines.push(line);
      const pieces = this.cut(style, word, width);
      lines.push(...pieces.slice(0, -1));
      line = pieces.at(-1) ?? "";
    }
    return line === "" && lines.length > 0 ? lines : [...lines, line];
  }

  private cut(style: TextStyle, word: string, width: number): string[] {
    const pieces: string[] = [];
    let piece = "";
    for (const character of word) {
      if (piece !== "" && this.width(style, piece + character) > width) {
        pieces.push(piece);
        piece = "";
      }
      piece += character;
    }
    return [...pieces, piece];
  }

  /** Line below line from the top `y`. */
  lines(style: TextStyle, lines: readonly string[], x: number, y: number): void {
    lines.forEach((line, i) => {
      this.line(style, line, x, y + i * style.leadingPt);
    });
  }

  line(style: TextStyle, line: string, x: number, y: number): void {
    const { face, sizePt, leadingPt } = style;
    const text = showable(this.doc, face, line);
    this.doc
      .font(face)
      .fontSize(sizePt)
      .fillColor("#000")
      .text(text, x, y + BASE_LINE * leadingPt, { lineBreak: false, baseline: "alphabetic" });
  }

  rule(x1: number, y1: number, x2: number, y2: number, widthPt: number, color = "#000"): void {
    this.artifact(() => {
      this.doc.lineWidth(widthPt).strokeColor(color).moveTo(x1, y1).lineTo(x2, y2).stroke();
    });
  }

  /** A frame that lies inside of the place. */
  frame(
    x: number,
    y: number,
    width: number,
    height: number,
    widthPt: number,
    dashPt: number | null = null,
  ): void {
    const half = widthPt / 2;
    this.artifact(() => {
      this.doc.lineWidth(widthPt).strokeColor("#000");
      if (dashPt !== null) this.doc.dash(dashPt, {});
      this.doc.rect(x + half, y + half, width - widthPt, height - widthPt).stroke();
      this.doc.undash();
    });
  }

  filled(x: number, y: number, width: number, height: number): void {
    this.artifact(() => {
      this.doc.fillColor("#000").rect(x, y, width, height).fill();
    });
  }

  /** A picture's size, in its own dots; drawn by `paint`. */
  picture(base64: string): Picture {
    // Said in pdfkit's guide, and left out of its types.
    const doc = this.doc as PDFKit.PDFDocument & { openImage(bytes: Buffer): Picture };
    return doc.openImage(Buffer.from(base64, "base64"));
  }

  paint(picture: Picture, x: number, y: number, scale: number): void {
    this.doc.image(picture as unknown as PDFKit.Mixins.ImageSrc, x, y, {
      width: scale * picture.width,
    });
  }

  /** What is drawn is part of the document's content. */
  tagged(branch: Branch, type: string, draw: () => void, alt?: string): void {
    branch.add(this.doc.struct(type, alt === undefined ? {} : { alt }, [draw]));
  }

  /** Further parts may follow until the branch ends with the document. */
  branch(branch: Branch, type: string): Branch {
    const child = this.doc.struct(type);
    branch.add(child);
    return child;
  }

  /** What is drawn says nothing that is not said elsewhere. */
  artifact(draw: () => void): void {
    this.doc.markContent("Artifact");
    draw();
    this.doc.endMarkedContent();
  }
}
