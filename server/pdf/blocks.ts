// A sheet's blocks (core/sheet/model.ts) as pieces of a page.
import { drawingOf } from "../../core/sheet/drawing.ts";
import { keyItems, SAMPLE_HEIGHT, SAMPLE_WIDTH } from "../../core/sheet/key.ts";
import type { Block, Letterhead, Picture, Table } from "../../core/sheet/model.ts";
import { LETTERHEAD } from "../../core/sheet/paper.ts";
import type { Speech } from "../../core/speech/speech.ts";
import { type Branch, type Canvas, POINTS_PER_MM, type TextStyle } from "./canvas.ts";
import { factPieces } from "./facts.ts";
import { paintShapes } from "./picture.ts";
import { type Piece, piece } from "./piece.ts";
import type { Styles } from "./styles.ts";
import { naturalWidth, tablePieces } from "./table.ts";
import { tagPiece } from "./tag.ts";

export interface Place {
  readonly canvas: Canvas;
  readonly styles: Styles;
  readonly branch: Branch;
  readonly width: number;
  readonly say: Speech;
}

export function blockPieces(place: Place, block: Block): Piece[] {
  const { canvas, styles, branch, width } = place;
  switch (block.kind) {
    case "letterhead":
      return [letterheadPiece(place, block)];
    case "title":
      return [titlePiece(place, block.text, block.aside)];
    case "heading":
      return [headingPiece(place, block.text)];
    case "banner":
      return [bannerPiece(place, block.text, block.detail)];
    case "verdict":
      return [verdictPiece(place, block)];
    case "facts":
      return factPieces(canvas, styles, branch, block.facts, width);
    case "pictures":
      return picturePieces(place, block.pictures);
    case "key":
      return [keyPiece(place, block)];
    case "tables":
      return tablesPieces(place, block.tables);
    case "paragraph":
      return [paragraphPiece(place, block.text)];
    case "list":
      return listPieces(place, block.items, () => "•");
    case "numbered list":
      return listPieces(place, block.items, (i) => `${i + 1}.`);
    case "tag":
      return [tagPiece(canvas, branch, block)];
  }
}

function letterheadPiece(
  { canvas, styles, branch, width }: Place,
  { name, lines, logo }: Letterhead,
): Piece {
  const logoHeight = LETTERHEAD.logoHeightMm * POINTS_PER_MM;
  const picture = logo === null ? null : canvas.picture(logo.base64);
  const scale =
    picture === null
      ? 0
      : Math.min(
          logoHeight / picture.height,
          (LETTERHEAD.logoWidthMm * POINTS_PER_MM) / picture.width,
        );
  const indent = picture === null ? 0 : scale * picture.width + styles.mm(4);
  const texts = [
    ...(name === "" ? [] : [{ style: styles.strong, text: name }]),
    ...lines.map((text) => ({ style: styles.body, text })),
  ].flatMap(({ style, text }) =>
    canvas.wrapped(style, text, width - indent).map((line) => ({ style, line })),
  );
  const { leadingPt } = styles.body;
  const height = Math.max(texts.length * leadingPt, scale * (picture?.height ?? 0));
  return piece(0, height + styles.mm(1.5), (_, x, y) => {
    if (picture !== null) canvas.artifact(() => canvas.paint(picture, x, y, scale));
    const top = y + (height - texts.length * leadingPt) / 2;
    canvas.tagged(branch, "P", () => {
      texts.forEach(({ style, line }, i) => {
        canvas.line(style, line, x + indent, top + i * leadingPt);
      });
    });
  });
}

function titlePiece({ canvas, styles, branch, width }: Place, text: string, aside: string): Piece {
  const asideWidth = canvas.width(styles.body, aside);
  const lines = canvas.wrapped(styles.title, text, width - asideWidth - styles.mm(4));
  const { leadingPt } = styles.title;
  const height = lines.length * leadingPt + styles.mm(1.4);
  return piece(0, height, (_, x, y) => {
    canvas.tagged(branch, "H1", () => canvas.lines(styles.title, lines, x, y));
    // On the title's base line.
    const asideY = y + 0.76 * (leadingPt - styles.body.leadingPt);
    canvas.tagged(branch, "P", () =>
      canvas.line(styles.body, aside, x + width - asideWidth, asideY),
    );
    const ruleY = y + height - styles.mm(0.3);
    canvas.rule(x, ruleY, x + width, ruleY, styles.mm(0.6));
  });
}

