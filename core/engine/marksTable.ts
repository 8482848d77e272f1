// The marks to expect, as a table of a sheet. Pure.
import { rounded } from "../csv/text.ts";
import { fixed, limitsText, vacuumText } from "../sheet/figures.ts";
import type { Table } from "../sheet/model.ts";
import type { Limits } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { rangeText } from "./agreement.ts";
import type { EngineConditions, EngineMark, Mark, MarkRange } from "./marks.ts";

export const ALL_MARKS: readonly MarksColumn[] = [
  "plugged",
  "falling",
  "specified",
  "unloaded",
  "cruise",
];

/** What a table of marks may show beside the speed. */
export type MarksColumn = "plugged" | "falling" | "specified" | "unloaded" | "cruise";

interface Column {
  readonly name: MarksColumn;
  readonly head: string;
  readonly text: (mark: EngineMark) => string;
}

/** Columns of which no row knows anything are left out. */
export function marksTable(
  marks: readonly EngineMark[],
  { settings, cruiseVacuumPa }: EngineConditions,
  vacuumUnit: VacuumUnit,
  wanted: readonly MarksColumn[],
): Table {
  const columns: Column[] = [
    {
      name: "plugged",
      head: "line plugged",
      text: ({ plugged }) => withUncertainty(plugged.rising),
    },
    {
      name: "falling",
      head: "plugged, speed falling",
      text: ({ plugged }) => withUncertainty(plugged.falling),
    },
    {
      name: "specified",
      head: "by specification",
      text: ({ specified }) =>
        specified === null ? UNKNOWN : limitsText(tenths(specified), "deg", vacuumUnit),
    },
    {
      name: "unloaded",
      head: "line on, no load",
      text: ({ unloaded }) => rangeWithUncertainty(unloaded),
    },
    {
      name: "cruise",
      head: `line on, cruise at ${vacuumText(cruiseVacuumPa, vacuumUnit)}`,
      text: ({ cruise }) => withUncertainty(cruise),
    },
  ];
  const told = columns.filter(
    ({ name, text }) => wanted.includes(name) && marks.some((mark) => text(mark) !== UNKNOWN),
  );
  return {
    caption: "Crankshaft degrees before top dead centre (negative: after it)",
    groups: [],
    columns: ["engine rpm", ...told.map(({ head }) => head)].map((head) => ({
      head,
      align: "right",
    })),
    rows: marks.map((mark) => ({
      cells: [fixed(mark.engineRpm, 0), ...told.map(({ text }) => text(mark))],
      strong: mark.engineRpm === settings.atEngineRpm,
    })),
  };
}

export const UNKNOWN = "–";

function tenths({ min, max }: Limits): Limits {
  return { min: min && rounded(min, 1), max: max && rounded(max, 1) };
}

function withUncertainty(mark: Mark | null): string {
  return mark === null ? UNKNOWN : `${fixed(mark.markCrankshaftDeg, 1)} ${plusMinus(mark)}`;
}

export function rangeWithUncertainty(range: MarkRange | null): string {
  return range === null ? UNKNOWN : `${rangeText(range)} ${plusMinus(range)}`;
}

function plusMinus({
  expandedUncertaintyCrankshaftDeg: expanded,
}: Pick<Mark, "expandedUncertaintyCrankshaftDeg">): string {
  return expanded === 0 ? "as set" : `± ${fixed(Math.max(expanded, 0.1), 1)}`;
}
