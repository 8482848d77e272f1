// The settings as typed: figures as texts, until they are kept. Pure.
import type { Settings, ShownVacuumUnit } from "../../core/settings/settings.ts";
import { pascalsFrom, vacuumFromPascals } from "../../core/units.ts";
import { typedNumber } from "./cardForm.ts";

const FIGURES = ["toleranceDeg", "holdSeconds", "holdDropMax"] as const;
type FigureName = (typeof FIGURES)[number];

export type TypedSettings = Pick<Settings, "language" | "vacuumUnit" | "shownShaft"> &
  Settings["workshop"] &
  Record<FigureName, string> & { firstRigId: string };

/** `unit`: in which a drop of vacuum is typed. */
export function typedSettings(settings: Settings, unit: ShownVacuumUnit): TypedSettings {
  const { language, vacuumUnit, shownShaft, toleranceDeg, holdSeconds, holdDropMaxPa, firstRigId } =
    settings;
  const shown = (value: number | null) => (value === null ? "" : String(value));
  const drop = holdDropMaxPa && Number(vacuumFromPascals(holdDropMaxPa, unit).toFixed(3));
  return {
    language,
    vacuumUnit,
    shownShaft,
    toleranceDeg: shown(toleranceDeg),
    holdSeconds: shown(holdSeconds),
    holdDropMax: shown(drop),
    firstRigId: firstRigId ?? "",
    ...settings.workshop,
  };
}

/** What each may be at most, above 0; the server has the last word. */
const MOST: Readonly<Record<FigureName, number>> = {
  toleranceDeg: 5,
  holdSeconds: 600,
  holdDropMax: Number.POSITIVE_INFINITY,
};

/** The settings, or the first figure that is none. A decimal comma is one too. */
export function settingsFrom(
  typed: TypedSettings,
  unit: ShownVacuumUnit,
): Settings | { readonly wrong: FigureName } {
  const read = (name: FigureName) => typedNumber(typed[name]);
  const isWrong = (value: number | null, most: number) =>
    value !== null && !(value > 0 && value <= most);
  const wrong = FIGURES.find((name) => isWrong(read(name), MOST[name]));
  if (wrong !== undefined) return { wrong };
  const drop = read("holdDropMax");
  const { language, vacuumUnit, shownShaft, firstRigId, name, address, phone } = typed;
  return {
    language,
    vacuumUnit,
    shownShaft,
    toleranceDeg: read("toleranceDeg"),
    holdSeconds: read("holdSeconds"),
    holdDropMaxPa: drop === null ? null : Math.round(pascalsFrom(drop, unit)),
    firstRigId: firstRigId === "" ? null : firstRigId,
    workshop: { name, address, phone },
  };
}
