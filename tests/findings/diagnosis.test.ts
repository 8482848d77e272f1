// What a curve known by hand is put down to, and what it cannot show.
import { describe, expect, it } from "vitest";
import type { CurvePoint } from "../../core/documents.ts";
import { weightsFaults } from "../../core/findings/curveFaults.ts";
import { type Diagnosis, diagnose } from "../../core/findings/diagnosis.ts";
import { speedMisreadings } from "../../core/findings/misreadings.ts";
import type { Nominal } from "../../core/findings/nominal.ts";

/** Evenly in the square of the speed: starts at 500 rpm, 10° at 1000 rpm, where the stop is met. */
const NOMINAL: Nominal = {
  power: 2,
  knots: [
    { advanceDeg: 0, load: 500 ** 2 },
    { advanceDeg: 5, load: 625_000 },
    { advanceDeg: 10, load: 1000 ** 2 },
  ],
  stopDeg: 10,
  endX: 1020,
  halfWidthDeg: 1,
  startDoubt: 15,
  endDoubtShare: 0.06,
};
const SPEEDS_RPM = [300, 400, 450, 500, 550, 600, 650, 700, 800, 900, 1000, 1100];

function soundDeg(rpm: number): number {
  return Math.max(0, Math.min(10, (rpm ** 2 - 250_000) / 75_000));
}

function diagnosisOf(
  risingDeg: (rpm: number) => number,
  fallingDeg: (rpm: number) => number = risingDeg,
): Diagnosis {
  const point = (x: number, advanceDeg: number): CurvePoint => ({
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg: 0.02,
    coverageFactor: 2,
    budget: [
      {
        name: "together",
        standardUncertainty: 0.02,
        degreesOfFreedom: null,
        shape: "normal",
        shared: false,
      },
    ],
  });
  const curve = {
    rising: SPEEDS_RPM.map((x) => point(x, risingDeg(x))),
    falling: [200, ...SPEEDS_RPM].map((x) => point(x, fallingDeg(x))),
    referenceX: 200,
    commonDeg: 0,
  };
  const scales = { degrees: "distributor", x: "distributor", includesInitial: true } as const;
  const found = diagnose(
    NOMINAL,
    curve,
    false,
    weightsFaults(false),
    speedMisreadings(NOMINAL, scales, 2),
  );
  if (found === null) throw new Error("no diagnosis");
  return found;
}

const kindsOf = ({ explanations }: Diagnosis) => explanations[0]?.faults.map(({ kind }) => kind);

describe("diagnose", () => {
  it("puts a spring three times too strong down to the spring, and cannot tell of a stop never met", () => {
    const found = diagnosisOf((rpm) => soundDeg(rpm / Math.sqrt(3)));
    expect(kindsOf(found)).toEqual(["spring-heavy"]);
    expect(found.unseen).toContain("stop-worn");
  });

  it("tells of a stop that is met", () => {
    const found = diagnosisOf((rpm) => soundDeg(rpm * Math.sqrt(1.5)));
    expect(kindsOf(found)).toEqual(["spring-light"]);
    expect(found.unseen).not.toContain("stop-worn");
  });

  it("cannot hold a specification against a cam that stands still", () => {
    const found = diagnosisOf(() => 0);
    expect(kindsOf(found)).toEqual(["weights-stuck"]);
    expect(found.unseen).toContain("specification-misread");
  });

  it("cannot tell of a stop by a specification that was misread", () => {
    const found = diagnosisOf((rpm) => soundDeg(rpm) / 2);
    expect(found.explanations[0]).toMatchObject({
      faults: [],
      misread: "the degrees are crankshaft degrees",
    });
    expect(found.unseen).toEqual(["stop-worn"]);
  });

  it("finds a spring stretched so far that the cam is out at the reference, with edges 400 µs late", () => {
    // 300 000 rpm² less than the spring should carry: it begins 50 000 below nothing.
    const outDeg = (rpm: number) => Math.max(0, Math.min(10, (rpm ** 2 + 50_000) / 75_000));
    const late = (rpm: number) => 6e-6 * 400 * (rpm - 200);
    const found = diagnosisOf((rpm) => outDeg(rpm) - outDeg(200) - late(rpm));
    expect(kindsOf(found)?.toSorted()).toEqual(["spring-stretched", "uncorrected-delay"]);
  });

  it("sees a cam that does not come home whatever else its curve does", () => {
    // Beside what springs can do: 1.5° over the printed curve in its middle, nothing at its ends.
    const bent = (rpm: number) => {
      const deg = soundDeg(rpm);
      return deg + 1.5 * Math.sin((Math.PI * deg) / 10) ** 4;
    };
    const found = diagnosisOf(bent, (rpm) => Math.max(0.9, bent(rpm)));
    expect(kindsOf(found)).toEqual(["weights-not-returning"]);
    expect(found.explanations[0]?.isExplained).toBe(false);
  });

  it("finds a fault besides a specification that was misread", () => {
    const half = (rpm: number) => soundDeg(rpm) / 2;
    const found = diagnosisOf(half, (rpm) => Math.max(1.5, half(rpm)));
    expect(found.explanations[0]?.misread).toBe("the degrees are crankshaft degrees");
    expect(kindsOf(found)).toEqual(["weights-not-returning"]);
  });
});
