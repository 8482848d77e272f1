// A spring as it is typed, and the drawer with it. Pure.

import { csvText } from "../../core/csv/text.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { type DRAWER_COLUMNS, drawerCsv, drawerFromCsv } from "../../core/drawer/drawerFile.ts";

export const SPRING_FIELDS = [
  "name",
  "quantity",
  "free_length_mm",
  "wire_diameter_mm",
  "outside_diameter_mm",
  "active_coils",
  "loop_length_mm",
  "initial_tension_n",
  "rate_n_per_m",
  "rate_uncertainty_n_per_m",
] as const satisfies readonly (typeof DRAWER_COLUMNS)[number][];

export type SpringField = (typeof SPRING_FIELDS)[number];
export type TypedSpring = Record<SpringField, string>;

export const EMPTY_SPRING: TypedSpring = {
  name: "",
  quantity: "1",
  free_length_mm: "",
  wire_diameter_mm: "",
  outside_diameter_mm: "",
  active_coils: "",
  loop_length_mm: "",
  initial_tension_n: "",
  rate_n_per_m: "",
  rate_uncertainty_n_per_m: "",
};

/** The drawer's CSV with the typed spring at its end. @throws TABLE_INVALID naming the field */
export function withSpring(
  springs: readonly DrawerSpring[],
  typed: TypedSpring,
  name: string,
): string {
  const cells = SPRING_FIELDS.map((field) => {
    const cell = typed[field].trim();
    return field === "name" ? cell : cell.replace(",", ".");
  });
  return joined(springs, drawerFromCsv(csvText([SPRING_FIELDS, cells]), name));
}

/** The drawer's CSV with another file's springs added. @throws TABLE_INVALID */
export function withFile(springs: readonly DrawerSpring[], text: string, name: string): string {
  return joined(springs, drawerFromCsv(text, name));
}

export function withoutSpring(springs: readonly DrawerSpring[], name: string): string {
  return drawerCsv(springs.filter((one) => one.name !== name));
}

/** Read once more, so that a name that comes twice is found. */
function joined(springs: readonly DrawerSpring[], more: readonly DrawerSpring[]): string {
  const text = drawerCsv([...springs, ...more]);
  drawerFromCsv(text, "The drawer");
  return text;
}
