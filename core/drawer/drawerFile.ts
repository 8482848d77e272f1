// The spring drawer as CSV: read with complaints by row and column, and written.

import { type TableRow, tableRows } from "../csv/table.ts";
import { csvText, rounded } from "../csv/text.ts";
import { said } from "../said.ts";
import type { DrawerSpring, MeasuredRate, SpringWire } from "./drawer.ts";
import { MUSIC_WIRE_SHEAR_MODULUS_PA } from "./spring.ts";

/** Columns of a drawer file, its units in their names. `_n_per_mm` may stand for `_n_per_m`. */
export const DRAWER_COLUMNS = [
  "name",
  "quantity",
  "wire_diameter_mm",
  "mean_coil_diameter_mm",
  "outside_diameter_mm",
  "active_coils",
  "free_length_mm",
  "initial_tension_n",
  "loop_length_mm",
  "shear_modulus_gpa",
  "rate_n_per_m",
  "rate_uncertainty_n_per_m",
  "rate_n_per_mm",
  "rate_uncertainty_n_per_mm",
] as const;

const MM = 1e-3;
const GPA = 1e9;
const NAME_LENGTH_MAX = 60;
/** Least spring index D/d that can be wound. From memory. */
const INDEX_MIN = 3;

/** @throws TABLE_INVALID naming row and column */
export function drawerFromCsv(text: string, name: string): DrawerSpring[] {
  const rows = tableRows(text, name, DRAWER_COLUMNS);
  const names = new Set<string>();
  return rows.map((row) => {
    const spring = springFrom(row);
    if (names.has(spring.name)) row.fail("name", said('"{}" comes twice', spring.name));
    names.add(spring.name);
    return spring;
  });
}

function springFrom(row: TableRow): DrawerSpring {
  const name = row.text("name") ?? row.fail("name", said("a name is missing"));
  if (name.length > NAME_LENGTH_MAX)
    row.fail("name", said("longer than {} letters", NAME_LENGTH_MAX));
  const quantity = row.needed("quantity", 0, 100_000);
  if (!Number.isInteger(quantity)) row.fail("quantity", said("{} is not a whole number", quantity));
  const wire = wireFrom(row);
  const measuredRate = measuredRateFrom(row);
  if (wire === null && measuredRate === null) {
    row.fail("wire_diameter_mm", said("neither wire and coils nor a measured rate is given"));
  }
  return {
    name,
    quantity,
    freeLengthM: row.needed("free_length_mm", 2, 200) * MM,
    initialTensionN: row.number("initial_tension_n", 0, 100) ?? 0,
    loopLengthM: (row.number("loop_length_mm", 0, 50) ?? 0) * MM,
    wire,
    measuredRate,
  };
}

/** Null where the row says nothing of wire or coils. */
function wireFrom(row: TableRow): SpringWire | null {
  const wireMm = row.number("wire_diameter_mm", 0.1, 5);
  const meanMm = row.number("mean_coil_diameter_mm", 1, 50);
  const outsideMm = row.number("outside_diameter_mm", 1, 50);
  const activeCoils = row.number("active_coils", 1, 200);
  const modulusGPa = row.number("shear_modulus_gpa", 20, 120);
  if ([wireMm, meanMm, outsideMm, activeCoils].every((value) => value === null)) return null;
  if (wireMm === null) return row.fail("wire_diameter_mm", said("is missing beside the coils"));
  if (activeCoils === null) return row.fail("active_coils", said("is missing beside the wire"));
  if ((meanMm === null) === (outsideMm === null)) {
    row.fail("mean_coil_diameter_mm", said("give one of this and outside_diameter_mm"));
  }
  const coilMm = meanMm ?? (outsideMm as number) - wireMm;
  if (coilMm < INDEX_MIN * wireMm) {
    row.fail(
      meanMm === null ? "outside_diameter_mm" : "mean_coil_diameter_mm",
      said(
        "the mean coil diameter, {} mm, is less than {} times the wire, {} mm",
        rounded(coilMm, 3),
        INDEX_MIN,
        wireMm,
      ),
    );
  }
  return {
    wireDiameterM: wireMm * MM,
    meanCoilDiameterM: coilMm * MM,
    activeCoils,
    shearModulusPa: modulusGPa === null ? MUSIC_WIRE_SHEAR_MODULUS_PA : modulusGPa * GPA,
  };
}

const RATE_MAX_N_PER_M = 1e6;

function measuredRateFrom(row: TableRow): MeasuredRate | null {
  const rates = (["n_per_m", "n_per_mm"] as const).flatMap((unit) => {
    const scale = unit === "n_per_m" ? 1 : 1000;
    const max = RATE_MAX_N_PER_M / scale;
    const rate = row.number(`rate_${unit}`, 0, max);
    const uncertainty = row.number(`rate_uncertainty_${unit}`, 0, max);
    if (rate === null && uncertainty === null) return [];
    if (rate === null) return row.fail(`rate_${unit}`, said("is missing beside its uncertainty"));
    if (rate === 0) row.fail(`rate_${unit}`, said("a spring without rate is none"));
    if (uncertainty === null || uncertainty === 0) {
      return row.fail(
        `rate_uncertainty_${unit}`,
        said("a measured rate needs its uncertainty, of 95 % coverage"),
      );
    }
    return [{ rateNPerM: rate * scale, expandedUncertaintyNPerM: uncertainty * scale }];
  });
  if (rates.length > 1) row.fail("rate_n_per_mm", said("the rate is given twice"));
  return rates[0] ?? null;
}

const WRITTEN = DRAWER_COLUMNS.filter(
  (column) => column !== "outside_diameter_mm" && !column.endsWith("_n_per_mm"),
);

/** What `drawerFromCsv` reads, in millimetres and newtons a metre, to the nanometre. */
export function drawerCsv(springs: readonly DrawerSpring[]): string {
  const millimetres = (metres: number) => rounded(metres / MM, 6);
  return csvText([
    WRITTEN,
    ...springs.map(({ wire, measuredRate, ...spring }) => [
      spring.name,
      spring.quantity,
      wire && millimetres(wire.wireDiameterM),
      wire && millimetres(wire.meanCoilDiameterM),
      wire?.activeCoils ?? null,
      millimetres(spring.freeLengthM),
      spring.initialTensionN,
      millimetres(spring.loopLengthM),
      wire && rounded(wire.shearModulusPa / GPA, 6),
      measuredRate?.rateNPerM ?? null,
      measuredRate?.expandedUncertaintyNPerM ?? null,
    ]),
  ]);
}
