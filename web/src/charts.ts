// Chart.js behind two narrow views. Colours come from the style sheet, so that light and dark follow the reader.
import {
  CategoryScale,
  Chart,
  type ChartDataset,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  type Plugin,
  PointElement,
} from "chart.js";
import { MediaQuery } from "svelte/reactivity";
import { roundAxis } from "../../core/sheet/axes.ts";
import { vacuumFromPascals } from "../../core/units.ts";
import {
  type Axis,
  apart,
  type ChartMark,
  type ChartPoint,
  type CurveModel,
  type LimitBar,
} from "./curveModel.ts";
import { vacuumUnit } from "./formats.ts";
import { shownShaft } from "./shaft.ts";
import { words } from "./words.ts";

Chart.register(LineController, LineElement, PointElement, LinearScale, CategoryScale, Filler);

export type Line = ChartDataset<"line", { x: number; y: number }[]>;

export interface CurveChartView {
  show(model: CurveModel): void;
  /** Where on the picture a point lies, in px; null: beyond it, or nothing is drawn yet. */
  placeOf(point: ChartPoint): { readonly left: number; readonly top: number } | null;
  close(): void;
}

export interface HoldModel {
  readonly trace: readonly (readonly [number, number])[];
  readonly settleS: number;
  readonly topPa: number;
  readonly lastS: number;
  readonly dropMaxPa: number;
  /** Vacuum when the clock started; null before. */
  readonly startPa: number | null;
}

export interface HoldChartView {
  show(model: HoldModel): void;
  close(): void;
}

export function inkOf(canvas: HTMLCanvasElement, name: string): string {
  return getComputedStyle(canvas).getPropertyValue(name).trim();
}

const dark = new MediaQuery("prefers-color-scheme: dark");
/** The widths from which the style sheet enlarges the type. */
const wide = [new MediaQuery("min-width: 2400px"), new MediaQuery("min-width: 3400px")];
const PLAIN_REM_PX = 18;

/**
 * How much larger than on a laptop everything is drawn. Reads what decides colours and size, so that an
 * attachment which opens a chart opens it anew when one of them changes.
 */
export function drawnScale(): number {
  for (const query of [dark, ...wide]) query.current;
  return parseFloat(getComputedStyle(document.documentElement).fontSize) / PLAIN_REM_PX;
}

export function line(scale: number, style: Partial<Line>): Line {
  return { data: [], borderWidth: 2 * scale, tension: 0, ...style } as Line;
}

/** At most one draw per frame, however many documents came. */
export function onFrame(draw: () => void): { ask(): void; cancel(): void } {
  let asked = 0;
  return {
    ask() {
      if (asked !== 0) return;
      asked = requestAnimationFrame(() => {
        asked = 0;
        draw();
      });
    },
    cancel: () => cancelAnimationFrame(asked),
  };
}

export function openChart(
  canvas: HTMLCanvasElement,
  datasets: Line[],
  titles: { x: string; y: string },
  plugins: Plugin<"line">[],
  scale: number,
): Chart<"line", { x: number; y: number }[]> {
  const ink = inkOf(canvas, "--ink");
  const rule = inkOf(canvas, "--rule");
  const font = { size: 14 * scale, family: getComputedStyle(canvas).fontFamily };
  const axis = (text: string, autoSkip: boolean) => ({
    type: "linear" as const,
    title: { display: true, text, color: ink, font },
    // Marks along x make room for each other on a narrow page.
    ticks: { color: ink, font, autoSkip, maxRotation: 0, format: { useGrouping: false } },
    grid: { color: rule },
    border: { color: ink },
  });
  return new Chart(canvas, {
    type: "line",
    data: { datasets },
    plugins,
    options: {
      parsing: false,
      normalized: true,
      animation: false,
      locale: words.locale,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      scales: { x: axis(titles.x, true), y: axis(titles.y, false) },
    },
  });
}

export function setAxis(
  chart: Chart<"line", unknown>,
  key: "x" | "y",
  { min, max, step }: Axis,
): void {
  const scale = chart.options.scales?.[key];
  if (scale === undefined) return;
  Object.assign(scale, { min, max });
  Object.assign(scale.ticks ?? {}, { stepSize: step });
}

