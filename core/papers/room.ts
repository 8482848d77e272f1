// About how much of a page blocks take: enough to choose what goes on a page that must be the only one. Pure.
import { drawingOf } from "../sheet/drawing.ts";
import type { Block, Fact, Paper, Picture, Sheet, Table } from "../sheet/model.ts";
import { LETTERHEAD, MARGINS_MM, PAPER_SIZES, textWidthMm } from "../sheet/paper.ts";

/**
 * Of the HTML form, whose type is the larger one; rather too high than too low. A browser may have other
 * fonts at hand than another, so that no sum can be exact.
 */
const LINE_MM = 3.9;
const ROW_MM = 3.7;
const CHARACTER_MM = 1.45;
const BANNER_CHARACTER_MM = 2.2;
const LABEL_CHARACTER_MM = 1.6;
const FOOT_MM = 4;
const SPARE_MM = 1;

/** Of smaller print, as in core/sheet/style.ts. */
const SMALL = 0.9;

export function hasRoom(blocks: readonly Block[], paper: Paper, print: Sheet["print"]): boolean {
  const { heightMm } = PAPER_SIZES[paper];
  const room = heightMm - MARGINS_MM.top - MARGINS_MM.bottom - FOOT_MM - SPARE_MM;
  const scale = print === "usual" ? 1 : SMALL;
  const widthMm = textWidthMm(paper);
  return blocks.reduce((sum, block) => sum + heightMmOf(block, widthMm, scale), 0) <= room;
}

function heightMmOf(block: Block, widthMm: number, scale: number): number {
  const lines = (text: string, width: number, characterMm = CHARACTER_MM) =>
    Math.max(1, Math.ceil((text.length * characterMm * scale) / width));
  const lineMm = LINE_MM * scale;
  switch (block.kind) {
    case "letterhead": {
      const textMm = (block.lines.length + (block.name === "" ? 0 : 1)) * lineMm;
      return 1.5 + Math.max(textMm, block.logo === null ? 0 : LETTERHEAD.logoHeightMm);
    }
    case "title":
      return 9;
    case "heading":
      return 1.4 + lineMm;
    case "banner": {
      const widths = block.text.length * BANNER_CHARACTER_MM + block.detail.length * CHARACTER_MM;
      return 3.6 + (5.6 + lineMm * Math.floor((widths * scale) / (widthMm - 9))) * scale;
    }
    case "verdict":
      return 5.5 + 6 * scale + lineMm * lines(block.details.join(" "), widthMm - 6);
    case "facts":
      return 2 + factRowsMm(block.facts, widthMm, scale);
    case "pictures":
      return 1.4 + picturesMm(block.pictures, widthMm, lineMm);
    case "key":
      return 2 * lineMm;
    case "tables":
      return Math.max(...block.tables.map((table) => tableMm(table, scale)));
    case "paragraph":
      return 0.8 + lineMm * lines(block.text, widthMm);
    case "list":
    case "numbered list":
      return 0.8 + block.items.reduce((sum, item) => sum + lineMm * lines(item, widthMm - 5), 0);
    case "tag":
      return 0;
  }
}

/** As the grid of the HTML form has it: longer values than this take a line of their own. */
const SHORT_VALUE = 55;

function factRowsMm(facts: readonly Fact[], widthMm: number, scale: number): number {
  const labelMm =
    2 + Math.max(0, ...facts.map(({ label }) => label.length)) * LABEL_CHARACTER_MM * scale;
  const lines = ({ value }: Fact, width: number) =>
    Math.ceil((value.length * CHARACTER_MM * scale) / (width - labelMm)) || 1;
  let [sum, beside] = [0, 0];
  for (const fact of facts) {
    if (fact.value.length > SHORT_VALUE) {
      sum += beside + lines(fact, widthMm);
      beside = 0;
    } else if (beside > 0) {
      sum += Math.max(beside, lines(fact, widthMm / 2));
      beside = 0;
    } else {
      beside = lines(fact, widthMm / 2);
    }
  }
  return (sum + beside) * (LINE_MM * scale + 0.2);
}

/** All in one line. */
function picturesMm(pictures: readonly Picture[], widthMm: number, lineMm: number): number {
  const heights = pictures.map((picture) => {
    const { width, height } = drawingOf(picture);
    const share = { full: 1, broad: 0.67, narrow: 0.33 }[picture.width];
    const titleMm = picture.title.length * LABEL_CHARACTER_MM;
    const titleLines = Math.ceil(titleMm / (share * widthMm - 4));
    return (share * (widthMm - 4) * height) / width + titleLines * lineMm;
  });
  return Math.max(...heights);
}

function tableMm({ groups, rows }: Table, scale: number): number {
  const above = 1 + (groups.length === 0 ? 0 : 1) + 2;
  return 2.2 + (above + rows.length) * ROW_MM * scale;
}
