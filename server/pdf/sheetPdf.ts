// Prints a sheet as a PDF: its blocks as pieces, as many to a page as find room. The same sheet gives the same bytes.
import PDFDocument from "pdfkit";
import type { Sheet } from "../../core/sheet/model.ts";
import { MARGINS_MM, PAPER_SIZES, textWidthMm } from "../../core/sheet/paper.ts";
import { blockPieces } from "./blocks.ts";
import { Canvas, POINTS_PER_MM } from "./canvas.ts";
import type { Piece } from "./piece.ts";
import { Styles } from "./styles.ts";
import { registerFaces } from "./typeface.ts";

const SMALL = 0.88;

/** `createdUtc`: when what it tells of was made, and not when it was printed. */
export async function sheetPdf(sheet: Sheet, createdUtc: string): Promise<Uint8Array> {
  const { widthMm, heightMm } = PAPER_SIZES[sheet.paper];
  const size: [number, number] = [widthMm * POINTS_PER_MM, heightMm * POINTS_PER_MM];
  const doc = new PDFDocument({
    size,
    margin: 0,
    bufferPages: true,
    autoFirstPage: false,
    pdfVersion: "1.7",
    tagged: true,
    displayTitle: true,
    lang: "en",
    info: {
      Title: plainTitle(sheet.title),
      Creator: "Bobweight",
      Producer: "Bobweight",
      CreationDate: new Date(createdUtc),
    },
  });
  const bytes = bytesOf(doc);
  registerFaces(doc);
  paint(doc, sheet);
  doc.end();
  return bytes;
}

/** pdfkit writes the title into its metadata, which are markup, as it is. */
function plainTitle(title: string): string {
  return title.replaceAll("&", "+").replaceAll("<", "(").replaceAll(">", ")");
}

function bytesOf(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on("data", (chunk: Buffer) => chunks.push(chunk));
    doc.on("end", () => resolve(Buffer.concat(chunks)));
    doc.on("error", reject);
  });
}

function paint(doc: PDFKit.PDFDocument, sheet: Sheet): void {
  const canvas = new Canvas(doc);
  const styles = new Styles(sheet.print === "small" ? SMALL : 1);
  const root = doc.struct("Document");
  doc.addStructure(root);
  doc.addPage();
  const width = textWidthMm(sheet.paper) * POINTS_PER_MM;
  const place = { canvas, styles, branch: root, width };
  const pieces = sheet.blocks.flatMap((block) => blockPieces(place, block));
  const foot = canvas.wrapped(styles.foot, sheet.foot, width - styles.mm(30));
  const footHeight = foot.length * styles.foot.leadingPt;
  paintPieces(canvas, pieces, doc.page.height - MARGINS_MM.bottom * POINTS_PER_MM - footHeight);
  root.end();
  paintFeet(canvas, styles, foot, width);
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
function paintFeet(canvas: Canvas, styles: Styles, foot: readonly string[], width: number): void {
  const { doc } = canvas;
  const { start, count } = doc.bufferedPageRange();
  const y =
    doc.page.height - MARGINS_MM.bottom * POINTS_PER_MM - foot.length * styles.foot.leadingPt;
  for (let i = start; i < start + count; i++) {
    doc.switchToPage(i);
    const number = `page ${i + 1} of ${count}`;
    canvas.artifact(() => {
      canvas.lines(styles.foot, foot, LEFT, y);
      canvas.line(styles.foot, number, LEFT + width - canvas.width(styles.foot, number), y);
    });
  }
}
