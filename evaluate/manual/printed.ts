// Figures that manuals print, typed as lines, with what they must become at the distributor shaft. Each
// expected value is worked out by hand: half the crankshaft's; NIST SP 811 (2008) appendix B.8 for vacuums
// (conventional inch of mercury 3386.389 Pa, millimetre 133.3224 Pa).
import type { File } from "../drawn/ground.ts";

/** Place in distributor rpm or pascals, least and most advance in distributor degrees. */
export type Expected =
  | readonly ["at" | "noneBelow" | "end", number | null, number | null, number | null]
  | readonly ["start", number, number];

export interface PrintedEntry {
  /** Where the figures stand. */
  readonly source: string;
  readonly about: "speed" | "vacuum";
  /** The block of a unit file as it is typed: its scales and its lines. */
  readonly typed: File;
  readonly driveRatio?: 1;
  readonly rows: readonly Expected[];
}

const DISTRIBUTOR = { degrees: "distributor", rpm: "distributor" };
const CRANKSHAFT = { degrees: "crankshaft", rpm: "crankshaft" };

const LOTUS = "Lotus Europa workshop manual, non-emission engine, advance table";
const ROOTES = "Rootes WSM.143/144 p. 72";
const DATSUN_19 = "Datsun 210 (1979) service manual p. EE-32, type -19";
const DATSUN_13 = "Datsun 210 (1979) service manual p. EE-32, type -13";
const PICK_UP = "Datsun Pick-up (1977) service manual p. EE-34, manual gearbox";
const TM = "TM 10-3930-623-12 ¶ 4-22";

const LOTUS_ROWS: readonly Expected[] = [
  ["noneBelow", 550, null, 1],
  ["at", 920, 6.8, 8.8],
  ["at", 1000, 7, 9],
  ["at", 2000, 12, 14],
  ["at", 3000, 17, 19],
];
const DATSUN_ROWS: readonly Expected[] = [
  ["at", 550, -1, 1],
  ["at", 2300, 13, 15],
];
const ROOTES_ROWS: readonly Expected[] = [["at", 1600, 5.25, 7]];

