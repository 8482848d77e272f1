// A published curve for the image to be measured on.
import { pascalsFrom } from "../../core/units.ts";

/** Lotus Europa workshop manual, four-cylinder, non-emission engine: distributor rpm and degrees, mmHg. */
const SPEED = [
  [550, 0],
  [920, 7.8],
  [1000, 8],
  [2000, 13],
  [3000, 18],
] as const;
const VACUUM = [
  [100, 1.5],
  [200, 4.6],
  [300, 6.5],
  [400, 7],
] as const;

const SOURCE = "Lotus Europa workshop manual";
const JUDGED = { degrees: "distributor", judgedOn: "rising", source: SOURCE } as const;

/** Content of a unit file. */
export const PUBLISHED_UNIT = {
  description: SOURCE,
  lobes: 4,
  rotation: "cw",
  speed: {
    ...JUDGED,
    rpm: "distributor",
    rows: SPEED.map(([at, degrees]) => ({ at, degrees })),
  },
  capsules: [
    {
      ...JUDGED,
      name: "capsule",
      acts: "advance",
      vacuum: "mmHg",
      rows: VACUUM.map(([at, degrees]) => ({ at, degrees })),
    },
  ],
};

/** Of a scenario: a unit that moves just as printed. */
export const PUBLISHED_MECHANISM = {
  speedTable: [[0, 0], ...SPEED],
  vacuumTable: [[0, 0], ...VACUUM.map(([at, deg]) => [pascalsFrom(at, "mmHg") / 1000, deg])],
};

/** What a run says it measured where something is printed. */
export interface MeasuredRow {
  readonly about: string;
  readonly x: number | null;
  readonly measured: number | null;
}

/** Degrees from what is printed, of the points that were measured. */
export function offPrinted(rows: readonly MeasuredRow[]): readonly number[] {
  const printed = [
    ...SPEED.map(([rpm, deg]) => ({ about: "speed", x: rpm, deg })),
    ...VACUUM.map(([mmHg, deg]) => ({ about: "vacuum", x: pascalsFrom(mmHg, "mmHg"), deg })),
  ];
  return printed.flatMap(({ about, x, deg }) => {
    const row = rows.find((one) => one.about === about && Math.abs((one.x ?? Number.NaN) - x) < 1);
    const measured = row?.measured ?? null;
    return measured === null ? [] : [Math.abs(measured - deg)];
  });
}

export const PRINTED_POINTS = SPEED.length + VACUUM.length;
