// Why lobes do not fire at their places: cam, bush, shaft or the rig's coupling, each with its probability.
import type { Reading } from "../documents.ts";
import { shares, whitened } from "./evidence.ts";
import type { FindingKind } from "./finding.ts";

export interface LobeErrors {
  /** Later than its place, of each lobe; the mean of all is nothing. */
  readonly deviationsDeg: readonly number[];
  readonly standardUncertaintyDeg: number;
  /** Of each lobe less the mean of all; null without contacts or where a lobe does not tell it. */
  readonly dwellsDeg: readonly number[] | null;
  readonly dwellStandardUncertaintyDeg: number;
  /** Where each lobe stands, after the index. */
  readonly anglesDeg: readonly number[];
  /** Standard deviation of single events about their lobes' means, and its standard uncertainty. */
  readonly randomDeg: number;
  readonly randomStandardUncertaintyDeg: number;
  /** Whether the rig's coupling was checked, so that what is left is hardly its. */
  readonly isCouplingKnown: boolean;
}

export type LobeCause = Extract<
  FindingKind,
  "shaft-bush-worn" | "shaft-bent" | "cam-worn" | "coupling-runout"
>;

/**
 * How sound units differ, standard deviations: a lobe with both its flanks, and each closing by
 * itself. Common practice, no source.
 */
const SOUND_DEG = 0.18;
const SOUND_CLOSING_DEG = 0.3;
const LEAST_DEG = 0.02;
/** Spread of single events: sound bushes, and what a worn one adds. Common practice, no source. */
const SOUND_RANDOM = { median: 0.02, spread: 0.8 } as const;
const WORN_RANDOM = { median: 0.5, spread: 0.8 } as const;
/** A bush shifts lobes by its play, evenly either way. */
const BUSH_SHARE = 1 / Math.sqrt(3);
const SIZES_DEG = [0.6, 1.2, 2.4] as const;
const PRIOR = {
  sound: 0.7,
  "shaft-bush-worn": 0.05,
  "shaft-bent": 0.03,
  "cam-worn": 0.05,
  "coupling-runout": 0.04,
} as const;
/** A coupling that was checked and corrected for. */
const CHECKED_SHARE = 0.05;
/** Any mean of all is as good as any other. */
const ANY_MEAN_DEG = 30;

/** What may be so at once: a worn bush with all else, and a lobe worn on a shaft or coupling that runs out. */
const TOGETHER: readonly (readonly LobeCause[])[] = [
  [],
  ["shaft-bent"],
  ["coupling-runout"],
  ["cam-worn"],
  ["shaft-bush-worn"],
  ["shaft-bush-worn", "shaft-bent"],
  ["shaft-bush-worn", "coupling-runout"],
  ["shaft-bush-worn", "cam-worn"],
  ["cam-worn", "shaft-bent"],
  ["cam-worn", "coupling-runout"],
];

export interface LobeCauses {
  /** Of each cause, by itself or with others. */
  readonly probability: Readonly<Record<LobeCause, number>>;
  /** That any of them is so. */
  readonly any: number;
  /** Beside the likeliest ones, what these lobes would not show. */
  readonly unseen: readonly LobeCause[];
}

/** Readings as likely with a cause as without it, within this logarithm, say nothing of it. */
const SAYS_NOTHING = 1;

