// Random centrifugal units of real geometry with faults, and the curves they truly have.

import { withFaults } from "../../sim/faultyMechanism.ts";
import { balanceRpm, type CentrifugalUnit, SOUND_UNIT } from "../../sim/mechanism.ts";
import type { MechanismFault } from "../../sim/mechanismFaults.ts";
import { Random } from "../../sim/random.ts";

export type Branch = "rising" | "falling";

export class Dice {
  private readonly random: Random;

  constructor(seed: number, stream = 0) {
    this.random = new Random(seed, stream);
  }

  share(): number {
    return this.random.whole32() / 2 ** 32;
  }

  between(low: number, high: number): number {
    return low + this.share() * (high - low);
  }

  normal(): number {
    return this.random.normal();
  }
}

/** Invented: a pin or profile link, one or two springs, with or without a slack second one. */
export function randomUnit(seed: number): CentrifugalUnit {
  const dice = new Dice(seed, 77);
  const stopDeg = dice.between(6, 18);
  const pin = dice.share() < 0.5;
  const two = dice.share() < 0.85;
  const slackShare = dice.between(0.15, 0.7);
  const radiusMm = dice.between(13, 18);
  const restAngleDeg = dice.between(80, 110);
  const rate = 10 ** dice.between(-0.3, 0.6);
  const first = spring(dice.between(55, 65), radiusMm, rate, dice.between(-0.5, 6), dice);
  // The moving post comes away from the base post by nearly radius · angle.
  const slackMm = slackShare * stopDeg * (Math.PI / 180) * radiusMm * 0.95;
  const second = spring(240, radiusMm, rate * dice.between(1.5, 20), 0, dice);
  const sound: CentrifugalUnit = {
    weights: {
      count: 2,
      massG: dice.between(10, 40),
      pivotMm: 22,
      centreMm: dice.between(9, 14),
      gyrationMm: 6,
      restAngleDeg,
      link: pin
        ? { form: "pin", pinMm: dice.between(9, 12), restAngleDeg: 6 }
        : {
            form: "profile",
            ratio: dice.between(0.5, 1.1),
            growthPerDeg: dice.between(-0.004, 0.012),
          },
    },
    springs: two ? [first, { ...second, slackMm }] : [first],
    stopDeg,
    friction: {
      torqueNmm: dice.between(0.1, 1.2),
      addedAt1000RpmNmm: dice.between(0.1, 1),
    },
    rubbingBlockNmm: dice.between(0, 2),
    camInertiaGCm2: 50,
    dampingNmmS: dice.between(4, 12),
    ...SOUND_UNIT,
  };
  return withFaults({ centrifugal: sound, capsules: [] }, someFault(dice, two)).centrifugal;
}

function spring(
  angleDeg: number,
  radiusMm: number,
  rateNPerMm: number,
  preloadMm: number,
  dice: Dice,
): CentrifugalUnit["springs"][number] {
  const moving = angleDeg + dice.between(14, 50);
  const lengthAtRest = Math.hypot(
    27 * Math.cos((angleDeg * Math.PI) / 180) - radiusMm * Math.cos((moving * Math.PI) / 180),
    27 * Math.sin((angleDeg * Math.PI) / 180) - radiusMm * Math.sin((moving * Math.PI) / 180),
  );
  return {
    rateNPerMm,
    lengthMm: lengthAtRest - preloadMm,
    tensionN: dice.share() < 0.3 ? dice.between(0, 2) : 0,
    slackMm: 0,
    basePost: { radiusMm: 27, angleDeg },
    movingPost: { radiusMm, angleDeg: moving },
  };
}

function someFault(dice: Dice, two: boolean): MechanismFault[] {
  const which = dice.share();
  const name = two && dice.share() < 0.5 ? ("second" as const) : ("first" as const);
  if (which < 0.5) return [];
  if (which < 0.65)
    return [{ fault: "weights-dry", frictionFactor: dice.between(2, 6), stickRatio: 1 }];
  if (which < 0.8) {
    return [{ fault: "spring-stretched", spring: name, lengthenedMm: dice.between(0.1, 0.8) }];
  }
  if (which < 0.9) {
    return [{ fault: "spring-light", spring: name, rateRatio: dice.between(0.4, 0.9) }];
  }
  return two ? [{ fault: "second-spring-missing" }] : [];
}

const CELLS = 2000;

/** Where the cam stands at a speed after rising or falling slowly to it. */
export class TrueCurve {
  private readonly rpm = new Float64Array(CELLS + 1);
  private readonly stopDeg: number;
  readonly branch: Branch;

  constructor(unit: CentrifugalUnit, branch: Branch) {
    this.branch = branch;
    this.stopDeg = unit.stopDeg;
    for (let i = 0; i <= CELLS; i++) {
      this.rpm[i] = balanceRpm(unit, (unit.stopDeg * i) / CELLS, branch);
    }
    // It stays before what needs more speed, and leaps over what needs less.
    if (branch === "rising") {
      for (let i = 1; i <= CELLS; i++) this.raise(i, i - 1, Math.max);
    } else {
      for (let i = CELLS - 1; i >= 0; i--) this.raise(i, i + 1, Math.min);
    }
  }

  private raise(i: number, by: number, choose: (a: number, b: number) => number): void {
    this.rpm[i] = choose(this.rpm[i] as number, this.rpm[by] as number);
  }

  startRpm(): number {
    return this.rpm[0] as number;
  }

  stopRpm(): number {
    return this.rpm[CELLS] as number;
  }

  /** Steepest rise in degrees per rpm between neighbouring hundredths of the travel. */
  steepest(): number {
    let steepest = 0;
    const step = CELLS / 100;
    for (let i = step; i <= CELLS; i += step) {
      const width = (this.rpm[i] as number) - (this.rpm[i - step] as number);
      steepest = Math.max(steepest, this.stopDeg / 100 / Math.max(width, 1e-9));
    }
    return steepest;
  }

  at(rpm: number): number {
    const { rpm: table } = this;
    if (rpm <= (table[0] as number)) return 0;
    if (rpm >= (table[CELLS] as number)) return this.stopDeg;
    let [low, high] = [0, CELLS];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((table[middle] as number) <= rpm) low = middle;
      else high = middle;
    }
    const from = table[low] as number;
    const width = (table[high] as number) - from;
    const share = width <= 0 ? 0 : (rpm - from) / width;
    return (this.stopDeg * (low + share)) / CELLS;
  }
}
