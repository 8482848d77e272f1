// Draws a picture as SVG: axes with marks, limit bars beneath, curves above. Pure.
import { fixed } from "./figures.ts";
import { escaped } from "./markup.ts";
import type { Axis, Bar, Line, Mark, Picture } from "./model.ts";

/** Drawing units; on paper the picture is scaled to its place. */
interface Frame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const FULL_HEIGHT = 218;
const CAPSULE_HEIGHT = 190;
const LOW_HEIGHT = 140;
const WIDTHS: Readonly<Record<Picture["width"], number>> = { full: 720, broad: 472, narrow: 232 };

const ROOM_FOR_LABELS = 40;
const ROOM_FOR_NONE = 10;

interface Scales {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

export function pictureSvg(picture: Picture): string {
  const frame = frameOf(picture);
  const scales = scalesOf(picture, frame);
  const parts = [
    ...bottomAxis(picture.x, frame, scales),
    ...leftAxis(picture.y, frame, scales),
    ...picture.bars.map((bar) => barSvg(bar, picture, scales)),
    ...picture.lines.map((line) => lineSvg(line, scales)),
    ...picture.marks.map((mark) => markSvg(mark, scales)),
    ...picture.bars.map((bar) => flagSvg(bar, scales)),
  ];
  return `<svg viewBox="0 0 ${frame.width} ${frame.height}" role="img" aria-label="${escaped(altOf(picture))}">${parts.join("")}</svg>`;
}

function altOf({ title, lines, marks }: Picture): string {
  const has = (wanted: Line["look"]) => lines.some(({ look }) => look === wanted);
  const numbers = marks.map(({ label }) => label).join("; ");
  return [
    title,
    has("fitted") ? "with the mechanism as fitted as a dash-dotted line" : null,
    has("as received") ? "as received as a dotted line" : null,
    has("before") ? "before the change as a line of paired dots" : null,
    marks.length > 0 ? `readings that speak for findings in diamonds: ${numbers}` : null,
  ]
    .filter((part) => part !== null)
    .join(", ");
}

function frameOf({ width: name, low, x, y }: Picture): Frame {
  const width = WIDTHS[name];
  const height = name === "full" ? FULL_HEIGHT : low ? LOW_HEIGHT : CAPSULE_HEIGHT;
  return {
    width,
    height,
    left: ROOM_FOR_LABELS,
    right: width - (y.crankshaft === null ? ROOM_FOR_NONE : ROOM_FOR_LABELS),
    top: x.crankshaft === null ? ROOM_FOR_NONE : 28,
    bottom: height - 30,
  };
}

function scalesOf({ x, y }: Picture, frame: Frame): Scales {
  const between = (axis: Axis, from: number, to: number) => (value: number) =>
    round(from + ((value - axis.min) / (axis.max - axis.min)) * (to - from));
  return {
    x: between(x, frame.left, frame.right),
    y: between(y, frame.bottom, frame.top),
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

function marksOf({ min, max, step }: Axis): number[] {
  const count = Math.round((max - min) / step);
  return Array.from({ length: count + 1 }, (_, i) => min + i * step);
}

function markText(value: number, step: number): string {
  return fixed(value, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
}

function bottomAxis(axis: Axis, frame: Frame, { x }: Scales): string[] {
  const { left, right, top, bottom, height } = frame;
  const middle = (left + right) / 2;
  const parts = [text(middle, height - 4, "middle", axis.label)];
  if (axis.crankshaft !== null) parts.push(text(middle, 9, "middle", axis.crankshaft.label));
  for (const mark of marksOf(axis)) {
    parts.push(rule(x(mark), top, x(mark), bottom));
    parts.push(text(x(mark), bottom + 12, "middle", markText(mark, axis.step)));
    if (axis.crankshaft !== null) {
      const { factor } = axis.crankshaft;
      parts.push(text(x(mark), top - 5, "middle", markText(mark * factor, axis.step * factor)));
    }
  }
  return parts;
}

function leftAxis(axis: Axis, frame: Frame, { y }: Scales): string[] {
  const { left, right, top, bottom, width } = frame;
  const middle = (top + bottom) / 2;
  const parts = [uprightText(10, middle, axis.label)];
  if (axis.crankshaft !== null) parts.push(uprightText(width - 4, middle, axis.crankshaft.label));
  for (const mark of marksOf(axis)) {
    parts.push(rule(left, y(mark), right, y(mark)));
    parts.push(text(left - 4, y(mark) + 3.5, "end", markText(mark, axis.step)));
    if (axis.crankshaft !== null) {
      const { factor } = axis.crankshaft;
      parts.push(
        text(right + 4, y(mark) + 3.5, "start", markText(mark * factor, axis.step * factor)),
      );
    }
  }
  parts.push(
    `<path d="M${left} ${top}V${bottom}M${left} ${y(0)}H${right}" stroke="#000" stroke-width="1" fill="none"/>`,
  );
  return parts;
}

function text(x: number, y: number, anchor: "start" | "middle" | "end", content: string): string {
  return `<text x="${x}" y="${y}" text-anchor="${anchor}">${escaped(content)}</text>`;
}

function uprightText(x: number, y: number, content: string): string {
  return `<text transform="translate(${x} ${y}) rotate(-90)" text-anchor="middle">${escaped(content)}</text>`;
}

function rule(x1: number, y1: number, x2: number, y2: number): string {
  return `<path d="M${x1} ${y1}L${x2} ${y2}" stroke="#ccc" stroke-width="0.5"/>`;
}

const BAR_HALF_WIDTH = 6;
const CAP_HALF_WIDTH = 9;
const GATE_HALF_HEIGHT = 5;
/** How far a bar without a limit on one side is drawn to that side. */
const OPEN_LENGTH = 30;

/** Grey between the limits, a black cap on each limit; an open side fades into a dashed stem. */
function barSvg(bar: Bar, { y }: Picture, scales: Scales): string {
  if (bar.min === bar.max) return gateSvg(bar, scales);
  const upright = bar.fromX === bar.toX;
  const x1 = scales.x(bar.fromX) - (upright ? BAR_HALF_WIDTH : 0);
  const x2 = scales.x(bar.toX) + (upright ? BAR_HALF_WIDTH : 0);
  const over = upright ? CAP_HALF_WIDTH - BAR_HALF_WIDTH : 0;
  const limits = [bar.min, bar.max].filter((limit) => limit !== null).map(scales.y);
  const caps = limits.map((at) => `M${x1 - over} ${at}H${x2 + over}`).join("");
  const parts = [`<path d="${caps}" stroke="#000" stroke-width="1.6" fill="none"/>`];
  const [first, second] = limits;
  if (first !== undefined && second !== undefined) {
    const height = round(first - second);
    parts.unshift(
      `<rect x="${x1}" y="${second}" width="${round(x2 - x1)}" height="${height}" fill="#bbb"/>`,
    );
  } else if (first !== undefined) {
    const inside = bar.min === null ? first + OPEN_LENGTH : first - OPEN_LENGTH;
    const end = Math.min(Math.max(inside, scales.y(y.max)), scales.y(y.min));
    const middle = (x1 + x2) / 2;
    parts.push(
      `<path d="M${middle} ${first}V${end}" stroke="#777" stroke-width="3" stroke-dasharray="2 3"/>`,
    );
  }
  return parts.join("");
}

/** Between which places a curve has to begin: a grey stretch of the zero line between two posts. */
function gateSvg({ fromX, toX, min }: Bar, scales: Scales): string {
  const [x1, x2, at] = [scales.x(fromX), scales.x(toX), scales.y(min ?? 0)];
  const [top, bottom] = [at - GATE_HALF_HEIGHT, at + GATE_HALF_HEIGHT];
  return [
    `<path d="M${x1} ${at}H${x2}" stroke="#bbb" stroke-width="5"/>`,
    `<path d="M${x1} ${top}V${bottom}M${x2} ${top}V${bottom}" stroke="#000" stroke-width="1.6"/>`,
  ].join("");
}

/** Above the bar, and above the curves. */
function flagSvg({ fromX, toX, min, max, flag }: Bar, scales: Scales): string {
  const limit = max ?? min;
  if (flag === "" || limit === null) return "";
  const x = round((scales.x(fromX) + scales.x(toX)) / 2);
  const y = round(scales.y(limit) - GATE_HALF_HEIGHT - 2);
  return `<text x="${x}" y="${y}" text-anchor="middle" class="flag">${escaped(flag)}</text>`;
}

const LOOKS: Readonly<
  Record<Line["look"], { readonly width: number; readonly dash: string; readonly cap?: "round" }>
> = {
  rising: { width: 1.6, dash: "none" },
  falling: { width: 1.4, dash: "6 3" },
  trace: { width: 1.4, dash: "none" },
  fitted: { width: 1, dash: "12 3 2 3" },
  // Dots, and dots in pairs.
  "as received": { width: 2, dash: "0 4.5", cap: "round" },
  before: { width: 2, dash: "0 3.5 0 8", cap: "round" },
};

export function lineSvg({ look, points }: Line, scales: Scales): string {
  const at = points.map(([x, y]) => [scales.x(x), scales.y(y)] as const);
  const { width, dash, cap } = LOOKS[look];
  const ends = cap === undefined ? "" : ` stroke-linecap="${cap}"`;
  const path = at.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x} ${y}`).join("");
  const drawn = `<path d="${path}" stroke="#000" stroke-width="${width}" stroke-dasharray="${dash}"${ends} fill="none"/>`;
  return drawn + at.map(([x, y]) => markerSvg(look, x, y)).join("");
}

/** Rising: a full disc. Falling: an open square. */
function markerSvg(look: Line["look"], x: number, y: number): string {
  switch (look) {
    case "rising":
      return `<circle cx="${x}" cy="${y}" r="2.8" fill="#000"/>`;
    case "falling":
      return `<rect x="${round(x - 3)}" y="${round(y - 3)}" width="6" height="6" fill="#fff" stroke="#000" stroke-width="1.2"/>`;
    case "trace":
    case "fitted":
    case "as received":
    case "before":
      return "";
  }
}

const DIAMOND_HALF = 6.5;

export function diamondSvg(x: number, y: number): string {
  const d = DIAMOND_HALF;
  return `<path d="M${x} ${round(y - d)}L${round(x + d)} ${y}L${x} ${round(y + d)}L${round(x - d)} ${y}Z" stroke="#000" stroke-width="1.1" fill="none"/>`;
}

function markSvg({ x, y, label, labelSide }: Mark, scales: Scales): string {
  const [atX, atY] = [scales.x(x), scales.y(y)];
  const [side, anchor, below] = labelSide === "upper left" ? [-1, "end", -3] : [1, "start", 11];
  return `${diamondSvg(atX, atY)}<text x="${round(atX + side * (DIAMOND_HALF - 1))}" y="${round(atY + below)}" text-anchor="${anchor}" class="flag">${escaped(label)}</text>`;
}
