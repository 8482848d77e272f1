// Closings that opened again for a moment: how many at which speed, and from where on.
import type { PointDocument } from "../documents.ts";
import type { BounceResult } from "../triggerResult.ts";

/**
 * Noise falls anywhere, and what falls into the first quarter of a lobe's spacing after a closing is
 * taken for bounce (core/angles/events.ts): a third as often as it is known for noise.
 */
const NOISE_TAKEN_FOR_BOUNCE = 1 / 3;
/** Standard deviations of a count by chance (Poisson) that noise must be exceeded by. */
const CLEARLY = 3;

interface Counted {
  readonly speedRpm: number;
  readonly closings: number;
  readonly bounces: number;
  readonly noise: number;
}

/** Readings of the speed sweep; null where none bounced. */
export function bounceOf(readings: readonly PointDocument[]): BounceResult | null {
  const places = counted(readings);
  if (!places.some(bounces)) return null;
  const at = places.map(({ speedRpm, ...place }) => ({
    speedRpm,
    share: bounces({ speedRpm, ...place }) ? Math.min(1, place.bounces / place.closings) : 0,
  }));
  const lastSound = at.findLastIndex(({ share }) => share === 0);
  const first = at[lastSound + 1];
  return {
    at,
    begins:
      first === undefined
        ? null
        : { afterRpm: at[lastSound]?.speedRpm ?? null, byRpm: first.speedRpm },
  };
}

function bounces({ bounces, noise }: Counted): boolean {
  const byChance = NOISE_TAKEN_FOR_BOUNCE * noise;
  return bounces > byChance + CLEARLY * Math.sqrt(byChance);
}

/** Both branches of one place together, in rising order; places without any opening left out. */
function counted(readings: readonly PointDocument[]): Counted[] {
  const places = new Map<number, Counted>();
  for (const { targetRpm, reading } of readings) {
    const before = places.get(targetRpm);
    places.set(targetRpm, {
      speedRpm: before?.speedRpm ?? reading.speedRpm,
      closings:
        (before?.closings ?? 0) + reading.lobes.reduce((sum, { events }) => sum + events, 0),
      bounces: (before?.bounces ?? 0) + reading.setAside.bounces,
      noise: (before?.noise ?? 0) + reading.setAside.noiseEvents,
    });
  }
  return [...places.values()]
    .filter(({ closings }) => closings > 0)
    .sort((a, b) => a.speedRpm - b.speedRpm);
}
