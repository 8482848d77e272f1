// What a workshop reads of springs and posts with calliper and spring balance: each with an error that stays.
import type { Draw } from "../accuracy/draw.ts";
import type { DrawerSpring } from "../core/drawer/drawer.ts";
import type { Fitted, Installed } from "../core/refit/installed.ts";
import type { Step } from "../core/refit/step.ts";

/** Standard uncertainties; half of what the drawer states of a rate (common practice, no source). */
const LENGTH_M = 0.05e-3;
const RATE_SHARE = 0.015;

interface SpringErrors {
  readonly rateShare: number;
  readonly freeLengthM: number;
}

/** Of one unit and one drawer, over all changes. */
export class WorkshopReading {
  private readonly errors = new Map<string, SpringErrors>();
  private readonly lengths: readonly (readonly [number, number])[];
  private readonly draw: Draw;
  private in = { first: "first that was in", second: "second that was in" };

  constructor(draw: Draw) {
    this.draw = draw;
    const lengthM = () => draw.normal(LENGTH_M);
    this.lengths = [
      [lengthM(), lengthM()],
      [lengthM(), lengthM()],
    ];
  }

  drawer(exact: readonly DrawerSpring[]): readonly DrawerSpring[] {
    return exact.map((spring) => this.spring(spring, spring.name));
  }

  installed({ first, second }: Installed): Installed {
    return {
      first: first && this.fitted(first, this.in.first, 0),
      second: second && this.fitted(second, this.in.second, 1),
    };
  }

  /** From now on these are in. */
  changed(steps: readonly Step[]): void {
    for (const step of steps) {
      if (step.kind === "spring") this.in = { ...this.in, [step.which]: step.name };
    }
  }

  private fitted(exact: Fitted, name: string, at: 0 | 1): Fitted {
    const [rest, stop] = this.lengths[at] as readonly [number, number];
    return {
      spring: this.spring(exact.spring, name),
      restLengthM: (exact.restLengthM ?? 0) + rest,
      stopLengthM: (exact.stopLengthM ?? 0) + stop,
    };
  }

  private spring(exact: DrawerSpring, name: string): DrawerSpring {
    const errors = this.errorsOf(name);
    const { measuredRate } = exact;
    return {
      ...exact,
      name,
      freeLengthM: exact.freeLengthM + errors.freeLengthM,
      measuredRate: measuredRate && {
        ...measuredRate,
        rateNPerM: measuredRate.rateNPerM * (1 + errors.rateShare),
      },
    };
  }

  private errorsOf(name: string): SpringErrors {
    const known = this.errors.get(name);
    if (known !== undefined) return known;
    const errors = {
      rateShare: this.draw.normal(RATE_SHARE),
      freeLengthM: this.draw.normal(LENGTH_M),
    };
    this.errors.set(name, errors);
    return errors;
  }
}
