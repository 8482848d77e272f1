// Draws a picture as shapes: axes with marks, limit bars beneath, curves above. What prints them (svg.ts,
// or a PDF) lays nothing out itself. Pure.
import { fixed } from "./figures.ts";
import type { Axis, Bar, Line, Mark, Picture } from "./model.ts";
import type { Drawing, Shape } from "./shapes.ts";

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
const FULL_LOW_HEIGHT = 170;
const CAPSULE_HEIGHT = 190;
const LOW_HEIGHT = 140;
const WIDTHS: Readonly<Record<Picture["width"], number>> = { full: 720, broad: 472, narrow: 232 };

const ROOM_FOR_LABELS = 40;
const ROOM_FOR_NONE = 10;
/** Beside the last mark of the axis below: half of five digits. */
const ROOM_FOR_LAST_MARK = 16;

interface Scales {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

export function drawingOf(picture: Picture): Drawing {
  const frame = frameOf(picture);
  const scales = scalesOf(picture, frame);
  return {
    width: frame.width,
    height: frame.height,
    alt: [picture.title, ...picture.shows].join(", "),
    shapes: [
      ...bottomAxis(picture.x, frame, scales),
      ...leftAxis(picture.y, frame, scales),
      ...picture.bars.flatMap((bar) => barShapes(bar, picture, scales)),
      ...picture.lines.flatMap((line) => lineShapes(line, scales)),
      ...picture.marks.flatMap((mark) => markShapes(mark, scales)),
      ...picture.bars.flatMap((bar) => flagShapes(bar, scales, frame)),
    ],
  };
}

function frameOf({ width: name, low, x, y }: Picture): Frame {
  const width = WIDTHS[name];
  const [high, less] =
    name === "full" ? [FULL_HEIGHT, FULL_LOW_HEIGHT] : [CAPSULE_HEIGHT, LOW_HEIGHT];
  const height = low ? less : high;
  return {
    width,
    height,
    left: ROOM_FOR_LABELS,
    right: width - (y.crankshaft === null ? ROOM_FOR_LAST_MARK : ROOM_FOR_LABELS),
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

/** `times`: as many of them there are at the crankshaft. */
function markText(value: number, { step, decimalMark = "." }: Axis, times = 1): string {
  const digits = Math.max(0, -Math.floor(Math.log10(step * times) + 1e-9));
  return fixed(value * times, digits).replace(".", decimalMark);
}

function bottomAxis(axis: Axis, frame: Frame, { x }: Scales): Shape[] {
  const { left, right, top, bottom, height } = frame;
  const middle = (left + right) / 2;
  const parts: Shape[] = [text(middle, height - 4, "middle", axis.label)];
  if (axis.crankshaft !== null) parts.push(text(middle, 9, "middle", axis.crankshaft.label));
  for (const mark of marksOf(axis)) {
    parts.push(rule(x(mark), top, x(mark), bottom));
    parts.push(text(x(mark), bottom + 12, "middle", markText(mark, axis)));
    if (axis.crankshaft !== null) {
      const { factor } = axis.crankshaft;
      parts.push(text(x(mark), top - 5, "middle", markText(mark, axis, factor)));
    }
  }
  return parts;
}

function leftAxis(axis: Axis, frame: Frame, { y }: Scales): Shape[] {
  const { left, right, top, bottom, width } = frame;
  const middle = (top + bottom) / 2;
  const parts: Shape[] = [uprightText(10, middle, axis.label)];
  if (axis.crankshaft !== null) parts.push(uprightText(width - 4, middle, axis.crankshaft.label));
  for (const mark of marksOf(axis)) {
    parts.push(rule(left, y(mark), right, y(mark)));
    parts.push(text(left - 4, y(mark) + 3.5, "end", markText(mark, axis)));
    if (axis.crankshaft !== null) {
      const { factor } = axis.crankshaft;
      parts.push(text(right + 4, y(mark) + 3.5, "start", markText(mark, axis, factor)));
    }
  }
  parts.push(path(`M${left} ${top}V${bottom}M${left} ${y(0)}H${right}`, "#000", 1));
  return parts;
}

type Text = Extract<Shape, { kind: "text" }>;

function text(x: number, y: number, anchor: Text["anchor"], content: string): Text {
  return { kind: "text", x, y, anchor, content, isUpright: false, isFlag: false };
}

function uprightText(x: number, y: number, content: string): Text {
  return { ...text(x, y, "middle", content), isUpright: true };
}

function path(d: string, stroke: string, width: number, dash: readonly number[] = []): Shape {
  return { kind: "path", d, stroke, width, dash, cap: "butt" };
}

function rule(x1: number, y1: number, x2: number, y2: number): Shape {
  return path(`M${x1} ${y1}L${x2} ${y2}`, "#ccc", 0.5);
}

export const LIMITS_FILL = "#bbb";
export const CAP_WIDTH = 1.6;
const BAR_HALF_WIDTH = 6;
const CAP_HALF_WIDTH = 9;
const GATE_HALF_HEIGHT = 5;
/** How far a bar without a limit on one side is drawn to that side. */
const OPEN_LENGTH = 30;

/** Grey between the limits, a black cap on each limit; an open side fades into a dashed stem. */
function barShapes(bar: Bar, { y }: Picture, scales: Scales): Shape[] {
  if (bar.min === bar.max) return gateShapes(bar, scales);
  const upright = bar.fromX === bar.toX;
  const x1 = scales.x(bar.fromX) - (upright ? BAR_HALF_WIDTH : 0);
  const x2 = scales.x(bar.toX) + (upright ? BAR_HALF_WIDTH : 0);
  const over = upright ? CAP_HALF_WIDTH - BAR_HALF_WIDTH : 0;
  const limits = [bar.min, bar.max].filter((limit) => limit !== null).map(scales.y);
  const caps = limits.map((at) => `M${x1 - over} ${at}H${x2 + over}`).join("");
  const parts: Shape[] = [path(caps, "#000", CAP_WIDTH)];
  const [first, second] = limits;
  if (first !== undefined && second !== undefined) {
    const height = round(first - second);
    parts.unshift({
      kind: "rect",
      x: x1,
      y: second,
      width: round(x2 - x1),
      height,
      fill: LIMITS_FILL,
      strokeWidth: 0,
    });
  } else if (first !== undefined) {
    const inside = bar.min === null ? first + OPEN_LENGTH : first - OPEN_LENGTH;
    const end = Math.min(Math.max(inside, scales.y(y.max)), scales.y(y.min));
    const middle = (x1 + x2) / 2;
    parts.push(path(`M${middle} ${first}V${end}`, "#777", 3, [2, 3]));
  }
  return parts;
}

/** Between which places a curve has to begin: a grey stretch of the zero line between two posts. */
function gateShapes({ fromX, toX, min }: Bar, scales: Scales): Shape[] {
  const [x1, x2, at] = [scales.x(fromX), scales.x(toX), scales.y(min ?? 0)];
  const [top, bottom] = [at - GATE_HALF_HEIGHT, at + GATE_HALF_HEIGHT];
  return [
    path(`M${x1} ${at}H${x2}`, LIMITS_FILL, GATE_HALF_HEIGHT),
    path(`M${x1} ${top}V${bottom}M${x2} ${top}V${bottom}`, "#000", CAP_WIDTH),
  ];
}

/** Above the bar, and above the curves. */
/** About half of a letter's width, in drawing units. */
const FLAG_HALF_LETTER = 2.9;

function flagShapes(
  { fromX, toX, min, max, flag }: Bar,
  scales: Scales,
  { right }: Frame,
): Shape[] {
  const limit = max ?? min;
  if (flag === "" || limit === null) return [];
  const x = round((scales.x(fromX) + scales.x(toX)) / 2);
  const y = round(scales.y(limit) - GATE_HALF_HEIGHT - 2);
  // Beyond the last mark the other shaft's figures stand.
  const isOver = x + flag.length * FLAG_HALF_LETTER > right;
  const place = isOver ? text(right, y, "end", flag) : text(x, y, "middle", flag);
  return [{ ...place, isFlag: true }];
}

const LOOKS: Readonly<
  Record<
    Line["look"],
    { readonly width: number; readonly dash: readonly number[]; readonly cap?: "round" }
  >
> = {
  rising: { width: 1.6, dash: [] },
  falling: { width: 1.4, dash: [6, 3] },
  trace: { width: 1.4, dash: [] },
  fitted: { width: 1, dash: [12, 3, 2, 3] },
  // Dots, and dots in pairs.
  "as received": { width: 2, dash: [0, 4.5], cap: "round" },
  before: { width: 2, dash: [0, 3.5, 0, 8], cap: "round" },
};

export function lineShapes({ look, points }: Line, scales: Scales): Shape[] {
  const at = points.map(([x, y]) => [scales.x(x), scales.y(y)] as const);
  const { width, dash, cap } = LOOKS[look];
  const d = at.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x} ${y}`).join("");
  return [
    { kind: "path", d, stroke: "#000", width, dash, cap: cap ?? "butt" },
    ...at.flatMap(([x, y]) => markerShapes(look, x, y)),
  ];
}

/** Rising: a full disc. Falling: an open square. */
function markerShapes(look: Line["look"], x: number, y: number): Shape[] {
  switch (look) {
    case "rising":
      return [{ kind: "disc", x, y, radius: 2.8 }];
    case "falling":
      return [
        {
          kind: "rect",
          x: round(x - 3),
          y: round(y - 3),
          width: 6,
          height: 6,
          fill: "#fff",
          strokeWidth: 1.2,
        },
      ];
    case "trace":
    case "fitted":
    case "as received":
    case "before":
      return [];
  }
}

const DIAMOND_HALF = 6.5;

export function diamondShape(x: number, y: number): Shape {
  const d = DIAMOND_HALF;
  return path(
    `M${x} ${round(y - d)}L${round(x + d)} ${y}L${x} ${round(y + d)}L${round(x - d)} ${y}Z`,
    "#000",
    1.1,
  );
}

function markShapes({ x, y, label, labelSide }: Mark, scales: Scales): Shape[] {
  const [atX, atY] = [scales.x(x), scales.y(y)];
  const [side, anchor, below] =
    labelSide === "upper left" ? ([-1, "end", -3] as const) : ([1, "start", 11] as const);
  const place = text(round(atX + side * (DIAMOND_HALF - 1)), round(atY + below), anchor, label);
  return [diamondShape(atX, atY), { ...place, isFlag: true }];
}
