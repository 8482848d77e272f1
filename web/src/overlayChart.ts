// Several curves on one chart, told apart by mark, dash and letter: colour only helps.
import type { Chart, Plugin } from "chart.js";
import {
  drawBars,
  drawnScale,
  inkOf,
  type Line,
  line,
  onFrame,
  openChart,
  setAxis,
} from "./charts.ts";
import type { CurveSubject } from "./curveModel.ts";
import type { OverlayLine, OverlayModel } from "./overlayModel.ts";
import { shownShaft } from "./shaft.ts";
import { words } from "./words.ts";

export interface OverlayChartView {
  show(model: OverlayModel): void;
  close(): void;
}

/** In the order of the words for them (`words.desk.compare.marks`). */
const MARKS: readonly { readonly pointStyle: Line["pointStyle"]; readonly rotation: number }[] = [
  { pointStyle: "circle", rotation: 0 },
  { pointStyle: "rect", rotation: 0 },
  { pointStyle: "triangle", rotation: 0 },
  { pointStyle: "rectRot", rotation: 0 },
  { pointStyle: "triangle", rotation: 180 },
  { pointStyle: "triangle", rotation: 90 },
];
const DASHES: readonly (readonly number[])[] = [
  [],
  [8, 4],
  [2, 4],
  [10, 4, 2, 4],
  [18, 6],
  [10, 4, 2, 4, 2, 4],
];
const INKS = ["--rising", "--falling", "--ink"] as const;
const LETTER_PX = 15;

export function openOverlayChart(
  canvas: HTMLCanvasElement,
  subject: CurveSubject,
): OverlayChartView {
  const scale = drawnScale();
  const colours = { ink: inkOf(canvas, "--ink"), paper: inkOf(canvas, "--paper") };
  let model: OverlayModel | null = null;
  const band: Plugin<"line"> = {
    id: "band",
    beforeDatasetsDraw: (chart) =>
      drawBars(chart, model?.bars ?? [], inkOf(canvas, "--band"), scale),
  };
  const letters: Plugin<"line"> = {
    id: "letters",
    afterDatasetsDraw: (chart) => drawLetters(chart, model?.lines ?? [], colours, scale),
  };
  const { x: across } = words.chart;
  const x = subject.kind === "speed" ? across.speed(shownShaft) : across.vacuum(subject.unit);
  const chart = openChart(canvas, [], { x, y: words.chart.y(shownShaft) }, [band, letters], scale);
  chart.options.layout = { padding: { right: 2 * LETTER_PX * scale } };
  const frame = onFrame(() => chart.update("none"));
  return {
    show(shown) {
      model = shown;
      chart.data.datasets = shown.lines.flatMap((one, i) => datasetsOf(canvas, one, i, scale));
      setAxis(chart, "x", shown.xAxis);
      setAxis(chart, "y", shown.yAxis);
      frame.ask();
    },
    close() {
      frame.cancel();
      chart.destroy();
    },
  };
}

/** Falling first, so that the filled marks of rising lie on top. */
function datasetsOf(
  canvas: HTMLCanvasElement,
  { rising, falling }: OverlayLine,
  index: number,
  scale: number,
): Line[] {
  const borderColor = inkOf(canvas, INKS[index % INKS.length] as string);
  const { pointStyle, rotation } = MARKS[index % MARKS.length] as (typeof MARKS)[number];
  const dash = DASHES[index % DASHES.length] as readonly number[];
  const common: Partial<Line> = {
    borderColor,
    borderDash: dash.map((length) => length * scale),
    pointRadius: 5 * scale,
    pointStyle: pointStyle as NonNullable<Line["pointStyle"]>,
    pointRotation: rotation,
    pointBorderWidth: 1.5 * scale,
  };
  return [
    line(scale, {
      ...common,
      data: [...falling],
      backgroundColor: inkOf(canvas, "--paper"),
      borderWidth: scale,
    }),
    line(scale, { ...common, data: [...rising], backgroundColor: borderColor }),
  ];
}

/** Each curve's letter at its right end, moved up where another stands. */
function drawLetters(
  { ctx, scales, canvas, chartArea }: Chart<"line">,
  lines: readonly OverlayLine[],
  colours: { readonly ink: string; readonly paper: string },
  scale: number,
): void {
  const { x: xScale, y: yScale } = scales;
  if (xScale === undefined || yScale === undefined) return;
  const ends = lines.flatMap(({ letter, rising, falling }) => {
    const end = rising.at(-1) ?? falling.at(-1);
    return end === undefined
      ? []
      : [{ letter, x: xScale.getPixelForValue(end.x), y: yScale.getPixelForValue(end.y) }];
  });
  ctx.save();
  ctx.font = `bold ${LETTER_PX * scale}px ${getComputedStyle(canvas).fontFamily}`;
  ctx.fillStyle = colours.ink;
  ctx.strokeStyle = colours.paper;
  ctx.lineWidth = 4 * scale;
  ctx.textBaseline = "middle";
  const apart = LETTER_PX * scale;
  let freeY = Number.POSITIVE_INFINITY;
  const placed = ends
    .sort((a, b) => b.y - a.y)
    .map((end) => {
      const atY = Math.min(end.y, freeY);
      freeY = atY - apart;
      return { ...end, atY };
    });
  const lacking = Math.max(0, chartArea.top - (freeY + apart / 2));
  for (const { letter, x, atY } of placed) {
    ctx.strokeText(letter, x + 9 * scale, atY + lacking);
    ctx.fillText(letter, x + 9 * scale, atY + lacking);
  }
  ctx.restore();
}
