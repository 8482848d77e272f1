import { describe, expect, it } from "vitest";
import {
  balanceOmega2,
  balanceRpm,
  type CentrifugalUnit,
  forcesAt,
  placesAt,
  SOUND_UNIT,
} from "../../sim/mechanism.ts";
import { CentrifugalMotion } from "../../sim/weights.ts";

const NO_FRICTION = { torqueNmm: 0, addedAt1000RpmNmm: 0 };

/** Two weights and two springs; the figures are invented. */
const UNIT: CentrifugalUnit = {
  weights: {
    count: 2,
    massG: 15,
    pivotMm: 22,
    centreMm: 12,
    gyrationMm: 6,
    restAngleDeg: 94,
    link: { form: "pin", pinMm: 11, restAngleDeg: 6 },
  },
  springs: [
    {
      rateNPerMm: 1.05,
      lengthMm: 20.2,
      tensionN: 0,
      slackMm: 0,
      basePost: { radiusMm: 27, angleDeg: 60 },
      movingPost: { radiusMm: 16, angleDeg: 110 },
    },
    {
      rateNPerMm: 19,
      lengthMm: 11.9,
      tensionN: 0,
      slackMm: 1.44,
      basePost: { radiusMm: 27, angleDeg: 240 },
      movingPost: { radiusMm: 16, angleDeg: 254 },
    },
  ],
  stopDeg: 14,
  friction: { torqueNmm: 0.5, addedAt1000RpmNmm: 0.5 },
  rubbingBlockNmm: 1,
  camInertiaGCm2: 50,
  dampingNmmS: 8,
  ...SOUND_UNIT,
};

/** Runs slowly from rest to `rpm` (100 rpm/s) and settles; a second figure brings it down to there. */
function settle(unit: CentrifugalUnit, ...rpms: number[]): number {
  const motion = new CentrifugalMotion(unit);
  let rpm = 0;
  for (const goal of rpms) {
    while (rpm !== goal) {
      rpm = rpm < goal ? Math.min(goal, rpm + 0.1) : Math.max(goal, rpm - 0.1);
      motion.step(0.001, (rpm * Math.PI) / 30, 1);
    }
    for (let i = 0; i < 2000; i++) motion.step(0.001, (rpm * Math.PI) / 30, 1);
  }
  return motion.advanceDeg;
}

describe("geometry", () => {
  it("puts a weight's centre at r² = p² + g² − 2·p·g·cos ψ", () => {
    const centre = placesAt(UNIT, 0).centres[0];
    // 22² + 12² − 2·22·12·cos 94° = 664.831…
    expect((centre?.x ?? 0) ** 2 + (centre?.y ?? 0) ** 2).toBeCloseTo(664.8315, 3);
  });

  it("turns the cam as far as the pin in its slot", () => {
    // Pin at 11 mm from a pivot at 22 mm: its polar angle grows by the advance and nothing else.
    const { pivots, centres } = placesAt(UNIT, 10);
    expect(pivots).toHaveLength(2);
    expect(
      Math.hypot(
        (pivots[0]?.x ?? 0) - (centres[0]?.x ?? 0),
        (pivots[0]?.y ?? 0) - (centres[0]?.y ?? 0),
      ),
    ).toBeCloseTo(12, 9);
    const start = Math.atan2(
      11 * Math.sin((6 * Math.PI) / 180),
      22 - 11 * Math.cos((6 * Math.PI) / 180),
    );
    // Pin and centre of mass are on one weight, so the weight's swing is the pin's.
    const swing = swingDegAt10();
    const pin = ((6 + swing) * Math.PI) / 180;
    const end = Math.atan2(11 * Math.sin(pin), 22 - 11 * Math.cos(pin));
    expect(((end - start) * 180) / Math.PI).toBeCloseTo(10, 9);
  });

  it("has the torque of its energy's slope, springs and centrifugal alike", () => {
    const energy = (deg: number) => {
      const { springs, centres } = placesAt(UNIT, deg);
      let springNmm = 0;
      springs.forEach(({ base, moving }, i) => {
        const spring = UNIT.springs[i];
        if (spring === undefined) return;
        const length = Math.hypot(moving.x - base.x, moving.y - base.y);
        const stretch = Math.max(0, length - spring.lengthMm - spring.slackMm);
        springNmm += 0.5 * spring.rateNPerMm * stretch ** 2;
      });
      const inertia = centres.reduce((sum, { x, y }) => sum + 0.015 * (x ** 2 + y ** 2) * 1e-6, 0);
      return { springNm: springNmm / 1000, inertia };
    };
    for (const deg of [1, 4, 6, 9, 13]) {
      const step = 0.01;
      const above = energy(deg + step);
      const below = energy(deg - step);
      const span = (2 * step * Math.PI) / 180;
      const forces = forcesAt(UNIT, deg);
      expect(forces.restoringNm).toBeCloseTo((above.springNm - below.springNm) / span, 5);
      expect(forces.leverKgM2 * 1e6).toBeCloseTo(
        ((0.5 * (above.inertia - below.inertia)) / span) * 1e6,
        3,
      );
    }
  });
});

function swingDegAt10(): number {
  // Angle at the pivot between the line to the axis and to the centre of mass, from the places.
  const { pivots, centres } = placesAt(UNIT, 10);
  const pivot = pivots[0] ?? { x: 0, y: 0 };
  const centre = centres[0] ?? { x: 0, y: 0 };
  const angle = Math.PI - Math.atan2(centre.y - pivot.y, centre.x - pivot.x);
  return (angle * 180) / Math.PI - 94;
}

