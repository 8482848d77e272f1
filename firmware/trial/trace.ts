// `npm run pictures`: one revolution at the image's pins as a drawing on standard output, with its numbers.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { LOCKED } from "../../accuracy/lockedCam.ts";
import type { Turn } from "../../core/turns.ts";
import { onBench } from "./bench.ts";
import { CPU_HZ, CYCLES_PER_TICK } from "./imageBoard.ts";

const LOBES = 4;
const SPEED_RPM = 4000;
/** Of the line at 500,000 baud: ten bits. */
const BYTE_CYCLES = CPU_HZ / 50_000;

interface Change {
  readonly cycle: number;
  readonly signal: string;
  readonly level: number;
}

interface Traced {
  readonly changes: readonly Change[];
  readonly turn: Turn;
  /** Of the index of that turn and the next, at the pin. */
  readonly fromCycle: number;
  readonly toCycle: number;
}

async function traced(): Promise<Traced> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-trace-"));
  try {
    const tracePath = join(folder, "trace");
    const scenario = { unit: { lobes: LOBES, rotation: "cw" }, mechanism: LOCKED };
    const turn = await onBench(
      1,
      scenario,
      async ({ turn, pause, turns }) => {
        await turn(SPEED_RPM);
        await pause(0.5);
        return turns.at(-10) as Turn;
      },
      tracePath,
    );
    const changes = readFileSync(tracePath, "utf8")
      .trimEnd()
      .split("\n")
      .map((line): Change => {
        const [cycle, signal, level] = line.split(" ");
        return { cycle: Number(cycle), signal: signal as string, level: Number(level) };
      });
    const indexes = changes.filter(({ signal, level }) => signal === "pickup" && level === 1);
    const at = indexes.findIndex(
      ({ cycle }) => Math.abs(cycle / CYCLES_PER_TICK - turn.indexTick) < turn.duringTicks / 2,
    );
    const [fromCycle, toCycle] = [indexes[at]?.cycle, indexes[at + 1]?.cycle];
    if (fromCycle === undefined || toCycle === undefined) throw new Error("the turn is not traced");
    return { changes, turn, fromCycle, toCycle };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const WIDTH = 1100;
const LEFT = 160;
const RIGHT = 40;
const ROW = 46;
const HIGH = 26;

interface Panel {
  readonly title: string;
  readonly fromCycle: number;
  readonly toCycle: number;
  /** Where its time is 0, the unit of its times in cycles, and the step of its marks in that unit. */
  readonly zeroCycle: number;
  readonly unit: string;
  readonly unitCycles: number;
  readonly step: number;
}

/** Spans in which a signal is high. */
function spans(changes: readonly Change[], signal: string): (readonly [number, number])[] {
  const own = changes.filter((change) => change.signal === signal);
  if (signal === "sent") return own.map(({ cycle }) => [cycle, cycle + BYTE_CYCLES]);
  return own.flatMap(({ cycle, level }, i) =>
    level === 0 ? [] : [[cycle, own[i + 1]?.cycle ?? cycle] as const],
  );
}

const ROWS = [
  ["pickup", "pickup, PL0"],
  ["trigger", "contacts open, PL1"],
  ["interrupt", "interrupts"],
  ["sent", "bytes to the host"],
] as const;

function drawPanel(panel: Panel, changes: readonly Change[], top: number): string {
  const { fromCycle, toCycle } = panel;
  const scale = (WIDTH - LEFT - RIGHT) / (toCycle - fromCycle);
  const x = (cycle: number) => LEFT + (cycle - fromCycle) * scale;
  const limited = (cycle: number) => Math.min(Math.max(cycle, fromCycle), toCycle);
  const bottom = top + 20 + ROWS.length * ROW;
  const parts = [`<text x="10" y="${top}" font-weight="bold">${panel.title}</text>`];
  const first = Math.ceil((fromCycle - panel.zeroCycle) / panel.unitCycles / panel.step);
  const last = Math.floor((toCycle - panel.zeroCycle) / panel.unitCycles / panel.step);
  for (let i = first; i <= last; i++) {
    const at = x(panel.zeroCycle + i * panel.step * panel.unitCycles).toFixed(1);
    parts.push(
      `<path d="M${at} ${top + 14} V${bottom}" stroke="#ccc"/>`,
      `<text x="${at}" y="${bottom + 16}" text-anchor="middle" font-size="12">${`${i * panel.step}`.replace("-", "−")} ${panel.unit}</text>`,
    );
  }
  ROWS.forEach(([signal, name], row) => {
    const base = top + 20 + (row + 1) * ROW - 8;
    parts.push(`<text x="10" y="${base - 6}">${name}</text>`);
    let path = `M${LEFT} ${base}`;
    for (const [from, to] of spans(changes, signal)) {
      if (to < fromCycle || from > toCycle) continue;
      path += ` H${x(limited(from)).toFixed(2)} V${base - HIGH} H${x(limited(to)).toFixed(2)} V${base}`;
    }
    parts.push(
      `<path d="${path} H${WIDTH - RIGHT}" stroke="#124" fill="#9bc" fill-opacity="0.5"/>`,
    );
  });
  return parts.join("\n");
}

/** Each edge at the pin beside the tick that the board sent for it. */
function numbers({ changes, turn, fromCycle, toCycle }: Traced): string[] {
  const edges = changes.filter(
    ({ cycle, signal }) => signal === "trigger" && cycle >= fromCycle && cycle < toCycle,
  );
  const cells = edges.map(({ cycle, level }, i) => {
    const pin = ((cycle - fromCycle) / CYCLES_PER_TICK).toFixed(2);
    return `${level === 1 ? "opens" : "closes"} at ${pin}, sent ${turn.eventTicks[i]}`;
  });
  const during = ((toCycle - fromCycle) / CYCLES_PER_TICK).toFixed(2);
  const half = Math.ceil(cells.length / 2);
  return [
    `Ticks of half a microsecond after the index. Next index at ${during}, sent ${turn.duringTicks}.`,
    `${cells.slice(0, half).join("; ")};`,
    `${cells.slice(half).join("; ")}.`,
  ];
}

function drawing(all: Traced): string {
  const { changes, fromCycle, toCycle } = all;
  const margin = 0.02 * (toCycle - fromCycle);
  const opening = changes.find(
    ({ cycle, signal, level }) => signal === "trigger" && level === 1 && cycle > fromCycle,
  );
  if (opening === undefined) throw new Error("no contacts open in the turn");
  const near = (us: number) => opening.cycle + (us * CPU_HZ) / 1e6;
  const panels: readonly Panel[] = [
    {
      title: `One revolution at ${SPEED_RPM} rpm, ${LOBES} lobes`,
      fromCycle: fromCycle - margin,
      toCycle: toCycle + margin,
      zeroCycle: fromCycle,
      unit: "ms",
      unitCycles: CPU_HZ / 1000,
      step: 1,
    },
    {
      title: "Its first opening",
      fromCycle: near(-40),
      toCycle: near(200),
      zeroCycle: opening.cycle,
      unit: "µs",
      unitCycles: CPU_HZ / 1e6,
      step: 20,
    },
  ];
  const height = 2 * (ROWS.length * ROW + 70) + 90;
  const lines = numbers(all).map(
    (line, i) => `<text x="10" y="${height - 60 + 20 * i}">${line}</text>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" font-family="sans-serif" font-size="14" role="img" aria-label="Signals at the board's pins over one revolution">`,
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
    ...panels.map((panel, i) => drawPanel(panel, changes, 25 + i * (ROWS.length * ROW + 75))),
    ...lines,
    "</svg>",
    "",
  ].join("\n");
}

process.stdout.write(drawing(await traced()));