function headingPiece({ canvas, styles, branch, width }: Place, text: string): Piece {
  const lines = canvas.wrapped(styles.heading, text, width);
  const height = lines.length * styles.heading.leadingPt + styles.mm(0.2);
  return piece(
    styles.mm(1.6),
    height,
    (_, x, y) => canvas.tagged(branch, "H2", () => canvas.lines(styles.heading, lines, x, y)),
    { keepsWithNext: true },
  );
}

/** The detail goes on behind the text in the same line. */
function bannerPiece(
  { canvas, styles, branch, width }: Place,
  text: string,
  detail: string,
): Piece {
  const bar = styles.mm(4);
  const padding = styles.mm(2.5);
  const room = styles.mm(0.8);
  const inside = width - bar - 2 * padding;
  const strong = canvas.wrapped(styles.banner, text, inside);
  const taken = canvas.width(styles.banner, strong.at(-1) ?? "") + styles.mm(2);
  const goesOn = taken + canvas.width(styles.body, detail) <= inside;
  const { leadingPt } = styles.banner;
  const lines = goesOn ? [] : canvas.wrapped(styles.body, detail, inside);
  const height = strong.length * leadingPt + lines.length * styles.body.leadingPt + 2 * room;
  return piece(styles.mm(1.4), height, (_, x, y) => {
    canvas.frame(x, y, width, height, styles.mm(0.4));
    canvas.filled(x, y, bar, height);
    const left = x + bar + padding;
    canvas.tagged(branch, "P", () => {
      canvas.lines(styles.banner, strong, left, y + room);
      const lastY = y + room + (strong.length - 1) * leadingPt;
      const detailY = lastY + 0.76 * (leadingPt - styles.body.leadingPt);
      if (goesOn) canvas.line(styles.body, detail, left + taken, detailY);
      else canvas.lines(styles.body, lines, left, lastY + leadingPt);
    });
  });
}

type VerdictBlock = Extract<Block, { kind: "verdict" }>;

function verdictPiece({ canvas, styles, branch, width }: Place, block: VerdictBlock): Piece {
  const padding = styles.mm(2.5);
  const room = styles.mm(1.3);
  const title = canvas.wrapped(styles.verdict, block.text, width - 2 * padding);
  const lines = canvas.wrapped(styles.body, block.details.join(" "), width - 2 * padding);
  const titleHeight = title.length * styles.verdict.leadingPt;
  const height = titleHeight + lines.length * styles.body.leadingPt + 2 * room;
  return piece(styles.mm(1.8), height, (_, x, y) => {
    verdictFrame(canvas, styles, block, x, y, width, height);
    canvas.tagged(branch, "P", () => {
      canvas.lines(styles.verdict, title, x + padding, y + room);
      canvas.lines(styles.body, lines, x + padding, y + room + titleHeight);
    });
  });
}

/** Told apart by the frame too: plain, dashed, double. */
function verdictFrame(
  canvas: Canvas,
  styles: Styles,
  { verdict }: VerdictBlock,
  x: number,
  y: number,
  width: number,
  height: number,
): void {
  const at = [x, y, width, height] as const;
  switch (verdict) {
    case "within":
      canvas.frame(...at, styles.mm(0.8));
      break;
    case "unproven":
      canvas.frame(...at, styles.mm(0.8), styles.mm(2));
      break;
    case "outside": {
      const [line, inset] = [styles.mm(0.45), styles.mm(0.95)];
      canvas.frame(...at, line);
      canvas.frame(x + inset, y + inset, width - 2 * inset, height - 2 * inset, line);
      break;
    }
    case null:
      canvas.frame(...at, styles.mm(0.4));
  }
}

const PICTURE_GAP_MM = 4;
const SHARES: Readonly<Record<Picture["width"], number>> = { full: 1, broad: 0.67, narrow: 0.33 };

/** A line at a time: one that is full, or as many as share the line. */
function picturePieces(place: Place, pictures: readonly Picture[]): Piece[] {
  const lines: Picture[][] = [];
  for (const picture of pictures) {
    const last = lines.at(-1) ?? [];
    const taken = [...last, picture].reduce((sum, { width }) => sum + SHARES[width], 0);
    if (last.length === 0 || taken > 1.001) lines.push([picture]);
    else last.push(picture);
  }
  return lines.map((line) => pictureLine(place, line));
}