describe("equilibrium", () => {
  it.each([1, 3, 5, 6.5, 9, 12])("stands at %d° at the speed of the closed form, rising", (deg) => {
    expect(settle(UNIT, balanceRpm(UNIT, deg, "rising"))).toBeCloseTo(deg, 1.5);
  });

  it.each([1, 3, 5, 6.5, 9, 12])(
    "stands at %d° at the speed of the closed form, falling",
    (deg) => {
      expect(settle(UNIT, 2500, balanceRpm(UNIT, deg, "falling"))).toBeCloseTo(deg, 1.5);
    },
  );

  it("keeps within its stops", () => {
    expect(settle(UNIT, 100)).toBe(0);
    expect(settle(UNIT, 4000)).toBeCloseTo(14, 9);
    expect(settle(UNIT, 4000, 100)).toBe(0);
  });

  it("needs √c times the speed when all spring forces are c times as strong, without friction", () => {
    const bare = { ...UNIT, friction: NO_FRICTION, rubbingBlockNmm: 0 };
    const strong = {
      ...bare,
      springs: bare.springs.map((spring) => ({ ...spring, rateNPerMm: 1.7 * spring.rateNPerMm })),
    };
    for (const rpm of [450, 700, 1000, 1500]) {
      expect(settle(strong, rpm * Math.sqrt(1.7))).toBeCloseTo(settle(bare, rpm), 3);
    }
  });

  it("drag of the rubbing block retards both curves; turned the wrong way it helps", () => {
    const dragged = { ...UNIT, rubbingBlockNmm: 3 };
    expect(settle(dragged, 500)).toBeLessThan(settle(UNIT, 500) - 0.2);
    expect(settle(dragged, 2500, 500)).toBeLessThan(settle(UNIT, 2500, 500) - 0.2);
    const motion = new CentrifugalMotion(dragged);
    for (let i = 0; i < 3000; i++) motion.step(0.001, (500 * Math.PI) / 30, -1);
    expect(motion.advanceDeg).toBeGreaterThan(settle(UNIT, 500));
  });

  it("snaps to the stop where the needed speed falls with the advance", () => {
    // No rate to speak of but a load: nothing holds the cam once it has left its rest.
    const loose: CentrifugalUnit = {
      ...UNIT,
      springs: UNIT.springs
        .slice(0, 1)
        .map((spring) => ({ ...spring, rateNPerMm: 1e-6, tensionN: 0.6 })),
    };
    const start = balanceRpm(loose, 0, "rising");
    expect(balanceRpm(loose, 8, "rising")).toBeLessThan(start);
    expect(settle(loose, start - 5)).toBe(0);
    expect(settle(loose, start + 5)).toBeCloseTo(14, 9);
  });

  it("stays stable and right with springs a thousand times as stiff", () => {
    const stiff = {
      ...UNIT,
      springs: UNIT.springs.map((spring) => ({ ...spring, rateNPerMm: 1000 * spring.rateNPerMm })),
    };
    expect(settle(stiff, balanceRpm(stiff, 3, "rising"))).toBeCloseTo(3, 1);
  });
});

describe("published governors", () => {
  const NONE = { fixedNm: 0, perOmega2: 0 };
  const rpmOf = (omega2: number) => (Math.sqrt(omega2) * 30) / Math.PI;

  it("Hartnell, worked example at ques10.com/p/47640", () => {
    // Coordinate: lift of the sleeve. Lever: Σ m·r·dr/dx with r = r1 + 1.5·x, arms 150 and 100 mm.
    const lever = (radiusM: number) => 2 * 4 * radiusM * 1.5;
    const omega = (300 * Math.PI) / 30;
    const firstN = lever(0.08) * omega ** 2;
    // The source prints 947.1 N for ω rounded to 31.41.
    expect(firstN).toBeCloseTo(947.48, 2);
    expect(lever(0.08) * 31.41 ** 2).toBeCloseTo(947.1, 1);
    // 25 N/mm over a lift of 60 mm are 1500 N more; the radius is then 170 mm.
    const second = balanceOmega2(lever(0.17), firstN + 1500, NONE, "rising");
    expect(rpmOf(second)).toBeCloseTo(330.76, 2);
  });

  it("Porter with friction, textbook problem at scribd 702193907", () => {
    // Coordinate: lift of the sleeve, twice the fall of the balls below the joint. Arms 250 mm on the
    // axis: height h, r² = 0.25² − h², sleeve lift x = −2·h, so r·dr/dx = h/2. Gravity restores:
    // sleeve 30 kg over x, two balls of 5 kg over x/2. g = 9.81 m/s².
    const height = (radiusM: number) => Math.sqrt(0.25 ** 2 - radiusM ** 2);
    const lever = (radiusM: number) => (2 * 5 * height(radiusM)) / 2;
    const restoringN = 30 * 9.81 + (2 * 5 * 9.81) / 2;
    const rub = { fixedNm: 20, perOmega2: 0 };
    expect(rpmOf(balanceOmega2(lever(0.15), restoringN, NONE, "rising"))).toBeCloseTo(176.95, 2);
    expect(rpmOf(balanceOmega2(lever(0.2), restoringN, NONE, "rising"))).toBeCloseTo(204.32, 2);
    expect(rpmOf(balanceOmega2(lever(0.15), restoringN, rub, "falling"))).toBeCloseTo(171.71, 2);
    expect(rpmOf(balanceOmega2(lever(0.2), restoringN, rub, "rising"))).toBeCloseTo(210.19, 2);
  });
});
