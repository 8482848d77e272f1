// A table as pieces: caption with heads, then a piece a row; a page that it goes on to has the heads again.
import type { Table } from "../../core/sheet/model.ts";
import type { Branch, Canvas, TextStyle } from "./canvas.ts";
import { type Piece, piece } from "./piece.ts";
import type { Styles } from "./styles.ts";

interface Laid {
  readonly canvas: Canvas;
  readonly styles: Styles;
  readonly table: Table;
  /** Of each column, its padding with it. */
  readonly widths: readonly number[];
  readonly branch: Branch;
}

const PADDING_MM = 1.2;
const ROW_PADDING_MM = 0.22;

export function tablePieces(
  canvas: Canvas,
  styles: Styles,
  parent: Branch,
  table: Table,
  width: number,
): Piece[] {
  const branch = canvas.branch(parent, "Table");
  const laid: Laid = {
    canvas,
    styles,
    table,
    widths: widthsOf(canvas, styles, table, width),
    branch,
  };
  const caption = captionPiece(laid, width);
  const heads = headsPiece(laid);
  return [caption, heads, ...table.rows.map((row) => rowPiece(laid, row, heads))];
}

/** What the table would like to have at most, caption aside. */
export function naturalWidth(canvas: Canvas, styles: Styles, table: Table): number {
  return sum(naturalWidths(canvas, styles, table, false));
}

function captionPiece({ canvas, styles, table, branch }: Laid, width: number): Piece {
  const lines = canvas.wrapped(styles.strongCell, table.caption, width);
  const { leadingPt } = styles.strongCell;
  return piece(
    styles.mm(1.4),
    lines.length * leadingPt + styles.mm(0.5),
    (_, x, y) =>
      canvas.tagged(branch, "Caption", () => canvas.lines(styles.strongCell, lines, x, y)),
    { keepsWithNext: true },
  );
}

function headsPiece({ canvas, styles, table, widths, branch }: Laid): Piece {
  const { groups, columns } = table;
  const padding = styles.mm(PADDING_MM);
  const { leadingPt } = styles.head;
  const groupHeight = groups.length === 0 ? 0 : leadingPt;
  const lines = columns.map(({ head }, i) =>
    canvas.wrapped(styles.head, head, (widths[i] ?? 0) - 2 * padding),
  );
  const headHeight = Math.max(1, ...lines.map((one) => one.length)) * leadingPt;
  const height = groupHeight + headHeight + styles.mm(0.4);
  const paint = (_: Canvas, x: number, y: number) => {
    let column = 0;
    if (groups.length > 0) {
      const row = canvas.branch(branch, "TR");
      for (const { text, columns: count } of groups) {
        canvas.tagged(row, "TH", () =>
          canvas.line(styles.head, text, x + sum(widths.slice(0, column)) + padding, y),
        );
        column += count;
      }
    }
    const row = canvas.branch(branch, "TR");
    cells({ canvas, styles, table, widths }, lines, styles.head, x, y + groupHeight, (draw) =>
      canvas.tagged(row, "TH", draw),
    );
    canvas.rule(x, y + height, x + sum(widths), y + height, styles.mm(0.25));
  };
  return piece(0, height, paint, { keepsWithNext: true });
}

function rowPiece(
  { canvas, styles, table, widths, branch }: Laid,
  { cells: texts, strong }: Table["rows"][number],
  heads: Piece,
): Piece {
  const style = strong ? styles.strongCell : styles.cell;
  const padding = styles.mm(PADDING_MM);
  const lines = texts.map((text, i) => canvas.wrapped(style, text, (widths[i] ?? 0) - 2 * padding));
  const room = styles.mm(ROW_PADDING_MM);
  const height = Math.max(1, ...lines.map((one) => one.length)) * style.leadingPt + 2 * room;
  const paint = (_: Canvas, x: number, y: number) => {
    const row = canvas.branch(branch, "TR");
    cells({ canvas, styles, table, widths }, lines, style, x, y + room, (draw) =>
      canvas.tagged(row, "TD", draw),
    );
    canvas.rule(x, y + height, x + sum(widths), y + height, styles.mm(0.1), "#999");
  };
  return piece(0, height, paint, { repeated: heads });
}

function cells(
  { canvas, styles, table, widths }: Omit<Laid, "branch">,
  lines: readonly (readonly string[])[],
  style: TextStyle,
  x: number,
  y: number,
  tagged: (draw: () => void) => void,
): void {
  const padding = styles.mm(PADDING_MM);
  lines.forEach((cell, i) => {
    const left = x + sum(widths.slice(0, i)) + padding;
    const width = (widths[i] ?? 0) - 2 * padding;
    const isRight = table.columns[i]?.align === "right";
    tagged(() => {
      cell.forEach((line, n) => {
        const at = isRight ? left + width - canvas.width(style, line) : left;
        canvas.line(style, line, at, y + n * style.leadingPt);
      });
    });
  });
}

/**
 * The whole width, each column in proportion to what it would like. Where that is too much, heads are
 * broken between words first, then the broadest columns give way.
 */
function widthsOf(canvas: Canvas, styles: Styles, table: Table, width: number): number[] {
  const whole = naturalWidths(canvas, styles, table, false);
  const wanted = sum(whole) <= width ? whole : naturalWidths(canvas, styles, table, true);
  if (sum(wanted) > width) return withoutBroadest(wanted, width);
  return wanted.map((one) => (one * width) / sum(wanted));
}

function withoutBroadest(wanted: readonly number[], width: number): number[] {
  let most = Math.max(...wanted);
  while (sum(wanted.map((one) => Math.min(one, most))) > width) most *= 0.98;
  return wanted.map((one) => Math.min(one, most));
}

function naturalWidths(
  canvas: Canvas,
  styles: Styles,
  { columns, rows }: Table,
  breaksHeads: boolean,
): number[] {
  const padding = 2 * styles.mm(PADDING_MM);
  // A hair more, so that a text is never broken in the width that was made for it.
  const spare = 0.01;
  return columns.map(({ head }, i) => {
    const heads = breaksHeads ? head.split(" ") : [head];
    const widths = [
      ...heads.map((one) => canvas.width(styles.head, one)),
      ...rows.map(({ cells, strong }) =>
        canvas.width(strong ? styles.strongCell : styles.cell, cells[i] ?? ""),
      ),
    ];
    return Math.max(...widths) + padding + spare;
  });
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
