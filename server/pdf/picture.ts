// Paints a picture's shapes (core/sheet/drawing.ts lays them out) to a place on the page.
import type { Shape } from "../../core/sheet/shapes.ts";
import type { Canvas } from "./canvas.ts";
import { showable } from "./typeface.ts";

/** In drawing units, as in the HTML form. */
const TEXT_SIZE = 9.4;
const RIM_WIDTH = 3;

export function paintShapes(
  { doc }: Canvas,
  shapes: readonly Shape[],
  x: number,
  y: number,
  scale: number,
): void {
  doc.save();
  doc.translate(x, y).scale(scale);
  for (const shape of shapes) paintShape(doc, shape);
  doc.restore();
}

function paintShape(doc: PDFKit.PDFDocument, shape: Shape): void {
  switch (shape.kind) {
    case "path":
      doc.lineWidth(shape.width).lineCap(shape.cap).strokeColor(shape.stroke);
      setDash(doc, shape.dash);
      doc.path(shape.d).stroke();
      return;
    case "rect": {
      const { x, y, width, height, fill, strokeWidth } = shape;
      doc.fillColor(fill);
      if (strokeWidth === 0) {
        doc.rect(x, y, width, height).fill();
      } else {
        doc.lineWidth(strokeWidth).strokeColor("#000").undash();
        doc.rect(x, y, width, height).fillAndStroke();
      }
      return;
    }
    case "disc":
      doc.fillColor("#000").circle(shape.x, shape.y, shape.radius).fill();
      return;
    case "text":
      paintText(doc, shape);
  }
}

/** pdfkit takes no dash of no length, which round ends make a dot; its types know a single length only. */
function setDash(doc: PDFKit.PDFDocument, dash: readonly number[]): void {
  if (dash.length === 0) doc.undash();
  else doc.dash(dash.map((length) => Math.max(length, 0.01)) as unknown as number, {});
}

function paintText(doc: PDFKit.PDFDocument, shape: Extract<Shape, { kind: "text" }>): void {
  const { x, y, anchor, isUpright, isFlag } = shape;
  const face = isFlag ? "bold" : "regular";
  const text = showable(doc, face, shape.content);
  doc.font(face).fontSize(TEXT_SIZE);
  const width = doc.widthOfString(text);
  const before = { start: 0, middle: width / 2, end: width }[anchor];
  const options = { lineBreak: false, baseline: "alphabetic" } as const;
  doc.save();
  doc.translate(x, y);
  if (isUpright) doc.rotate(-90);
  if (isFlag) {
    doc.lineWidth(RIM_WIDTH).lineJoin("round").strokeColor("#fff").undash();
    doc.text(text, -before, 0, { ...options, fill: false, stroke: true });
  }
  doc.fillColor("#000").text(text, -before, 0, options);
  doc.restore();
}
