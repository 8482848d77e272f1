// Where round the turn the rig's shaft meets the flanks of the unit's cam, magnet or vane.
import type { Flank } from "./lobes.ts";

/** One way round: positions in revolutions, ascending in [0, 1), and the edge at each. */
export interface Flanks {
  readonly positions: Float64Array;
  /** 0 for edge a, 1 for edge b. */
  readonly edges: Uint8Array;
  /** 0 for a flank that fires the right way round, 1 for the other one. */
  readonly roles: Uint8Array;
}

/**
 * Flanks as the shaft meets them, `sense` 1 the way the unit is made for, −1 the other way, where
 * lobes come in reverse order and a flank that opened the contacts closes them.
 */
export function flanks(unit: readonly Flank[], couplingDeg: number, sense: 1 | -1): Flanks {
  const list = unit.map(({ deg, edge, fires }) => {
    const turns = (sense * (deg + couplingDeg)) / 360;
    const forward = edge === "a" ? 0 : 1;
    return {
      position: turns - Math.floor(turns),
      edge: sense === 1 ? forward : 1 - forward,
      role: fires ? 0 : 1,
    };
  });
  list.sort((one, other) => one.position - other.position);
  return {
    positions: Float64Array.from(list, ({ position }) => position),
    edges: Uint8Array.from(list, ({ edge }) => edge),
    roles: Uint8Array.from(list, ({ role }) => role),
  };
}