/** Rows without a printed tolerance have the workshop's, one distributor degree either way. */
export const PRINTED_ENTRIES: readonly PrintedEntry[] = [
  {
    source: LOTUS,
    about: "speed",
    typed: {
      ...DISTRIBUTOR,
      lines: "no advance below 550, 7.8 at 920, 8.0 at 1000, 13.0 at 2000, 18.0 at 3000",
    },
    rows: LOTUS_ROWS,
  },
  {
    source: `${LOTUS}, as a table of two columns`,
    about: "speed",
    typed: {
      degrees: "distributor",
      lines: [
        "under 550 distributor rpm 0°",
        "920 distributor rpm 7.8°",
        "1000 distributor rpm 8.0°",
        "2000 distributor rpm 13.0°",
        "3000 distributor rpm 18.0°",
      ],
    },
    rows: LOTUS_ROWS,
  },
  {
    source: `${LOTUS}, vacuum in inches`,
    about: "vacuum",
    typed: {
      vacuum: "inHg",
      degrees: "distributor",
      lines: "1.5 at 3.937; 4.6 at 7.874; 6.5 at 11.811; 7.0 at 15.748",
    },
    rows: [
      ["at", 13332.213, 0.5, 2.5],
      ["at", 26664.427, 3.6, 5.6],
      ["at", 39996.64, 5.5, 7.5],
      ["at", 53328.854, 6, 8],
    ],
  },
  {
    source: `${LOTUS}, vacuum in whole millimetres`,
    about: "vacuum",
    typed: {
      lines:
        "1.5° distributor at 100 mm Hg, 4.6° distributor at 200 mm Hg, 6.5° distributor at 300 mm Hg, max 7.0° distributor at 400 mm Hg",
    },
    rows: [
      ["at", 13332.24, 0.5, 2.5],
      ["at", 26664.48, 3.6, 5.6],
      ["at", 39996.72, 5.5, 7.5],
      ["end", 53328.96, 6, 8],
    ],
  },
  {
    source: `${ROOTES} (V8)`,
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: "5¼–7 at 1600" },
    rows: ROOTES_ROWS,
  },
  {
    source: `${ROOTES} (V8), the other scale`,
    about: "speed",
    typed: { lines: "10½ to 14 crankshaft degrees at 3200 engine rpm" },
    rows: ROOTES_ROWS,
  },
  {
    source: `${ROOTES} (V8), typed without fractions`,
    about: "speed",
    typed: { lines: ["5 1/4 to 7 distributor at 1600 distributor r.p.m."] },
    rows: ROOTES_ROWS,
  },
  {
    source: `${ROOTES}, worked example`,
    about: "speed",
    typed: { includesInitialDeg: 6, lines: "18° before top dead centre at 3200 engine rpm" },
    rows: [["at", 1600, 5, 7]],
  },
  {
    source: `${DATSUN_19}, as printed`,
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: "0/550, 14/2300" },
    rows: DATSUN_ROWS,
  },
  {
    source: DATSUN_19,
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: "0 at 550, 14 at 2300" },
    rows: DATSUN_ROWS,
  },
  {
    source: `${DATSUN_19}, the other scale`,
    about: "speed",
    typed: { ...CRANKSHAFT, lines: "0 at 1100, 28 at 4600" },
    rows: DATSUN_ROWS,
  },
  {
    source: DATSUN_19,
    about: "vacuum",
    typed: { degrees: "distributor", lines: "starts at 105 mmHg (4.13 inHg), 9 at 250 mmHg" },
    rows: [
      ["noneBelow", 13998.852, null, 1],
      ["at", 33330.6, 8, 10],
    ],
  },
  {
    source: `${DATSUN_19}, vacuum in inches`,
    about: "vacuum",
    typed: { degrees: "distributor", lines: "starts 4.13 in. Hg, 9/9.84 in. Hg" },
    rows: [
      ["noneBelow", 13985.787, null, 1],
      ["at", 33322.068, 8, 10],
    ],
  },
  {
    source: DATSUN_13,
    about: "vacuum",
    typed: { degrees: "distributor", lines: "starts at 170 mmHg; 3/225 mmHg (8.86 inHg)" },
    rows: [
      ["noneBelow", 22664.808, null, 1],
      ["at", 29997.54, 2, 4],
    ],
  },
  {
    source: `${PICK_UP}, as printed`,
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: ["0/550", "11/2300"] },
    rows: [
      ["at", 550, -1, 1],
      ["at", 2300, 10, 12],
    ],
  },
  {
    source: `${PICK_UP}, as printed`,
    about: "vacuum",
    typed: { vacuum: "mmHg", degrees: "distributor", lines: "0/150, 3/250" },
    rows: [
      ["at", 19998.36, -1, 1],
      ["at", 33330.6, 2, 4],
    ],
  },
  {
    source: TM,
    about: "speed",
    typed: { ...CRANKSHAFT, lines: "full advance 15–19 at 2000" },
    rows: [["end", 1000, 7.5, 9.5]],
  },
  {
    source: `${TM}, its scales in the line`,
    about: "speed",
    typed: { lines: "full advance 15-19 crankshaft degrees at 2000 engine rpm" },
    rows: [["end", 1000, 7.5, 9.5]],
  },
  // The forms that follow have invented figures.
  {
    source: "invented: both scales in the line",
    about: "speed",
    typed: { lines: "no advance below 400 distributor rpm, crank 10–14 at 2000 engine" },
    rows: [
      ["noneBelow", 400, null, 1],
      ["at", 1000, 5, 7],
    ],
  },
  {
    source: "invented: degrees of one shaft at speeds of the other",
    about: "speed",
    typed: {
      degrees: "distributor",
      rpm: "crankshaft",
      lines: "starts between 800 and 1000, 8 ± 1 at 2000, 10 max by 3000",
    },
    rows: [
      ["start", 400, 500],
      ["at", 1000, 7, 9],
      ["end", 1500, 9, 11],
    ],
  },
  {
    source: "invented: a tolerance in crankshaft degrees",
    about: "speed",
    typed: { ...CRANKSHAFT, toleranceDeg: 2, lines: "12 at 2000, 20 ± 3 at 3000" },
    rows: [
      ["at", 1000, 5, 7],
      ["at", 1500, 8.5, 11.5],
    ],
  },
  {
    source: "invented: a breaker at crankshaft speed, as the unit file says",
    about: "speed",
    driveRatio: 1,
    typed: { ...CRANKSHAFT, lines: "12 at 2000" },
    rows: [["at", 2000, 11, 13]],
  },
  {
    source: "invented: a capsule in crankshaft degrees",
    about: "vacuum",
    typed: {
      lines:
        "none below 5 inHg, 8–12 crankshaft degrees at 10 inHg, 16 crank at 40 kPa, 20 crank max",
    },
    rows: [
      ["noneBelow", 16931.945, null, 1],
      ["at", 33863.89, 4, 6],
      ["at", 40000, 7, 9],
      ["end", null, 9, 11],
    ],
  },
  {
    source: "invented: centimetres and millibars",
    about: "vacuum",
    typed: { degrees: "distributor", lines: "4 ± ½ at 100 mbar, 6 at 20 cm Hg" },
    rows: [
      ["at", 10000, 3.5, 4.5],
      ["at", 26664.48, 5, 7],
    ],
  },
  {
    source: "invented: a capsule that retards",
    about: "vacuum",
    typed: {
      acts: "retard",
      vacuum: "inHg",
      degrees: "crankshaft",
      lines: "no retard below 3, 8 ± 2 at 6",
    },
    rows: [
      ["noneBelow", 10159.167, -1, null],
      ["at", 20318.334, -5, -3],
    ],
  },
];

