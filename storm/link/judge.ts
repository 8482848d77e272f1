// A run's readings held against what was true at the rig while they were taken.
import type { HoldDocument, Reading, RunDocument } from "../../core/documents.ts";
import type { DrawnRun } from "./drawnRun.ts";
import type { Boot, Witness } from "./witness.ts";

/**
 * A reading is wrong where it lies off the truth by more than twice its own expanded uncertainty and by
 * more than these. Laid down before a run was looked at. Angle and dwell: below a third of the narrowest
 * printed tolerance, 1° either way, and far below what a lobe mistaken (30°) or a value changed on the
 * line makes. Speed and vacuum: what the run itself calls reached (server/run/moves.ts).
 */
const ALLOWED = {
  advanceDeg: 0.3,
  dwellDeg: 0.5,
  lobeDeg: 0.5,
  speedRpm: 2,
  vacuumPa: 150,
} as const;
const ALLOWED_SHARE = { speed: 0.005, vacuum: 0.01 } as const;

/** What a run may not say of a unit in which there is nothing wrong. */
const FALSE_OF_SOUND: ReadonlySet<string> = new Set([
  "ROTATION_DOUBTFUL",
  "NO_SPARKS",
  "LOBES_UNKNOWN",
  "VACUUM_NOT_REACHED",
  "PLAN_BEYOND_LIMITS",
  "RIG_VERSION",
  "BUG",
]);

export interface Judged {
  /** Readings and hold tests that were held against the truth. */
  readonly count: number;
  /** Each as a sentence; empty is good. */
  readonly wrong: readonly string[];
  /** Farthest that an advance was off, be it allowed or not. */
  readonly worstDeg: number;
}

/** `boot`: the one under which the run was made. */
export function judgeRun(
  documents: readonly RunDocument[],
  drawn: DrawnRun,
  witness: Witness,
  boot: Boot,
): Judged {
  const wrong: string[] = [];
  const timeS = (tick: number) => boot.atS + ((tick - boot.firstTick) >>> 0) / drawn.tickHz;
  const points = documents.flatMap((one) => (one.type === "point" ? [one.reading] : []));
  const finals = documents.flatMap((one) => (one.type === "final" ? one.readings : []));
  let worstDeg = 0;
  for (const readings of [points, finals]) {
    for (const reading of readings) {
      const zero = readings[0] as Reading;
      const { complaints, offDeg } = judgeReading(reading, zero, drawn, (one) =>
        witness.between(timeS(one.fromTick), timeS(one.toTick)),
      );
      worstDeg = Math.max(worstDeg, offDeg);
      wrong.push(
        ...complaints.map((what) => `reading at ${reading.speedRpm.toFixed(0)} rpm: ${what}`),
      );
    }
  }
  const holds = documents.filter((one) => one.type === "hold");
  for (const hold of holds) wrong.push(...judgeHold(hold, documents, witness, timeS));
  for (const one of documents) {
    const code = one.type === "notice" ? one.code : one.type === "end" ? one.reason?.code : null;
    if (code && FALSE_OF_SOUND.has(code)) wrong.push(`said of a sound unit: ${code}`);
  }
  return { count: points.length + finals.length + holds.length, wrong, worstDeg };
}

function judgeReading(
  reading: Reading,
  zero: Reading,
  drawn: DrawnRun,
  truthOf: (reading: Reading) => ReturnType<Witness["between"]>,
): { readonly complaints: readonly string[]; readonly offDeg: number } {
  const truth = truthOf(reading);
  const atZero = truthOf(zero);
  if (truth === null || atZero === null) {
    return { complaints: ["of a time at which nothing was measured"], offDeg: 0 };
  }
  const { coverageFactor: k } = reading;
  const wrong: string[] = [];
  const check = (what: string, is: number, should: number, expanded: number, allowed: number) => {
    const off = Math.abs(is - should);
    if (off <= Math.max(2 * expanded, allowed)) return;
    wrong.push(`${what} ${is.toFixed(2)} where ${should.toFixed(2)} is true`);
  };
  const advanceDeg = truth.advanceDeg - atZero.advanceDeg;
  check(
    "advance",
    reading.advanceDeg,
    advanceDeg,
    k * reading.standardUncertaintyDeg,
    ALLOWED.advanceDeg,
  );
  check(
    "speed",
    reading.speedRpm,
    truth.speedRpm,
    reading.speedExpandedUncertaintyRpm,
    Math.max(ALLOWED.speedRpm, ALLOWED_SHARE.speed * truth.speedRpm),
  );
  if (reading.vacuumPa !== null) {
    check(
      "vacuum",
      reading.vacuumPa,
      truth.vacuumPa,
      k * reading.vacuumStandardUncertaintyPa,
      Math.max(ALLOWED.vacuumPa, ALLOWED_SHARE.vacuum * truth.vacuumPa),
    );
  }
  if (reading.dwellDeg !== null && drawn.dwellDeg !== null) {
    const expanded = k * reading.dwellStandardUncertaintyDeg;
    check("dwell", reading.dwellDeg, drawn.dwellDeg, expanded, ALLOWED.dwellDeg);
  }
  reading.lobeDeviationsDeg.forEach((deviation, j) => {
    const expanded = k * (reading.lobes[j]?.standardUncertaintyDeg ?? 0);
    check(`lobe ${j + 1}`, deviation, 0, expanded, ALLOWED.lobeDeg);
  });
  const { missingEvents, extraEvents, noiseEvents, bounces, lostTurns } = reading.setAside;
  if (missingEvents + extraEvents + noiseEvents + bounces + lostTurns > 0) {
    wrong.push(`counts ${JSON.stringify(reading.setAside)} of a sound trigger`);
  }
  return { complaints: wrong, offDeg: Math.abs(reading.advanceDeg - advanceDeg) };
}

function judgeHold(
  hold: HoldDocument,
  documents: readonly RunDocument[],
  witness: Witness,
  timeS: (tick: number) => number,
): string[] {
  const start = documents.find((one) => one.type === "start");
  const planned = start?.plan.capsules[hold.capsule]?.hold;
  if (!planned) return ["a hold test that was not planned"];
  const wrong: string[] = [];
  const beganS = timeS(hold.fromTick);
  // Up to that moment: right after the last line the run opens the line again.
  const at = (s: number) => witness.between(beganS + s - 0.02, beganS + s)?.vacuumPa ?? Number.NaN;
  const check = (what: string, isPa: number, shouldPa: number) => {
    const allowedPa = Math.max(ALLOWED.vacuumPa, ALLOWED_SHARE.vacuum * shouldPa);
    if (Math.abs(isPa - shouldPa) <= allowedPa) return;
    wrong.push(`hold ${what}: ${isPa.toFixed(0)} Pa where ${shouldPa.toFixed(0)} Pa is true`);
  };
  check("start", hold.startPa, at(planned.settleS));
  check("end", hold.endPa, at(planned.settleS + planned.seconds));
  if (!hold.reached) wrong.push("hold: a vacuum not reached that the line can hold");
  return wrong;
}
