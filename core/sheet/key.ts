// What the lines and signs of the pictures mean, each with a sample. Pure.

import type { Speech } from "../speech/speech.ts";
import { CAP_WIDTH, diamondShape, LIMITS_FILL, lineShapes } from "./drawing.ts";
import type { Block, Line } from "./model.ts";
import type { Shape } from "./shapes.ts";

/** Of every sample, in drawing units. */
export const SAMPLE_WIDTH = 60;
export const SAMPLE_HEIGHT = 16;

export interface KeyItem {
  readonly sample: readonly Shape[];
  readonly text: string;
}

export function keyItems(
  { looks, isMarked }: Extract<Block, { kind: "key" }>,
  { verdicts: { key: words } }: Speech,
): KeyItem[] {
  const has = (look: Line["look"]) => looks.includes(look);
  const items: (KeyItem | false)[] = [
    { sample: lineSample("rising"), text: words.rising },
    { sample: lineSample("falling"), text: words.falling },
    has("as received") && { sample: lineSample("as received"), text: words.received },
    has("before") && { sample: lineSample("before"), text: words.before },
    has("fitted") && { sample: lineSample("fitted"), text: words.fitted },
    isMarked && {
      sample: [diamondShape(30, 8)],
      text: words.marks,
    },
    { sample: BAR_SAMPLE, text: words.limits },
  ];
  return items.filter((item) => item !== false);
}

function lineSample(look: Line["look"]): Shape[] {
  const points = [2, 30, 58].map((x) => [x, 8] as const);
  return lineShapes({ look, points }, { x: (x) => x, y: (y) => y });
}

const BAR_SAMPLE: readonly Shape[] = [
  { kind: "rect", x: 20, y: 3, width: 20, height: 10, fill: LIMITS_FILL, strokeWidth: 0 },
  {
    kind: "path",
    d: "M20 3H40M20 13H40",
    stroke: "#000",
    width: CAP_WIDTH,
    dash: [],
    cap: "butt",
  },
];
