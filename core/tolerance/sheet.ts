// A tolerance study on paper: what was varied, the curves' spread against the band, every printed row. Pure.
import { barsOf, extentOf, roundAxis } from "../sheet/axes.ts";
import { measuredNumber, unitSign } from "../sheet/figures.ts";
import type { Block, Fact, Line, Picture, Sheet, Table } from "../sheet/model.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Unit } from "../unit.ts";
import { vacuumFromPascals } from "../units.ts";
import type { CurveSpread, RowSpread, Share } from "./study.ts";

export interface StudySubject {
  readonly unit: Unit;
  /** Which of its capsules was measured, from 0. */
  readonly capsule: number;
  readonly scenario: string;
  /** Units that were measured to the end. */
  readonly units: number;
  readonly within: number;
  readonly rows: readonly RowSpread[];
  readonly curves: readonly CurveSpread[];
  /** What was varied, and by how much. */
  readonly spreads: readonly Fact[];
}

export const SIMULATED =
  "Simulated: every unit was drawn at random and measured on the stand-in rig. No real unit was measured, and the spreads are assumptions of whoever asked.";

export function studySheet(subject: StudySubject): Sheet {
  const { unit, scenario, units, within, spreads, rows } = subject;
  const title = `Tolerance study of ${unit.description}`;
  const pictures = subject.curves.flatMap((curve) => pictureOf(subject, curve));
  const blocks: (Block | null)[] = [
    { kind: "title", text: title, aside: "" },
    { kind: "banner", text: "SIMULATED.", detail: SIMULATED },
    {
      kind: "facts",
      facts: [
        { label: "Scenario", value: scenario },
        { label: "Units", value: String(units) },
        { label: "Within in all rows", value: units === 0 ? "—" : `${within} of ${units}` },
        ...spreads,
      ],
    },
    { kind: "pictures", pictures },
    {
      kind: "paragraph",
      text: "Solid: the middle of the units (half of them lie below). Dash-dotted: 5 and 95 of 100 lie below. Grey: limits as printed.",
    },
    rows.length === 0 ? null : { kind: "tables", tables: [rowsTable(rows)] },
    {
      kind: "paragraph",
      text: "Each share with the interval in which the share of all such units lies with 95 %. A row is within only where it is proved with the reading's uncertainty; the figures spread by that uncertainty too.",
    },
  ];
  return {
    title,
    language: "en",
    paper: "a4",
    print: "usual",
    blocks: blocks.filter((block) => block !== null),
    foot: `${SIMULATED} ${title}.`,
  };
}

function pictureOf({ unit, capsule }: StudySubject, curve: CurveSpread): Picture[] {
  const { places, about, branch } = curve;
  if (places.length === 0) return [];
  const { picture: words } = ENGLISH.verdicts;
  const measured = unit.capsules[capsule];
  const isSpeed = about === "speed";
  const band = (isSpeed ? unit.speedBand : measured?.band) ?? null;
  const inPicture = isSpeed ? (x: number) => x : (x: number) => vacuumFromPascals(x, "kPa");
  const extent = extentOf(band);
  const lastX = Math.max(...places.map(({ x }) => x), ...extent.xs);
  // A hundredth of a degree below nothing is no reason for a lower half of the picture.
  const degs = places.flatMap(({ p5, p95 }) => [p5, p95]).map((deg) => Math.round(10 * deg) / 10);
  const x = {
    label: isSpeed ? words.distributorRpm : words.vacuumIn("kPa"),
    ...roundAxis([inPicture(lastX)], 12),
    crankshaft: null,
  };
  const line = (look: Line["look"], of: "p5" | "p50" | "p95"): Line => ({
    look,
    points: places.map((place) => [inPicture(place.x), place[of]]),
  });
  return [
    {
      title: `${isSpeed ? words.speed : words.vacuum(measured?.name ?? "")}, ${branch}`,
      shows: ["middle of the units, and where 5 and 95 of 100 lie below"],
      width: "full",
      low: true,
      x,
      y: {
        label: words.distributorDegrees,
        ...roundAxis([...degs, ...extent.degs], 5),
        crankshaft: null,
      },
      lines: [line("fitted", "p5"), line("fitted", "p95"), line("trace", "p50")],
      bars: barsOf(band, [], lastX, x.max, inPicture),
      marks: [],
    },
  ];
}

function rowsTable(rows: readonly RowSpread[]): Table {
  const left = (head: string) => ({ head, align: "left" }) as const;
  const right = (head: string) => ({ head, align: "right" }) as const;
  return {
    caption: "Printed rows and limits",
    groups: [],
    columns: [
      left("row"),
      ...["within, of 100", "outside", "unproven", "5 % below", "50 %", "95 %"].map(right),
    ],
    rows: rows.map((row) => ({ cells: cellsOf(row), strong: row.outside > 0 })),
  };
}

function cellsOf(row: RowSpread): string[] {
  const { unit, measured } = row;
  const figure = (value: number | undefined) =>
    value === undefined ? "—" : `${measuredNumber(value, unit, "kPa")}${unitSign(unit, "kPa")}`;
  return [
    row.branch === null ? row.printed : `${row.printed} (${row.branch})`,
    percentText(row.shareWithin),
    String(row.outside),
    String(row.unproven),
    figure(measured?.p5),
    figure(measured?.p50),
    figure(measured?.p95),
  ];
}

function percentText({ share, low, high }: Share): string {
  const percent = (value: number) => (100 * value).toFixed(0);
  // One figure with its interval: no line ends within.
  return `${percent(share)}\u00a0(${percent(low)}\u2060–\u2060${percent(high)})`;
}