export function openCurveChart(
  canvas: HTMLCanvasElement,
  kind: "speed" | "vacuum",
): CurveChartView {
  const scale = drawnScale();
  const ink = inkOf(canvas, "--ink");
  const paper = inkOf(canvas, "--paper");
  const rising = line(scale, {
    borderColor: inkOf(canvas, "--rising"),
    backgroundColor: inkOf(canvas, "--rising"),
    pointRadius: 4 * scale,
    pointStyle: "circle",
  });
  const falling = line(scale, {
    borderColor: inkOf(canvas, "--falling"),
    backgroundColor: paper,
    borderDash: [6 * scale, 5 * scale],
    pointRadius: 5 * scale,
    pointStyle: "rect",
    pointBorderWidth: 2 * scale,
  });
  const fitted = [0, 1].map(() =>
    line(scale, {
      borderColor: ink,
      borderWidth: 1.2 * scale,
      borderDash: [12 * scale, 3 * scale, 2 * scale, 3 * scale],
      pointRadius: 0,
    }),
  );
  const dots = (borderDash: number[]) =>
    line(scale, {
      borderColor: ink,
      borderWidth: 2.5 * scale,
      borderCapStyle: "round",
      borderDash: borderDash.map((length) => length * scale),
      pointRadius: 0,
    });
  const earlier = { "as received": dots([0, 6]), before: dots([0, 5, 0, 11]) } as const;
  const marked = line(scale, {
    borderColor: ink,
    backgroundColor: "transparent",
    showLine: false,
    pointRadius: 9 * scale,
    pointStyle: "rectRot",
    pointBorderWidth: 1.5 * scale,
  });
  let bars: readonly LimitBar[] = [];
  let marks: readonly ChartMark[] = [];
  const band: Plugin<"line"> = {
    id: "band",
    beforeDatasetsDraw: (chart) => drawBars(chart, bars, inkOf(canvas, "--band"), scale),
  };
  const labels: Plugin<"line"> = {
    id: "labels",
    afterDatasetsDraw: (chart) => drawLabels(chart, marks, { ink, paper }, scale),
  };
  const x = kind === "speed" ? words.chart.x.speed(shownShaft) : words.chart.x.vacuum(vacuumUnit);
  const titles = { x, y: words.chart.y(shownShaft) };
  const beneath = [...fitted, earlier.before, earlier["as received"]];
  const lines = [marked, falling, rising, ...beneath];
  const chart = openChart(canvas, lines, titles, [band, labels], scale);
  const frame = onFrame(() => chart.update("none"));
  let shown: CurveModel | null = null;
  const view: CurveChartView = {
    show(model) {
      shown = model;
      rising.data = apart(model.rising, model, chart);
      falling.data = apart(model.falling, model, chart);
      fitted.forEach((one, i) => {
        one.data = [...(model.fitted[i] ?? [])];
      });
      for (const name of ["as received", "before"] as const) {
        const drawn = model.earlier.find((one) => one.name === name)?.points ?? [];
        earlier[name].data = [...drawn];
      }
      marks = model.marks;
      marked.data = marks.map(({ x, y }) => ({ x, y })).sort((a, b) => a.x - b.x);
      bars = model.bars;
      setAxis(chart, "x", model.xAxis);
      setAxis(chart, "y", model.yAxis);
      frame.ask();
    },
    placeOf({ x, y }) {
      const { x: across, y: up } = chart.scales;
      if (across === undefined || up === undefined) return null;
      const { left, right, top, bottom } = chart.chartArea;
      const at = { left: across.getPixelForValue(x), top: up.getPixelForValue(y) };
      const isIn = at.left >= left && at.left <= right && at.top >= top && at.top <= bottom;
      return isIn ? at : null;
    },
    close() {
      frame.cancel();
      chart.destroy();
    },
  };
  // How many dots lie apart depends on the picture's size.
  chart.options.onResize = () => {
    if (shown !== null) view.show(shown);
  };
  return view;
}

const CAP = 7;

