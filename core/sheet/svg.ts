// Prints a drawing's shapes as SVG. Pure.
import { drawingOf } from "./drawing.ts";
import { escaped } from "./markup.ts";
import type { Picture } from "./model.ts";
import type { Shape } from "./shapes.ts";

export function pictureSvg(picture: Picture): string {
  const { width, height, alt, shapes } = drawingOf(picture);
  return `<svg viewBox="0 0 ${width} ${height}" role="img" aria-label="${escaped(alt)}">${shapesSvg(shapes)}</svg>`;
}

export function shapesSvg(shapes: readonly Shape[]): string {
  return shapes.map(shapeSvg).join("");
}

function shapeSvg(shape: Shape): string {
  switch (shape.kind) {
    case "path": {
      const { d, stroke, width, dash, cap } = shape;
      const dashes = dash.length === 0 ? "" : ` stroke-dasharray="${dash.join(" ")}"`;
      const ends = cap === "round" ? ' stroke-linecap="round"' : "";
      return `<path d="${d}" stroke="${stroke}" stroke-width="${width}"${dashes}${ends} fill="none"/>`;
    }
    case "rect": {
      const { x, y, width, height, fill, strokeWidth } = shape;
      const outline = strokeWidth === 0 ? "" : ` stroke="#000" stroke-width="${strokeWidth}"`;
      return `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${fill}"${outline}/>`;
    }
    case "disc":
      return `<circle cx="${shape.x}" cy="${shape.y}" r="${shape.radius}" fill="#000"/>`;
    case "text": {
      const { x, y, anchor, content, isUpright, isFlag } = shape;
      const place = isUpright
        ? `transform="translate(${x} ${y}) rotate(-90)"`
        : `x="${x}" y="${y}"`;
      const look = isFlag ? ' class="flag"' : "";
      return `<text ${place} text-anchor="${anchor}"${look}>${escaped(content)}</text>`;
    }
  }
}
