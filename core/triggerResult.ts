// What a run tells of the trigger itself, as part of its result. Angles in distributor degrees.

/** What the readings tell of the trigger itself (core/judge/trigger.ts). */
export interface TriggerResult {
  /** Null for a trigger without dwell, or where no reading tells it. */
  readonly dwell: DwellResult | null;
  /** Null where no closing bounced. */
  readonly bounce: BounceResult | null;
  readonly missing: MissingResult;
  /** Null without a reading in which every lobe fired. */
  readonly scatter: ScatterResult | null;
}

export interface DwellResult {
  readonly atRpm: number;
  /** Of each lobe, of the slow reading that knows the dwell best; null for a lobe that does not tell it. */
  readonly lobesDeg: readonly (number | null)[];
  /** 95 % coverage, of one lobe. */
  readonly lobeExpandedUncertaintyDeg: number;
  /** From that reading on. */
  readonly overSpeed: Trend;
  /** One for each capsule; null where no reading tells it. */
  readonly overVacuum: readonly (Trend | null)[];
}

/** A figure at the low end of a sweep and its change to the high end. `x` in rpm or pascals. */
export interface Trend {
  readonly low: FigureAt;
  /** Null with fewer than two readings. */
  readonly change: FigureChange | null;
}

export interface FigureAt {
  readonly x: number;
  readonly valueDeg: number;
  /** 95 % coverage; for a largest value or an amplitude what chance alone keeps below in 95 of 100. */
  readonly expandedUncertaintyDeg: number;
}

export interface FigureChange {
  readonly high: FigureAt;
  readonly changeDeg: number;
  readonly expandedUncertaintyDeg: number;
  /** Whether the change is more than its uncertainty. */
  readonly isClear: boolean;
}

export interface BounceResult {
  /** Every speed read, in rising order; both branches together. */
  readonly at: readonly { readonly speedRpm: number; readonly share: number }[];
  /** The last speed without bounce (null: none) and the first with; null where it does not go on above. */
  readonly begins: { readonly afterRpm: number | null; readonly byRpm: number } | null;
}

/** Openings that did not come. Null where all came. */
export interface MissingResult {
  readonly overSpeed: MissingPlaces | null;
  readonly overVacuum: readonly (MissingPlaces | null)[];
}

export interface MissingPlaces {
  /** Lowest and highest place of the sweep where some were missing, rpm or pascals. */
  readonly fromX: number;
  readonly toX: number;
  /** Of the openings that should have come at these places. */
  readonly share: number;
  /** Places of the sweep below and above these, where none were missing. */
  readonly soundBelow: number;
  readonly soundAbove: number;
  /** Likewise between them. */
  readonly soundBetween: number;
  /** What the capsule had moved the plate by there; null over speed or where no reading tells it. */
  readonly plateDeg: { readonly from: number; readonly to: number } | null;
}

/** Over speed, rising. Null parts: too few lobes to tell. */
export interface ScatterResult {
  /** Largest deviation that stays with a lobe. */
  readonly fixed: Trend | null;
  /** Amplitude of what goes once round with the turn. */
  readonly oncePerTurn: Trend | null;
  /** Standard deviation of single events. */
  readonly random: Trend;
}
