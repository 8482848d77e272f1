// The marks to expect, as a table of a sheet. Pure.
import { rounded } from "../csv/text.ts";
import { fixed, limitsText, vacuumText } from "../sheet/figures.ts";
import type { Table } from "../sheet/model.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
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
  say: Speech = ENGLISH,
): Table {
  const { marks: words } = say.papers;
  const columns: Column[] = [
    {
      name: "plugged",
      head: words.plugged,
      text: ({ plugged }) => withUncertainty(plugged.rising, say),
    },
    {
      name: "falling",
      head: words.falling,
      text: ({ plugged }) => withUncertainty(plugged.falling, say),
    },
    {
      name: "specified",
      head: words.specified,
      text: ({ specified }) =>
        specified === null ? UNKNOWN : limitsText(tenths(specified), "deg", vacuumUnit, say),
    },
    {
      name: "unloaded",
      head: words.unloaded,
      text: ({ unloaded }) => rangeWithUncertainty(unloaded, say),
    },
    {
      name: "cruise",
      head: words.cruise(vacuumText(cruiseVacuumPa, vacuumUnit, say)),
      text: ({ cruise }) => withUncertainty(cruise, say),
    },
  ];
  const told = columns.filter(
    ({ name, text }) => wanted.includes(name) && marks.some((mark) => text(mark) !== UNKNOWN),
  );
  return {
    caption: words.caption,
    groups: [],
    columns: [words.engineRpm, ...told.map(({ head }) => head)].map((head) => ({
      head,
      align: "right",
    })),
    rows: marks.map((mark) => ({
      cells: [fixed(mark.engineRpm, 0, say), ...told.map(({ text }) => text(mark))],
      strong: mark.engineRpm === settings.atEngineRpm,
    })),
  };
}

export const UNKNOWN = "–";

function tenths({ min, max }: Limits): Limits {
  return { min: min && rounded(min, 1), max: max && rounded(max, 1) };
}

function withUncertainty(mark: Mark | null, say: Speech): string {
  return mark === null
    ? UNKNOWN
    : `${fixed(mark.markCrankshaftDeg, 1, say)} ${plusMinus(mark, say)}`;
}

export function rangeWithUncertainty(range: MarkRange | null, say: Speech = ENGLISH): string {
  return range === null ? UNKNOWN : `${rangeText(range, say)} ${plusMinus(range, say)}`;
}

function plusMinus(
  { expandedUncertaintyCrankshaftDeg: expanded }: Pick<Mark, "expandedUncertaintyCrankshaftDeg">,
  say: Speech,
): string {
  return expanded === 0 ? say.papers.marks.asSet : `± ${fixed(Math.max(expanded, 0.1), 1, say)}`;
}
