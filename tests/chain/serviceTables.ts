// Advance tables printed in service literature: numbers and where they stand. Speed as distributor rpm and
// degrees, vacuum as mmHg and distributor degrees.
export const SERVICE_TABLES = [
  {
    source: "Lotus Europa workshop manual, four-cylinder, non-emission engine, advance table",
    speed: [
      [550, 0],
      [920, 7.8],
      [1000, 8],
      [2000, 13],
      [3000, 18],
    ],
    vacuum: [
      [100, 1.5],
      [200, 4.6],
      [300, 6.5],
      [400, 7],
    ],
  },
  {
    source: "Datsun 210 (1979) service manual p. EE-32, type -19",
    speed: [
      [550, 0],
      [2300, 14],
    ],
    vacuum: [
      [105, 0],
      [250, 9],
    ],
  },
  {
    source: "Datsun Pick-up (1977) service manual p. EE-34, manual gearbox",
    speed: [
      [550, 0],
      [2300, 11],
    ],
    vacuum: [
      [150, 0],
      [250, 3],
    ],
  },
] as const;

/** How far a rising reading may be off at a printed row. */
export const LIMIT_DEG = 0.05;