/** Null with a single lobe. */
export function lobeCauses(errors: LobeErrors): LobeCauses | null {
  const { deviationsDeg, dwellsDeg } = errors;
  const lobes = deviationsDeg.length;
  if (lobes < 2) return null;
  const values = [...deviationsDeg, ...(dwellsDeg ?? [])];
  const hypotheses = TOGETHER.map((causes) => ({ causes, log: logOfAll(causes) }));
  const prior = (cause: LobeCause) =>
    (PRIOR[cause] * (cause === "coupling-runout" && errors.isCouplingKnown ? CHECKED_SHARE : 1)) /
    PRIOR.sound;
  const parts = shares(
    hypotheses.map(
      ({ causes, log }) => log + causes.reduce((sum, one) => sum + Math.log(prior(one)), 0),
    ),
  );
  const of = (cause: LobeCause) =>
    hypotheses.reduce(
      (sum, { causes }, i) => sum + (causes.includes(cause) ? (parts[i] as number) : 0),
      0,
    );
  const best = hypotheses[parts.indexOf(Math.max(...parts))] as (typeof hypotheses)[number];
  const saysNothing = hypotheses.filter(
    ({ causes, log }) =>
      best.causes.length > 0 &&
      causes.length === best.causes.length + 1 &&
      best.causes.every((one) => causes.includes(one)) &&
      Math.abs(log - best.log) < SAYS_NOTHING,
  );
  return {
    probability: {
      "shaft-bush-worn": of("shaft-bush-worn"),
      "shaft-bent": of("shaft-bent"),
      "cam-worn": of("cam-worn"),
      "coupling-runout": of("coupling-runout"),
    },
    any: 1 - (parts[0] as number),
    unseen: saysNothing.flatMap(({ causes }) => causes.filter((one) => !best.causes.includes(one))),
  };

  /** Sizes, and which lobes are worn, averaged over. */
  function logOfAll(causes: readonly LobeCause[]): number {
    const isBushWorn = causes.includes("shaft-bush-worn");
    const ownDeg = isBushWorn ? Math.hypot(SOUND_DEG, BUSH_SHARE * errors.randomDeg) : SOUND_DEG;
    const own = lobeByLobe(errors, ownDeg);
    const ways = causes
      .map((cause) => waysOf(cause, errors))
      .reduce((all, some) => all.flatMap((one) => some.map((other) => [...one, ...other])), [[]]);
    return (
      meanLog(ways.map((vectors) => logOf([...vectors, ...own]))) +
      randomLog(errors, isBushWorn ? WORN_RANDOM : SOUND_RANDOM)
    );
  }

  /** Log density of lobes and dwells where these vectors are added with normal amplitudes. */
  function logOf(vectors: readonly (readonly number[])[]): number {
    const covariance = values.map((_, i) =>
      values.map((__, j) => {
        const together = i < lobes === j < lobes ? ANY_MEAN_DEG ** 2 : 0;
        const own = i === j ? ownVariance(errors, i < lobes) : 0;
        return vectors.reduce(
          (sum, vector) => sum + (vector[i] as number) * (vector[j] as number),
          together + own,
        );
      }),
    );
    const { values: white, logSize } = whitened(values, covariance);
    return -white.reduce((sum, one) => sum + one ** 2, 0) / 2 - logSize;
  }
}

/** Each way in which a cause may show: vectors to be added with normal amplitudes. */
function waysOf(cause: LobeCause, errors: LobeErrors): readonly (readonly number[][])[] {
  switch (cause) {
    case "shaft-bush-worn":
      return [[]];
    case "cam-worn":
      return wornSets(errors.deviationsDeg.length).flatMap((set) =>
        SIZES_DEG.map((size) => worn(errors, set, size)),
      );
    default:
      return SIZES_DEG.map((size) => onceAround(errors, size, cause === "shaft-bent"));
  }
}

function ownVariance(errors: LobeErrors, isPlace: boolean): number {
  return isPlace
    ? LEAST_DEG ** 2 + errors.standardUncertaintyDeg ** 2
    : SOUND_CLOSING_DEG ** 2 + errors.dwellStandardUncertaintyDeg ** 2;
}

/**
 * Once round with the turn. A bent shaft brings the cam away from the rubbing block: contacts open
 * late and close as much sooner. A coupling turns both edges alike.
 */
function onceAround(
  { anglesDeg, dwellsDeg }: LobeErrors,
  sizeDeg: number,
  isBent: boolean,
): number[][] {
  return [Math.cos, Math.sin].map((wave) => {
    const late = anglesDeg.map((deg) => sizeDeg * wave((deg * Math.PI) / 180));
    if (dwellsDeg === null) return late;
    // The closing stands about half a spacing before: bent, it comes as much sooner as the opening late.
    const before = anglesDeg.map(
      (deg) => sizeDeg * wave(((deg - 180 / anglesDeg.length) * Math.PI) / 180),
    );
    return [...late, ...late.map((one, j) => one + (isBent ? 1 : -1) * (before[j] as number))];
  });
}

