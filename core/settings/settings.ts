// What a workshop sets once for all: language, units, habits, and who it is. Pure.
import type { Language } from "../language.ts";
import type { Shaft } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";

/** In which the page shows vacuum. */
export const SHOWN_VACUUM_UNITS = ["kPa", "mbar", "inHg", "mmHg"] as const satisfies VacuumUnit[];
export type ShownVacuumUnit = (typeof SHOWN_VACUUM_UNITS)[number];

/** At which the page shows speed and advance. */
export const SHOWN_SHAFTS = ["distributor", "crankshaft"] as const satisfies Shaft[];

/** Printed at the head of the papers; empty texts are left out. */
export interface Workshop {
  readonly name: string;
  readonly address: string;
  readonly phone: string;
}

/** Null: as the program has it. */
export interface Settings {
  readonly language: Language;
  readonly vacuumUnit: ShownVacuumUnit;
  readonly shownShaft: Shaft;
  /** Distributor degrees either way, where a specification prints single figures without limits. */
  readonly toleranceDeg: number | null;
  /** Of a hold test where the unit's specification says nothing of it. */
  readonly holdSeconds: number | null;
  readonly holdDropMaxPa: number | null;
  /** The rig that the page begins with, as in Choices.rigs. */
  readonly firstRigId: string | null;
  readonly workshop: Workshop;
}

/** As told: with what is kept beside them. */
export interface KeptSettings extends Settings {
  readonly hasLogo: boolean;
}

export const FIRST_SETTINGS: Settings = {
  language: "en",
  vacuumUnit: "kPa",
  shownShaft: "distributor",
  toleranceDeg: null,
  holdSeconds: null,
  holdDropMaxPa: null,
  firstRigId: null,
  workshop: { name: "", address: "", phone: "" },
};
