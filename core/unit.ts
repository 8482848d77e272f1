// The unit under test as the rest of the program knows it: distributor degrees and rpm, pascals.
// Unit files with their many printed forms are converted to this once, in unitFile.ts.
import type { Direction, TriggerEdge } from "./codec/rigLines.ts";
import type { VacuumUnit } from "./units.ts";

export interface Unit {
  readonly description: string;
  readonly stampedNumber: string | null;
  /** True for the made-up units that ship as examples; said on the sheet. */
  readonly invented: boolean;
  /**
   * Nominal lobe angles in firing order, along the rotation, the first one 0. Distributor degrees. Those
   * that what is connected to the rig fires.
   */
  readonly lobeAnglesDeg: readonly number[];
  /** Seen looking down on the rotor. */
  readonly rotation: Direction;
  /** Crankshaft turns per distributor turn: 2 for most four-stroke engines, 1 for some breakers. */
  readonly driveRatio: number;
  readonly trigger: Trigger;
  /** Highest speed the user allows for this unit, or null for last specification speed + 10 %. */
  readonly speedMaxRpm: number | null;
  readonly capsules: readonly Capsule[];
  /** Of what is connected to the rig. */
  readonly dwellLimitsDeg: Limits | null;
  /** Null: one set of contacts, or none. */
  readonly contactSets: ContactSets | null;
  /** Largest allowed deviation of a lobe from its nominal spacing, either way. */
  readonly scatterMaxDeg: number | null;
  readonly speedBand: Band | null;
  /** Of the weights. Null where nobody has looked. */
  readonly springs: 1 | 2 | null;
  /** How the unit is timed on its engine; null where the specification does not say. */
  readonly engine: EngineSettings | null;
}

/** What feeds the capsule: the manifold, a port above the throttle plate, or nothing. */
export const VACUUM_PORTS = ["manifold", "ported", "none"] as const;
export type VacuumPort = (typeof VACUUM_PORTS)[number];

export interface EngineSettings {
  /** Crankshaft degrees before top dead centre; negative after it. */
  readonly initialTimingCrankshaftDeg: number;
  /** Engine speed at which it is set; 0 at rest. */
  readonly atEngineRpm: number;
  readonly vacuumPort: VacuumPort;
  /** Null where it is not known. */
  readonly idleEngineRpm: number | null;
  /** Rising order; null: as the unit's curve has it. */
  readonly engineSpeedsRpm: readonly number[] | null;
  /** Where the initial timing is printed; null where it was given by hand. */
  readonly source: string | null;
}

export interface Trigger {
  readonly kind: "contacts" | "magnetic" | "hall" | "optical";
  /** The edge of the rig's trigger input at which the unit fires (protocol clause 3.2.2). */
  readonly firingEdge: TriggerEdge;
}

/** Which of two sets of contacts is connected to the rig; a card between its contacts insulates the other. */
export const CONNECTED_CONTACTS = ["first", "second", "both"] as const;
export type ConnectedContacts = (typeof CONNECTED_CONTACTS)[number];

/** Two sets of contacts on one cam. */
export interface ContactSets {
  /** `overlapped`: both work on every lobe. `staggered`: each fires every second lobe. */
  readonly arrangement: "overlapped" | "staggered";
  readonly connected: ConnectedContacts;
  /** Of all lobes of the cam. */
  readonly lobeAnglesDeg: readonly number[];
  readonly dwellLimitsDeg: Readonly<Record<ConnectedContacts, Limits | null>>;
}

export interface Capsule {
  readonly name: string;
  readonly acts: "advance" | "retard";
  readonly band: Band | null;
  readonly hold: HoldLimits | null;
}

export interface HoldLimits {
  readonly vacuumPa: number;
  readonly seconds: number;
  readonly dropMaxPa: number;
}

/** At least one of the two is set. */
export interface Limits {
  readonly min: number | null;
  readonly max: number | null;
}

/** Which shaft's degrees or speed. */
export type Shaft = "distributor" | "crankshaft";

export type Branch = "rising" | "falling";

/** The specification of one sweep. `x` is speed in distributor rpm or vacuum in pascals. */
export interface Band {
  readonly rows: readonly BandRow[];
  readonly judgedOn: Branch | "both";
  /** Where the figures were printed. */
  readonly source: string;
  /** Half width in distributor degrees that the workshop added to nominal rows; null where none was. */
  readonly workshopToleranceDeg: number | null;
  /** A target of the user's own and no specification, which is said wherever it is used. */
  readonly isOwnTarget?: true;
  /** What its figures were said to be; null where rows differ or, in older records, nothing was kept. */
  readonly scales: PrintedScales | null;
}

export interface PrintedScales {
  readonly degrees: Shaft;
  /** Of its speeds or its vacuums. */
  readonly x: Shaft | VacuumUnit;
  readonly includesInitial: boolean;
}

/**
 * One printed row. Limits are advance in distributor degrees (negative for retard).
 * `at`: advance at x. `noneBelow`: no advance yet at x or below. `start`: advance begins between
 * fromX and toX. `end`: the largest advance, reached by x where x is given.
 */
export type BandRow =
  | {
      readonly kind: "at";
      readonly printed: string;
      readonly x: number;
      readonly limitsDeg: Limits;
    }
  | {
      readonly kind: "noneBelow";
      readonly printed: string;
      readonly x: number;
      readonly limitsDeg: Limits;
    }
  | {
      readonly kind: "start";
      readonly printed: string;
      readonly fromX: number;
      readonly toX: number;
    }
  | {
      readonly kind: "end";
      readonly printed: string;
      readonly x: number | null;
      readonly limitsDeg: Limits;
    };