/** Limits as brackets at their row: a cap at each closed end, an arrowless line where it is open. */
export function drawBars(
  chart: Chart<"line">,
  bars: readonly LimitBar[],
  colour: string,
  scale: number,
): void {
  const { ctx, chartArea, scales } = chart;
  const cap = CAP * scale;
  const { x: xScale, y: yScale } = scales;
  if (xScale === undefined || yScale === undefined) return;
  const x = (value: number) =>
    Math.min(chartArea.right, Math.max(chartArea.left, xScale.getPixelForValue(value)));
  const y = (value: number) => yScale.getPixelForValue(value);
  const stroke = (points: readonly (readonly [number, number])[]) => {
    ctx.beginPath();
    points.forEach(([px, py], i) => {
      if (i === 0) ctx.moveTo(px, py);
      else ctx.lineTo(px, py);
    });
    ctx.stroke();
  };
  ctx.save();
  ctx.strokeStyle = colour;
  ctx.lineWidth = 3 * scale;
  for (const bar of bars) {
    if (bar.kind === "begin") {
      const zero = y(0);
      stroke([
        [x(bar.fromX), zero - cap],
        [x(bar.fromX), zero + cap],
      ]);
      stroke([
        [x(bar.toX), zero - cap],
        [x(bar.toX), zero + cap],
      ]);
      stroke([
        [x(bar.fromX), zero],
        [x(bar.toX), zero],
      ]);
      continue;
    }
    const top = bar.maxDeg === null ? chartArea.top : y(bar.maxDeg);
    const bottom = bar.minDeg === null ? chartArea.bottom : y(bar.minDeg);
    const [left, right] =
      bar.kind === "upright" ? [x(bar.x), x(bar.x)] : [x(bar.fromX), x(bar.toX)];
    stroke([
      [left, top],
      [left, bottom],
    ]);
    const reach = bar.kind === "upright" ? cap : 0;
    if (bar.maxDeg !== null)
      stroke([
        [left - reach, top],
        [right + reach, top],
      ]);
    if (bar.minDeg !== null)
      stroke([
        [left - reach, bottom],
        [right + reach, bottom],
      ]);
  }
  ctx.restore();
}

/** The findings' numbers beside their readings: of falling ones above, where no other curve lies. */
function drawLabels(
  { ctx, scales, canvas }: Chart<"line">,
  marks: readonly ChartMark[],
  colours: { readonly ink: string; readonly paper: string },
  scale: number,
): void {
  const { x: xScale, y: yScale } = scales;
  if (xScale === undefined || yScale === undefined) return;
  ctx.save();
  ctx.font = `bold ${14 * scale}px ${getComputedStyle(canvas).fontFamily}`;
  ctx.fillStyle = colours.ink;
  ctx.strokeStyle = colours.paper;
  ctx.lineWidth = 4 * scale;
  for (const { x, y, label, branch } of marks) {
    const isAbove = branch === "falling";
    ctx.textAlign = isAbove ? "right" : "left";
    const atX = xScale.getPixelForValue(x) + (isAbove ? -7 : 7) * scale;
    const atY = yScale.getPixelForValue(y) + (isAbove ? -6 : 17) * scale;
    ctx.strokeText(label, atX, atY);
    ctx.fillText(label, atX, atY);
  }
  ctx.restore();
}

const HOLD_MARKS_MOST = 6;

export function openHoldChart(canvas: HTMLCanvasElement): HoldChartView {
  const scale = drawnScale();
  const ink = inkOf(canvas, "--rising");
  const trace = line(scale, { borderColor: ink, pointRadius: 0 });
  const least = line(scale, {
    borderColor: inkOf(canvas, "--band"),
    borderDash: [2 * scale, 4 * scale],
    pointRadius: 0,
  });
  const chart = openChart(
    canvas,
    [trace, least],
    { x: words.chart.x.seconds, y: words.chart.x.vacuum(vacuumUnit) },
    [],
    scale,
  );
  const frame = onFrame(() => chart.update("none"));
  return {
    show(model) {
      const shown = (pa: number) => vacuumFromPascals(pa, vacuumUnit);
      trace.data = model.trace.map(([x, pa]) => ({ x, y: shown(pa) }));
      const floor = shown((model.startPa ?? model.topPa) - model.dropMaxPa);
      least.data = [
        { x: model.settleS, y: floor },
        { x: model.lastS, y: floor },
      ];
      setAxis(chart, "x", {
        min: 0,
        max: Math.ceil(model.lastS),
        step: Math.ceil(model.lastS / 5),
      });
      // Room above, so that the beginning does not lie on the frame.
      setAxis(chart, "y", roundAxis([shown(1.1 * model.topPa)], HOLD_MARKS_MOST));
      frame.ask();
    },
    close() {
      frame.cancel();
      chart.destroy();
    },
  };
}
