// Sizes of the type and distances between parts, as in the HTML form (core/sheet/style.ts); points.
import { POINTS_PER_MM, type TextStyle } from "./canvas.ts";
import type { Face } from "./typeface.ts";

/** The typeface is broader than that of the HTML form, so it is set a little smaller. */
const BODY_PT = 7.6;
const TABLE_PT = 7.1;

/** All of a sheet's type; `scale` 1 is the usual size. */
export class Styles {
  readonly scale: number;
  readonly body: TextStyle;
  readonly strong: TextStyle;
  readonly title: TextStyle;
  readonly heading: TextStyle;
  readonly banner: TextStyle;
  readonly verdict: TextStyle;
  readonly cell: TextStyle;
  readonly strongCell: TextStyle;
  readonly head: TextStyle;
  readonly foot: TextStyle;

  constructor(scale: number) {
    this.scale = scale;
    const style = (face: Face, sizePt: number, leading: number): TextStyle => ({
      face,
      sizePt: sizePt * scale,
      leadingPt: sizePt * leading * scale,
    });
    this.body = style("regular", BODY_PT, 1.36);
    this.strong = style("bold", BODY_PT, 1.36);
    this.title = style("bold", 14, 1.2);
    this.heading = style("bold", 8.6, 1.3);
    this.banner = style("bold", 10.5, 1.25);
    this.verdict = style("bold", 13, 1.25);
    this.cell = style("regular", TABLE_PT, 1.24);
    this.strongCell = style("bold", TABLE_PT, 1.24);
    this.head = style("italic", TABLE_PT, 1.24);
    this.foot = style("regular", 7, 1.3);
  }

  mm(millimetres: number): number {
    return millimetres * POINTS_PER_MM * this.scale;
  }
}
