// Prints a sheet as a PDF: its blocks as pieces, as many to a page as find room. The same sheet gives the same bytes.
import PDFDocument from "pdfkit";
import { printable } from "../../core/sheet/markup.ts";
import type { Sheet } from "../../core/sheet/model.ts";
import { MARGINS_MM, PAPER_SIZES, textWidthMm } from "../../core/sheet/paper.ts";
import { SPEECHES } from "../../core/speech/languages.ts";
import { blockPieces } from "./blocks.ts";
import { type Branch, Canvas, POINTS_PER_MM } from "./canvas.ts";
import type { Piece } from "./piece.ts";
import { Styles } from "./styles.ts";
import { registerFaces } from "./typeface.ts";

const SMALL = 0.88;

/** `createdUtc`: when what it tells of was made, and not when it was printed. */
export async function sheetPdf(sheet: Sheet, createdUtc: string): Promise<Uint8Array> {
  const scale = scaleOf(sheet);
  const doc = newDocument(sheet, createdUtc);
  const bytes = bytesOf(doc);
  paint(doc, sheet, scale);
  doc.end();
  return bytes;
}

function newDocument({ paper, title, language }: Sheet, createdUtc: string): PDFKit.PDFDocument {
  const { widthMm, heightMm } = PAPER_SIZES[paper];
  const doc = new PDFDocument({
    size: [widthMm * POINTS_PER_MM, heightMm * POINTS_PER_MM],
    margin: 0,
    bufferPages: true,
    pdfVersion: "1.7",
    tagged: true,
    displayTitle: true,
    lang: language,
    info: {
      Title: plainTitle(title),
      Creator: "Bobweight",
      Producer: "Bobweight",
      CreationDate: new Date(createdUtc),
    },
  });
  registerFaces(doc);
  return doc;
}

/** pdfkit writes the title into its metadata, which are markup, as it is. */
function plainTitle(title: string): string {
  return printable(title).replaceAll("&", "+").replaceAll("<", "(").replaceAll(">", ")");
}

function bytesOf(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on("data", (chunk: Buffer) => chunks.push(chunk));
    doc.on("end", () => resolve(Buffer.concat(chunks)));
    doc.on("error", reject);
  });
}

/** Small print grows smaller still until all is on one page. Tried on a document that is thrown away. */
function scaleOf(sheet: Sheet): number {
  if (sheet.print === "usual") return 1;
  const doc = newDocument(sheet, "1970-01-01T00:00:00.000Z");
  let scale = SMALL;
  while (!fitsOnePage(doc, sheet, scale)) scale *= 0.97;
  return scale;
}

function fitsOnePage(doc: PDFKit.PDFDocument, sheet: Sheet, scale: number): boolean {
  const { pieces, footY } = laidOut(new Canvas(doc), sheet, scale);
  const height = pieces.reduce((sum, one) => sum + one.spaceBefore + one.height, 0);
  return TOP + height <= footY;
}

interface Laid {
  readonly styles: Styles;
  readonly root: Branch;
  readonly width: number;
  readonly pieces: readonly Piece[];
  readonly foot: readonly string[];
  readonly footY: number;
}

function laidOut(canvas: Canvas, sheet: Sheet, scale: number): Laid {
  const styles = new Styles(scale);
  const say = SPEECHES[sheet.language];
  const root = canvas.doc.struct("Document");
  const width = textWidthMm(sheet.paper) * POINTS_PER_MM;
  const pieces = sheet.blocks.flatMap((block) =>
    blockPieces({ canvas, styles, branch: root, width, say }, block),
  );
  const foot = canvas.wrapped(styles.foot, sheet.foot, width - styles.mm(30));
  const bottom = canvas.doc.page.height - MARGINS_MM.bottom * POINTS_PER_MM;
  return { styles, root, width, pieces, foot, footY: bottom - foot.length * styles.foot.leadingPt };
}

function paint(doc: PDFKit.PDFDocument, sheet: Sheet, scale: number): void {
  const canvas = new Canvas(doc);
  const { styles, root, width, pieces, foot, footY } = laidOut(canvas, sheet, scale);
  doc.addStructure(root);
  paintPieces(canvas, pieces, footY);
  root.end();
  paintFeet(canvas, styles, sheet, foot, width, footY);
}

const LEFT = MARGINS_MM.side * POINTS_PER_MM;
const TOP = MARGINS_MM.top * POINTS_PER_MM;

function paintPieces(canvas: Canvas, pieces: readonly Piece[], bottom: number): void {
  let y = TOP;
  pieces.forEach((one, i) => {
    if (y > TOP && y + one.spaceBefore + heightWithNext(pieces, i) > bottom) {
      canvas.doc.addPage();
      y = TOP;
      if (one.repeated !== null) {
        one.repeated.paint(canvas, LEFT, y);
        y += one.repeated.height;
      }
    } else if (y > TOP) {
      y += one.spaceBefore;
    }
    one.paint(canvas, LEFT, y);
    y += one.height;
  });
}

/** With all that must stand on the same page below it. */
function heightWithNext(pieces: readonly Piece[], index: number): number {
  const one = pieces[index];
  if (one === undefined) return 0;
  const next = pieces[index + 1];
  if (!one.keepsWithNext || next === undefined) return one.height;
  return one.height + next.spaceBefore + heightWithNext(pieces, index + 1);
}

/** On every page, so that a page alone cannot be taken for something else. */
function paintFeet(
  canvas: Canvas,
  styles: Styles,
  { language }: Sheet,
  foot: readonly string[],
  width: number,
  y: number,
): void {
  const { doc } = canvas;
  const { page } = SPEECHES[language].verdicts.foot;
  const { start, count } = doc.bufferedPageRange();
  for (let i = start; i < start + count; i++) {
    doc.switchToPage(i);
    const number = page(String(i + 1), String(count));
    canvas.artifact(() => {
      canvas.lines(styles.foot, foot, LEFT, y);
      canvas.line(styles.foot, number, LEFT + width - canvas.width(styles.foot, number), y);
    });
  }
}