function pictureLine(
  { canvas, styles, branch, width }: Place,
  pictures: readonly Picture[],
): Piece {
  const gap = styles.mm(PICTURE_GAP_MM);
  const { leadingPt } = styles.strong;
  let left = 0;
  const placed = pictures.map((picture) => {
    const own = picture.width === "full" ? width : (width - gap) * SHARES[picture.width];
    const drawing = drawingOf(picture);
    const caption = canvas.wrapped(styles.strong, picture.title, own);
    const one = { drawing, caption, left, scale: own / drawing.width };
    left += own + gap;
    return one;
  });
  const heights = placed.map(
    ({ drawing, caption, scale }) => caption.length * leadingPt + drawing.height * scale,
  );
  return piece(styles.mm(1.2), Math.max(...heights), (_, x, y) => {
    for (const { drawing, caption, left: from, scale } of placed) {
      canvas.tagged(branch, "P", () => canvas.lines(styles.strong, caption, x + from, y));
      const top = y + caption.length * leadingPt;
      canvas.tagged(
        branch,
        "Figure",
        () => paintShapes(canvas, drawing.shapes, x + from, top, scale),
        drawing.alt,
      );
    }
  });
}

const SAMPLE_MM = 12;

function keyPiece(
  { canvas, styles, branch, width, say }: Place,
  key: Extract<Block, { kind: "key" }>,
): Piece {
  const { leadingPt } = styles.body;
  const sampleWidth = styles.mm(SAMPLE_MM);
  const scale = sampleWidth / SAMPLE_WIDTH;
  let [left, row] = [0, 0];
  const placed = keyItems(key, say).map(({ sample, text }) => {
    const own = sampleWidth + styles.mm(1.2) + canvas.width(styles.body, text);
    if (left > 0 && left + own > width) [left, row] = [0, row + 1];
    const one = { sample, text, left, top: row * leadingPt };
    left += own + styles.mm(5);
    return one;
  });
  return piece(styles.mm(0.4), (row + 1) * leadingPt, (_, x, y) => {
    for (const { sample, text, left: from, top } of placed) {
      const sampleY = y + top + (leadingPt - SAMPLE_HEIGHT * scale) / 2;
      canvas.artifact(() => paintShapes(canvas, sample, x + from, sampleY, scale));
      canvas.tagged(branch, "P", () =>
        canvas.line(styles.body, text, x + from + sampleWidth + styles.mm(1.2), y + top),
      );
    }
  });
}

const TABLE_GAP_MM = 5;

/** Side by side on one page, in proportion to what each needs; a single one may go on to the next page. */
function tablesPieces({ canvas, styles, branch, width }: Place, tables: readonly Table[]): Piece[] {
  const [only] = tables;
  if (only === undefined) return [];
  if (tables.length === 1) return tablePieces(canvas, styles, branch, only, width);
  const gap = styles.mm(TABLE_GAP_MM);
  const wanted = tables.map((table) => naturalWidth(canvas, styles, table));
  const total = wanted.reduce((sum, one) => sum + one, 0);
  const room = width - gap * (tables.length - 1);
  let left = 0;
  const placed = tables.map((table, i) => {
    const own = (room * (wanted[i] ?? 0)) / total;
    const one = { left, pieces: tablePieces(canvas, styles, branch, table, own) };
    left += own + gap;
    return one;
  });
  const heightOf = (pieces: readonly Piece[]) => pieces.reduce((sum, one) => sum + one.height, 0);
  const height = Math.max(...placed.map(({ pieces }) => heightOf(pieces)));
  return [
    piece(styles.mm(1.4), height, (_, x, y) => {
      for (const { left: from, pieces } of placed) {
        let top = y;
        for (const one of pieces) {
          one.paint(canvas, x + from, top);
          top += one.height;
        }
      }
    }),
  ];
}

function paragraphPiece({ canvas, styles, branch, width }: Place, text: string): Piece {
  const lines = canvas.wrapped(styles.body, text, width);
  return piece(styles.mm(0.4), lines.length * styles.body.leadingPt, (_, x, y) =>
    canvas.tagged(branch, "P", () => canvas.lines(styles.body, lines, x, y)),
  );
}

const INDENT_MM = 4.5;

function listPieces(
  { canvas, styles, branch, width }: Place,
  items: readonly string[],
  sign: (index: number) => string,
): Piece[] {
  const list = canvas.branch(branch, "L");
  const indent = styles.mm(INDENT_MM);
  const style: TextStyle = styles.body;
  return items.map((item, i) => {
    const lines = canvas.wrapped(style, item, width - indent);
    const label = sign(i);
    const labelLeft = indent - styles.mm(1.2) - canvas.width(style, label);
    const space = i === 0 ? styles.mm(0.4) : 0;
    return piece(space, lines.length * style.leadingPt, (_, x, y) => {
      const part = canvas.branch(list, "LI");
      canvas.tagged(part, "Lbl", () => canvas.line(style, label, x + labelLeft, y));
      canvas.tagged(part, "LBody", () => canvas.lines(style, lines, x + indent, y));
    });
  });
}
