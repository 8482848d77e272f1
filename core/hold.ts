// The hold test from vacuum lines: by the rig's own clock, so that it can be computed again from them.
import type { VacuumLine } from "./codec/rigLines.ts";
import type { HoldDocument } from "./documents.ts";
import type { HoldPlan } from "./plan.ts";
import { ticksBetween } from "./turns.ts";

const TRACE_ENTRIES_MAX = 300;

/** Seconds from the first line to the last. */
export function holdSeconds(lines: readonly VacuumLine[], tickHz: number): number {
  return (ticksSinceFirst(lines).at(-1) ?? 0) / tickHz;
}

/** From line to line: a hold may last longer than a fast counter takes to wrap. */
function ticksSinceFirst(lines: readonly VacuumLine[]): number[] {
  let ticks = 0;
  return lines.map(({ tick }, i) => {
    ticks += i === 0 ? 0 : ticksBetween((lines[i - 1] as VacuumLine).tick, tick);
    return ticks;
  });
}

/** What the lines since closing off tell; later ones than the hold lasts are left out. Null without any. */
export function holdFrom(
  lines: readonly VacuumLine[],
  plan: HoldPlan,
  tickHz: number,
): Pick<HoldDocument, "startPa" | "endPa" | "seconds" | "trace" | "fromTick"> | null {
  const first = lines[0];
  if (first === undefined) return null;
  const totalS = plan.settleS + plan.seconds;
  const trace: [number, number][] = [];
  let startPa: number | null = null;
  let endPa = first.vacuumPa;
  const ticks = ticksSinceFirst(lines);
  for (const [i, line] of lines.entries()) {
    const atS = (ticks[i] as number) / tickHz;
    endPa = line.vacuumPa;
    const lastEntryS = trace.at(-1)?.[0] ?? Number.NEGATIVE_INFINITY;
    if (atS - lastEntryS >= totalS / TRACE_ENTRIES_MAX) trace.push([atS, line.vacuumPa]);
    if (atS >= plan.settleS) startPa ??= line.vacuumPa;
    if (atS >= totalS) break;
  }
  return {
    startPa: startPa ?? endPa,
    endPa,
    seconds: plan.seconds,
    trace,
    fromTick: first.tick,
  };
}
