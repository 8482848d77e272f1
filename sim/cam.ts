// Where round the turn the unit's trigger changes: the flanks of cam, magnet or vane.
import type { ScenarioUnit } from "./scenario.ts";

/** One way round: positions in revolutions, ascending in [0, 1), and the edge at each. */
export interface Flanks {
  readonly positions: Float64Array;
  /** 0 for edge a, 1 for edge b. */
  readonly edges: Uint8Array;
}

/**
 * Flanks as the shaft meets them, `sense` 1 the way the unit is made for, −1 the other way, where
 * lobes come in reverse order and a flank that opened the contacts closes them.
 */
export function flanks(unit: ScenarioUnit, couplingDeg: number, sense: 1 | -1): Flanks {
  const contacts = unit.triggerKind === "contacts";
  // All lobes of a cam are of one form, so the contacts stay open for the same angle at each.
  const openDeg = 360 / unit.lobeAnglesDeg.length - unit.dwellDeg;
  const afterFiringDeg = contacts ? (unit.firingEdge === "a" ? openDeg : -openDeg) : unit.widthDeg;
  const list: { position: number; edge: number }[] = [];
  const put = (deg: number, edge: "a" | "b") => {
    const turns = (sense * (deg + couplingDeg)) / 360;
    const forward = edge === "a" ? 0 : 1;
    list.push({ position: turns - Math.floor(turns), edge: sense === 1 ? forward : 1 - forward });
  };
  for (const deg of unit.lobeAnglesDeg) {
    put(deg, unit.firingEdge);
    put(deg + afterFiringDeg, unit.firingEdge === "a" ? "b" : "a");
  }
  list.sort((one, other) => one.position - other.position);
  return {
    positions: Float64Array.from(list, ({ position }) => position),
    edges: Uint8Array.from(list, ({ edge }) => edge),
  };
}
