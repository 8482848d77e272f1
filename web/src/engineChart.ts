// Marks over engine speed, told apart by dash and mark: colour only helps.
import type { Plugin } from "chart.js";
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
import type { EngineModel } from "./engineModel.ts";
import { words } from "./words.ts";

export interface EngineChartView {
  show(model: EngineModel): void;
  close(): void;
}

export function openEngineChart(canvas: HTMLCanvasElement): EngineChartView {
  const scale = drawnScale();
  const ink = (name: string) => inkOf(canvas, name);
  const drawn = (style: Partial<Line>, dash: readonly number[] = []) =>
    line(scale, {
      ...style,
      borderDash: dash.map((length) => length * scale),
      pointBorderWidth: 1.5 * scale,
    });
  const [blue, brown, black, paper] = [
    ink("--rising"),
    ink("--falling"),
    ink("--ink"),
    ink("--paper"),
  ];
  const rising = drawn({ borderColor: blue, backgroundColor: blue, pointRadius: 4 * scale });
  const falling = drawn(
    { borderColor: brown, backgroundColor: paper, pointStyle: "rect", pointRadius: 5 * scale },
    [6, 5],
  );
  const unloaded = [0, 1].map(() =>
    drawn({ borderColor: black, borderCapStyle: "round", pointRadius: 0 }, [0, 6]),
  );
  const cruise = drawn(
    { borderColor: black, backgroundColor: paper, pointStyle: "triangle", pointRadius: 5 * scale },
    [12, 3, 2, 3],
  );
  const read = (backgroundColor: string) =>
    drawn({
      borderColor: black,
      backgroundColor,
      showLine: false,
      pointStyle: "rectRot",
      pointRadius: 8 * scale,
    });
  const [readPlugged, readOn] = [read(black), read("transparent")];
  let bars: EngineModel["bars"] = [];
  const band: Plugin<"line"> = {
    id: "band",
    beforeDatasetsDraw: (chart) => drawBars(chart, bars, ink("--band"), scale),
  };
  const lines = [readPlugged, readOn, falling, rising, cruise, ...unloaded];
  const titles = { x: words.engine.chart.x, y: words.engine.chart.y };
  const chart = openChart(canvas, lines, titles, [band], scale);
  const frame = onFrame(() => chart.update("none"));
  return {
    show(model) {
      rising.data = [...model.rising];
      falling.data = [...model.falling];
      cruise.data = [...model.cruise];
      readPlugged.data = [...model.readPlugged];
      readOn.data = [...model.readOn];
      unloaded.forEach((one, i) => {
        one.data = [...(model.unloaded[i] ?? [])];
      });
      bars = model.bars;
      setAxis(chart, "x", model.xAxis);
      setAxis(chart, "y", model.yAxis);
      frame.ask();
    },
    close() {
      frame.cancel();
      chart.destroy();
    },
  };
}
