// Seeded random draws of every shape, with standard deviation one, for simulations in tests.
import type { Shape } from "../../core/uncertainty/distributions.ts";

export class Draws {
  #state: number;

  constructor(seed: number) {
    this.#state = seed;
  }

  /** Between 0 and 1, both excluded: the minimal standard generator (Park and Miller 1988). */
  share(): number {
    this.#state = (this.#state * 48_271) % 2_147_483_647;
    return this.#state / 2_147_483_647;
  }

  of(shape: Shape): number {
    switch (shape) {
      case "normal":
        return Math.sqrt(-2 * Math.log(this.share())) * Math.cos(2 * Math.PI * this.share());
      case "rectangular":
        return Math.sqrt(3) * (2 * this.share() - 1);
      case "triangular":
        return Math.sqrt(6) * (this.share() - this.share());
      case "arcsine":
        return Math.SQRT2 * Math.cos(Math.PI * this.share());
    }
  }
}