/** Lines whose scale is in doubt, and the field that must be asked for. */
export interface Doubt {
  readonly about: "speed" | "vacuum";
  readonly typed: File;
  /** A word of the question. */
  readonly asks: string;
}

export const DOUBTS: readonly Doubt[] = [
  {
    about: "vacuum",
    typed: { degrees: "distributor", vacuum: "inHg", lines: "4 retard at 10" },
    asks: "Which is right?",
  },
  { about: "speed", typed: { ...DISTRIBUTOR, lines: "4 retard at 1000" }, asks: "retard" },
  { about: "speed", typed: { lines: "0 at 550, 14 at 2300" }, asks: "`degrees`" },
  { about: "speed", typed: { degrees: "distributor", lines: "5¼–7 at 1600" }, asks: "`rpm`" },
  { about: "speed", typed: { rpm: "distributor", lines: "5¼–7 at 1600" }, asks: "`degrees`" },
  { about: "speed", typed: { lines: "crank 10–14 at 2000" }, asks: "`rpm`" },
  { about: "speed", typed: { lines: "10–14 at 2000 engine" }, asks: "`degrees`" },
  { about: "speed", typed: { lines: "no advance below 400" }, asks: "`rpm`" },
  {
    about: "speed",
    typed: { lines: "crank 10–14 at 2000 engine, 20 at 3000" },
    asks: "`degrees`",
  },
  {
    about: "speed",
    typed: { rpm: "distributor", toleranceDeg: 2, lines: "no advance below 400" },
    asks: "`degrees`",
  },
  {
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: "15–19 crank at 2000 engine rpm" },
    asks: "Which is right?",
  },
  {
    about: "speed",
    typed: { ...DISTRIBUTOR, lines: "14 at 4600 engine rpm" },
    asks: "Which is right?",
  },
  {
    about: "speed",
    typed: { rpm: "crankshaft", lines: "18° before top dead centre at 3200" },
    asks: "`includesInitialDeg`",
  },
  { about: "speed", typed: { ...DISTRIBUTOR, lines: "9 at 250 mmHg" }, asks: "a vacuum" },
  { about: "speed", typed: { ...DISTRIBUTOR, lines: "14 at 2,300" }, asks: "comma" },
  { about: "speed", typed: { ...DISTRIBUTOR, lines: "14 cam at 2300" }, asks: "is no line" },
  { about: "speed", typed: { ...DISTRIBUTOR, lines: "14 at 2300 (4600)" }, asks: "two units" },
  { about: "vacuum", typed: { lines: "9 at 250 mmHg" }, asks: "`degrees`" },
  { about: "vacuum", typed: { degrees: "distributor", lines: "9 at 250" }, asks: "`vacuum`" },
  { about: "vacuum", typed: { degrees: "distributor", lines: "9/250 mm" }, asks: "is no line" },
  { about: "vacuum", typed: { degrees: "distributor", lines: "6 at 10 in" }, asks: "is no line" },
  {
    about: "vacuum",
    typed: { degrees: "distributor", lines: "starts at 105 mmHg, 9 at 250" },
    asks: "`vacuum`",
  },
  {
    about: "vacuum",
    typed: { degrees: "distributor", lines: "9 at 250 inHg (9.84 mmHg)" },
    asks: "not the same",
  },
  {
    about: "vacuum",
    typed: { degrees: "distributor", vacuum: "mmHg", lines: "9 at 9.84 inHg" },
    asks: "Which is right?",
  },
  {
    about: "vacuum",
    typed: { degrees: "distributor", vacuum: "inHg", lines: "9 at 2000 rpm" },
    asks: "a speed",
  },
];
