// The tag that is tied to the unit: of one size on either paper, within a dashed line to cut along.
import type { Tag } from "../../core/sheet/model.ts";
import { TAG_SIZE } from "../../core/sheet/paper.ts";
import { type Branch, type Canvas, POINTS_PER_MM } from "./canvas.ts";
import { type Piece, piece } from "./piece.ts";
import { Styles } from "./styles.ts";

/** Read at arm's length. */
const TAG_SCALE = 1.1;

export function tagPiece(canvas: Canvas, branch: Branch, tag: Tag): Piece {
  const styles = new Styles(TAG_SCALE);
  const width = TAG_SIZE.widthMm * POINTS_PER_MM;
  const height = TAG_SIZE.heightMm * POINTS_PER_MM;
  return piece(0, height, (_, x, y) => {
    canvas.frame(x, y, width, height, styles.mm(0.3), styles.mm(1.5));
    const left = x + styles.mm(4);
    const right = x + width - styles.mm(4);
    const head = y + styles.mm(3);
    if (tag.workshop !== "") {
      const [line = ""] = canvas.wrapped(styles.foot, tag.workshop, right - left);
      canvas.tagged(branch, "P", () => canvas.line(styles.foot, line, left, head));
    }
    const below = tag.workshop === "" ? 0 : styles.foot.leadingPt + styles.mm(0.5);
    const top = paintTop(canvas, styles, branch, tag, left, right, head + below);
    paintFacts(canvas, styles, branch, tag, left, right, top);
    const note = canvas.wrapped(styles.strong, tag.note, right - left);
    const noteY = y + height - styles.mm(3) - note.length * styles.strong.leadingPt;
    canvas.tagged(branch, "P", () => canvas.lines(styles.strong, note, left, noteY));
  });
}

/** Returns where it ends. */
function paintTop(
  canvas: Canvas,
  styles: Styles,
  branch: Branch,
  { title, aside, warning, text, verdict }: Tag,
  left: number,
  right: number,
  top: number,
): number {
  const asideWidth = canvas.width(styles.body, aside);
  const lines = canvas.wrapped(styles.verdict, title, right - left - asideWidth - styles.mm(3));
  const asideY = top + 0.76 * (styles.verdict.leadingPt - styles.body.leadingPt);
  canvas.tagged(branch, "H1", () => canvas.lines(styles.verdict, lines, left, top));
  canvas.tagged(branch, "P", () => canvas.line(styles.body, aside, right - asideWidth, asideY));
  let y = top + lines.length * styles.verdict.leadingPt;
  if (warning !== "") {
    const warned = canvas.wrapped(styles.strong, warning, right - left);
    const at = y;
    canvas.tagged(branch, "P", () => canvas.lines(styles.strong, warned, left, at));
    y += warned.length * styles.strong.leadingPt;
  }
  const frameY = y + styles.mm(1);
  const frameHeight = styles.verdict.leadingPt + styles.mm(0.8);
  const dash = verdict === "unproven" ? styles.mm(2) : null;
  canvas.frame(left, frameY, right - left, frameHeight, styles.mm(0.6), dash);
  canvas.tagged(branch, "P", () =>
    canvas.line(styles.verdict, text, left + styles.mm(2.5), frameY + styles.mm(0.4)),
  );
  return frameY + frameHeight + styles.mm(1.4);
}

function paintFacts(
  canvas: Canvas,
  styles: Styles,
  branch: Branch,
  { facts }: Tag,
  left: number,
  right: number,
  top: number,
): void {
  const list = canvas.branch(branch, "L");
  const labels = Math.max(...facts.map(({ label }) => canvas.width(styles.strong, label)));
  const valueLeft = left + labels + styles.mm(2);
  let y = top;
  for (const { label, value } of facts) {
    const lines = canvas.wrapped(styles.body, value, right - valueLeft);
    const at = y;
    const item = canvas.branch(list, "LI");
    canvas.tagged(item, "Lbl", () => canvas.line(styles.strong, label, left, at));
    canvas.tagged(item, "LBody", () => canvas.lines(styles.body, lines, valueLeft, at));
    y += lines.length * styles.body.leadingPt + styles.mm(0.2);
  }
}