/** One lobe, or two. */
function wornSets(lobes: number): number[][] {
  return Array.from({ length: lobes }, (_, one) => [
    [one],
    ...Array.from({ length: lobes - one - 1 }, (__, k) => [one, one + k + 1]),
  ]).flat();
}

/** A worn lobe opens late and closes sooner: its own dwell and the next one grow. */
function worn({ deviationsDeg, dwellsDeg }: LobeErrors, set: readonly number[], sizeDeg: number) {
  const lobes = deviationsDeg.length;
  const late = deviationsDeg.map((_, j) => (set.includes(j) ? sizeDeg : 0));
  if (dwellsDeg === null) return [late];
  const before = (j: number) => late[(j + lobes - 1) % lobes] as number;
  return [[...late, ...late.map((one, j) => one + before(j))]];
}

/** Each lobe by itself, both its flanks together: its own dwell grows by as much as the next one falls. */
function lobeByLobe({ deviationsDeg, dwellsDeg }: LobeErrors, sizeDeg: number): number[][] {
  const lobes = deviationsDeg.length;
  return deviationsDeg.map((_, lobe) => {
    const late = deviationsDeg.map((__, j) => (j === lobe ? sizeDeg : 0));
    if (dwellsDeg === null) return late;
    return [...late, ...late.map((one, j) => one - (late[(j + lobes - 1) % lobes] as number))];
  });
}

/** A lognormal spread, seen with an uncertainty of its own. */
function randomLog(
  { randomDeg, randomStandardUncertaintyDeg }: LobeErrors,
  expected: { readonly median: number; readonly spread: number },
): number {
  const seen = Math.max(randomDeg, 1e-4);
  const spread = Math.hypot(expected.spread, randomStandardUncertaintyDeg / seen);
  const z = Math.log(seen / expected.median) / spread;
  return -(z ** 2) / 2 - Math.log(spread);
}

function meanLog(logs: readonly number[]): number {
  const most = Math.max(...logs);
  return most + Math.log(logs.reduce((sum, one) => sum + Math.exp(one - most), 0) / logs.length);
}

/** Of the fastest reading, which the drive's ripple hardly shifts; null without one in which every lobe fired. */
export function lobeErrorsOf(
  readings: readonly Reading[],
  lobeAnglesDeg: readonly number[],
  isCouplingKnown: boolean,
): LobeErrors | null {
  const whole = readings.filter(
    ({ lobes }) => lobes.length > 1 && lobes.every(({ events }) => events > 1),
  );
  const best = whole.reduce<Reading | null>(
    (found, one) => (found === null || one.speedRpm > found.speedRpm ? one : found),
    null,
  );
  if (best === null) return null;
  const dwells = best.lobes.map(({ dwellDeg }) => dwellDeg);
  const known = dwells.every((one) => one !== null)
    ? openings(dwells as number[], lobeAnglesDeg)
    : null;
  const mean = known === null ? 0 : known.reduce((sum, one) => sum + one, 0) / known.length;
  const events = best.lobes.reduce((sum, one) => sum + one.events, 0);
  return {
    deviationsDeg: best.lobeDeviationsDeg,
    standardUncertaintyDeg: uncertaintyOf(best),
    dwellsDeg: known?.map((one) => one - mean) ?? null,
    dwellStandardUncertaintyDeg: Math.SQRT2 * uncertaintyOf(best),
    anglesDeg: best.lobes.map(({ angleDeg }) => angleDeg ?? 0),
    randomDeg: best.scatter.randomDeg,
    randomStandardUncertaintyDeg: best.scatter.randomDeg / Math.sqrt(2 * Math.max(1, events)),
    isCouplingKnown,
  };
}

/** Lobes of one form keep contacts open alike: of an uneven spacing the rest is dwell. Negative. */
function openings(dwellsDeg: readonly number[], lobeAnglesDeg: readonly number[]): number[] {
  const lobes = lobeAnglesDeg.length;
  return dwellsDeg.map((dwellDeg, j) => {
    const before = lobeAnglesDeg[(j + lobes - 1) % lobes] ?? 0;
    return dwellDeg - (((lobeAnglesDeg[j] ?? 0) - before + 360) % 360);
  });
}

function uncertaintyOf({ lobes }: Reading): number {
  return Math.max(...lobes.map(({ standardUncertaintyDeg }) => standardUncertaintyDeg));
}
