// Places spread as a probability has it, by walkers that leap by one another's distances; always the same ones.

/** Natural logarithm, up to a constant. */
export type Density = (place: readonly number[]) => number;

const WALKERS = 50;
/** Rounds until the walkers have spread, and between the rounds that count. */
const SPREADING = 160;
const APART = 50;
const TAKEN = 2;
/** Walkers that were left behind so far start again from others. */
const LEFT_BEHIND = 15;
const CLOSE = 0.15;
const JITTER = 1e-3;
/** Now and then a leap all the way, from one likely region to another. */
const FULL_LEAP_EVERY = 10;
/** The first numbers of names that are nearly alike are nearly alike. */
const FIRST_LEFT_OUT = 3;

/**
 * Differential evolution Markov chain (ter Braak 2006, Statistics and Computing 16, from memory): each
 * leap is a share of the distance between two other walkers, 2.38 / √(2 d) for d dimensions.
 * @param from where to start, one place or more
 */
export function walked(density: Density, from: readonly (readonly number[])[]): number[][] {
  const chance = new Sequence("");
  const best = Math.max(...from.map(density));
  const good = from.filter((place) => density(place) > best - LEFT_BEHIND);
  let walkers = Array.from({ length: WALKERS }, (_, i) => {
    const place = (good[i % good.length] as readonly number[]).map(
      (one) => one + CLOSE * chance.normal(),
    );
    return { place, log: density(place) };
  });
  const taken: number[][] = [];
  const leap = 2.38 / Math.sqrt(2 * (from[0]?.length ?? 1));
  for (let round = 1; round <= SPREADING + APART * (TAKEN - 1); round++) {
    const share = round % FULL_LEAP_EVERY === 0 ? 1 : leap;
    walkers.forEach((walker, i) => {
      const [one, other] = [chance.below(WALKERS), chance.below(WALKERS)];
      if (one === other || one === i || other === i) return;
      const [a, b] = [walkers[one]?.place ?? [], walkers[other]?.place ?? []];
      const place = walker.place.map(
        (at, k) => at + share * ((a[k] ?? 0) - (b[k] ?? 0)) + JITTER * chance.normal(),
      );
      const log = density(place);
      if (Math.log(chance.uniform()) < log - walker.log) walkers[i] = { place, log };
    });
    if (round === SPREADING / 2) walkers = caughtUp(walkers);
    if (round >= SPREADING && (round - SPREADING) % APART === 0) {
      taken.push(...walkers.map(({ place }) => place));
    }
  }
  return taken;
}

interface Walker {
  readonly place: number[];
  readonly log: number;
}

function caughtUp(walkers: readonly Walker[]): Walker[] {
  const best = Math.max(...walkers.map(({ log }) => log));
  const good = walkers.filter(({ log }) => log > best - LEFT_BEHIND);
  return walkers.map((walker, i) =>
    walker.log > best - LEFT_BEHIND ? walker : (good[i % good.length] as Walker),
  );
}

/** Numbers without order, the same every time: Park and Miller's generator (1988, from memory). */
export class Sequence {
  private state = 20_011;

  /** @param name numbers of another name are others */
  constructor(name: string) {
    for (let i = 0; i < name.length; i++) this.state = this.after(this.state + name.charCodeAt(i));
    for (let i = 0; i < FIRST_LEFT_OUT; i++) this.uniform();
  }

  private after(state: number): number {
    return (state * 48_271) % 2_147_483_647;
  }

  /** Above 0 and below 1. */
  uniform(): number {
    this.state = this.after(this.state);
    return this.state / 2_147_483_647;
  }

  below(count: number): number {
    return Math.floor(count * this.uniform());
  }

  /** By Box and Muller. */
  normal(): number {
    return Math.sqrt(-2 * Math.log(this.uniform())) * Math.cos(2 * Math.PI * this.uniform());
  }
}
