// Facts as pieces: two short ones beside each other, a long one over the whole line.
import type { Fact } from "../../core/sheet/model.ts";
import type { Branch, Canvas } from "./canvas.ts";
import { type Piece, piece } from "./piece.ts";
import type { Styles } from "./styles.ts";

const GAP_MM = 2;
const ROW_GAP_MM = 0.2;

interface Placed {
  readonly fact: Fact;
  readonly column: 0 | 1;
  readonly isLong: boolean;
}

export function factPieces(
  canvas: Canvas,
  styles: Styles,
  parent: Branch,
  facts: readonly Fact[],
  width: number,
): Piece[] {
  const branch = canvas.branch(parent, "L");
  const gap = styles.mm(GAP_MM);
  const labelWidth = ({ label }: Fact) => canvas.width(styles.strong, label);
  const half = width / 2;
  const rows = rowsOf(facts, (fact) => {
    const widest = Math.max(...facts.map(labelWidth));
    return canvas.width(styles.body, fact.value) > half - widest - 2 * gap;
  });
  const inColumn = (column: 0 | 1) =>
    rows
      .flat()
      .filter((placed) => placed.column === column)
      .map(({ fact }) => labelWidth(fact));
  const labels = [0, 1].map((column) => Math.max(0, ...inColumn(column as 0 | 1)) + gap);
  const { leadingPt } = styles.body;
  return rows.map((row, i) => {
    const cells = row.map(({ fact, column, isLong }) => {
      const left = column * half;
      const valueLeft = left + (labels[column] ?? 0);
      const valueWidth = (isLong ? width : left + half - gap) - valueLeft;
      const lines = canvas.wrapped(styles.body, fact.value, valueWidth);
      return { fact, left, valueLeft, lines };
    });
    const height = Math.max(...cells.map(({ lines }) => lines.length)) * leadingPt;
    return piece(styles.mm(i === 0 ? 1 : ROW_GAP_MM), height, (_, x, y) => {
      for (const { fact, left, valueLeft, lines } of cells) {
        const item = canvas.branch(branch, "LI");
        canvas.tagged(item, "Lbl", () => canvas.line(styles.strong, fact.label, x + left, y));
        canvas.tagged(item, "LBody", () => canvas.lines(styles.body, lines, x + valueLeft, y));
      }
    });
  });
}

function rowsOf(facts: readonly Fact[], isLong: (fact: Fact) => boolean): Placed[][] {
  const rows: Placed[][] = [];
  for (const fact of facts) {
    const last = rows.at(-1);
    if (isLong(fact)) rows.push([{ fact, column: 0, isLong: true }]);
    else if (last?.length === 1 && last[0]?.isLong === false) {
      last.push({ fact, column: 1, isLong: false });
    } else rows.push([{ fact, column: 0, isLong: false }]);
  }
  return rows;
}
