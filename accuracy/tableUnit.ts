// Units that follow a table of advance exactly, with the specification of that table: the truth is the table itself.

import { Table } from "../sim/advance.ts";
import type { Draw } from "./draw.ts";

export interface TableUnit {
  readonly lobes: number;
  readonly unitFile: unknown;
  /** Of a scenario: unit and mechanism. */
  readonly scenario: Readonly<Record<string, unknown>>;
  /** Distributor degrees at a distributor speed. */
  advanceDeg(rpm: number): number;
}

/** Starts, bends and ends at random. */
export function drawTableUnit(draw: Draw, lobes: number): TableUnit {
  const start = 10 * draw.whole(30, 60);
  const knee = start + 10 * draw.whole(20, 60);
  const end = knee + 10 * draw.whole(30, 120);
  const kneeDeg = draw.uniform(4, 9);
  const points: [number, number][] = [
    [0, 0],
    [start, 0],
    [knee, kneeDeg],
    [end, kneeDeg + draw.uniform(2, 6)],
  ];
  const table = new Table(points);
  const rotation = draw.oneOf(["cw", "ccw"]);
  return {
    lobes,
    advanceDeg: (rpm) => table.at(rpm),
    unitFile: {
      description: "table unit",
      lobes,
      rotation,
      speed: {
        degrees: "distributor",
        rpm: "distributor",
        judgedOn: "both",
        source: "drawn",
        toleranceDeg: 1,
        rows: [
          { noneBelow: start },
          { at: knee, degrees: kneeDeg },
          { endBy: end, degrees: table.at(end) },
        ],
      },
    },
    scenario: { unit: { lobes, rotation }, mechanism: { speedTable: points } },
  };
}
