// The judgement of whole runs, of short plans and of runs cut short.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RowVerdict, RunDocument, RunResult } from "../../core/documents.ts";
import { judge } from "../../core/judge/result.ts";
import { defaultPlan, planFor } from "../../core/planFile.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { type Behaviour, documentsOf, REACH, SOUND, through } from "./documentList.ts";

function json(name: string): object {
  return JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), "utf8"));
}

const UNIT = unitFromFile(json("everyday.unit.json"), "everyday");

function run(changes: Partial<Behaviour>, planChanges: object | null = null): RunResult {
  const plan = planFor(UNIT, REACH, planChanges);
  return judge(UNIT, documentsOf(UNIT, plan, { ...SOUND, ...changes }));
}

function lines(result: RunResult, verdict: RowVerdict["verdict"]): string[] {
  return result.rows
    .filter((row) => row.verdict === verdict)
    .map((row) => `${row.about} ${row.branch ?? "-"}: ${row.printed}`);
}

describe("a sound unit", () => {
  const result = run({});

  it("is within on every row of both branches", () => {
    expect(lines(result, "outside")).toEqual([]);
    expect(lines(result, "unproven")).toEqual([]);
    expect(result.verdict).toBe("within");
    expect(result.rowsNotMeasured).toBe(0);
    // 6 speed rows and 4 capsule rows on two branches, then hold, dwell, scatter, return.
    expect(result.rows.length).toBe(2 * 6 + 2 * 4 + 4);
  });

  it("tells what was measured, with its uncertainty", () => {
    const at800 = result.rows.find((row) => row.about === "speed" && row.x === 800);
    expect(at800).toMatchObject({
      about: "speed",
      capsule: null,
      branch: "rising",
      printed: "7 ± 1 distributor degrees at 800 distributor rpm",
      measured: 7,
      limits: { min: 6, max: 8 },
      unit: "deg",
      verdict: "within",
    });
    expect(at800?.expandedUncertainty).toBeCloseTo(0.098, 4);
    expect(result.dwellDeg).toBe(51);
    expect(result.scatterDeg).toBeCloseTo(0.2, 12);
    expect(result.returnDeg).toBe(0.02);
    expect(result.speed.rising.length).toBe(14);
    expect(result.speed.falling[0]).toMatchObject({ x: 180, targetX: 180, advanceDeg: 0 });
    expect(result.capsules[0]?.hold?.endPa).toBe(49700);
  });

  it("has the vacuum's uncertainty in the capsule's rows", () => {
    // Slopes around 20 kPa 4/7500 and 5/10000 degrees a pascal, 100 Pa; k = 2.
    const slope = Math.sqrt(((4 / 7500) ** 2 + (5 / 10000) ** 2) / 2);
    const row = result.rows.find((one) => one.about === "vacuum" && one.x === 20000);
    expect(row?.expandedUncertainty).toBeCloseTo(1.959964 * Math.hypot(0.05, 100 * slope), 6);
  });

  it("has the start of the capsule in pascals", () => {
    const start = result.rows.find((row) => row.about === "vacuum" && row.x === null);
    expect(start).toMatchObject({ unit: "Pa", limits: { min: 10000, max: 15000 } });
    expect(start?.measured).toBeCloseTo(12500, 0);
  });
});

describe("readings beside their targets", () => {
  it("are carried to the printed place along the curve", () => {
    const result = run({ speedOffRpm: 3, vacuumOffPa: -120 });
    const at = (about: string, x: number) =>
      result.rows.find((row) => row.about === about && row.x === x)?.measured;
    // Towards 500 from above: the slope on the lower side carries it, and it is the same there.
    expect(at("speed", 500)).toBeCloseTo(3, 1);
    expect(at("speed", 1200)).toBeCloseTo(9.5, 1);
    expect(at("vacuum", 30000)).toBeCloseTo(9, 1);
    expect(result.verdict).toBe("within");
  });

  it("carry more uncertainty the further they are carried round a bend", () => {
    const row = (speedOffRpm: number) =>
      run({ speedOffRpm }).rows.find(({ about, x }) => about === "speed" && x === 800);
    // Slopes of the readings around 800: 4/300 below and 2.5/400 above, 20 rpm between reading and row.
    const bend = ((4 / 300 - 2.5 / 400) * 20) / Math.sqrt(12);
    expect(row(0)?.expandedUncertainty).toBeCloseTo(0.098, 4);
    expect(row(20)?.expandedUncertainty).toBeGreaterThan(0.1 + bend / 10);
    expect(row(20)?.expandedUncertainty).toBeLessThan(2 * Math.hypot(0.05, 2 * bend));
  });

  it("say nothing of a row when the vacuum never came near it", () => {
    // A torn diaphragm: whatever was asked for, 4 kPa came.
    const plan = defaultPlan(UNIT, REACH);
    const documents = documentsOf(UNIT, plan, { ...SOUND, holdReached: false }).map((document) =>
      document.type === "point" && document.sweep === "vacuum"
        ? { ...document, reading: { ...document.reading, vacuumPa: 4000, advanceDeg: 0 } }
        : document,
    );
    const result = judge(UNIT, documents);
    const vacuumRows = result.rows.filter(({ about }) => about === "vacuum");
    expect(vacuumRows.map(({ measured, verdict }) => [measured, verdict])).toEqual(
      Array.from({ length: 8 }, () => [null, "unproven"]),
    );
    expect(lines(result, "outside")).toEqual([
      "hold -: falls by at most 2 kPa in 15 s from 50 kPa",
    ]);
    expect(result.verdict).toBe("outside");
  });
});

describe("units with a fault", () => {
  it("finds stuck weights outside wherever advance was wanted", () => {
    expect(lines(run({ weights: () => 0 }), "outside")).toEqual([
      "speed rising: 3 ± 1 distributor degrees at 500 distributor rpm",
      "speed rising: 7 ± 1 distributor degrees at 800 distributor rpm",
      "speed rising: 9.5 ± 1 distributor degrees at 1200 distributor rpm",
      "speed rising: 12.5 ± 1 distributor degrees at 1800 distributor rpm",
      "speed rising: largest advance 14 ± 1 distributor degrees by 2400 distributor rpm",
      "speed falling: 3 ± 1 distributor degrees at 500 distributor rpm",
      "speed falling: 7 ± 1 distributor degrees at 800 distributor rpm",
      "speed falling: 9.5 ± 1 distributor degrees at 1200 distributor rpm",
      "speed falling: 12.5 ± 1 distributor degrees at 1800 distributor rpm",
      "speed falling: largest advance 14 ± 1 distributor degrees by 2400 distributor rpm",
    ]);
  });

  it("finds friction on the falling branch only", () => {
    const { weights } = SOUND;
    const sticky = run({
      weights: (rpm, branch) => weights(rpm + (branch === "falling" ? 150 : 0), branch),
    });
    expect(lines(sticky, "outside")).toEqual([
      "speed falling: no advance below 300 distributor rpm: at most 0.5 distributor degrees",
      "speed falling: 3 ± 1 distributor degrees at 500 distributor rpm",
    ]);
  });

  it("finds advance that stays at speeds below the row that wants none", () => {
    const { weights } = SOUND;
    const stays = run({
      weights: (rpm, branch) => (rpm < 200 && branch === "falling" ? 1.5 : weights(rpm, branch)),
    });
    expect(lines(stays, "outside")).toEqual([
      "speed falling: no advance below 300 distributor rpm: at most 0.5 distributor degrees",
    ]);
  });

  it("finds a worn stop by the advance that still grows past the end", () => {
    const { weights } = SOUND;
    const worn = (rpm: number) => (rpm > 2300 ? 14 + (rpm - 2300) / 200 : weights(rpm, "rising"));
    expect(lines(run({ weights: worn }), "outside")).toEqual([
      "speed rising: largest advance 14 ± 1 distributor degrees by 2400 distributor rpm",
      "speed falling: largest advance 14 ± 1 distributor degrees by 2400 distributor rpm",
    ]);
  });

  it("finds a capsule that starts late, and one that never moves", () => {
    const late = (pa: number) => SOUND.capsules[0]?.(pa - 5000, "rising") ?? 0;
    expect(lines(run({ capsules: [late] }), "outside")).toContain(
      "vacuum rising: advance starts at 10 to 15 kPa",
    );
    const still = run({ capsules: [() => 0] });
    const start = still.rows.find((row) => row.about === "vacuum" && row.x === null);
    expect(start).toMatchObject({ measured: null, verdict: "outside" });
  });

  it("finds a leak, dwell, scatter and an advance that stays", () => {
    expect(lines(run({ holdDropPa: 2500 }), "outside")).toEqual([
      "hold -: falls by at most 2 kPa in 15 s from 50 kPa",
    ]);
    expect(lines(run({ dwellDeg: 57 }), "outside")).toEqual([
      "dwell -: dwell 47 to 55 distributor degrees",
    ]);
    expect(lines(run({ lobeDeviationsDeg: [1.5, -0.5, -0.5, -0.5] }), "outside")).toEqual([
      "scatter -: lobes within 1 distributor degrees of their places",
    ]);
    const stays = run({ returnDeg: 1.2 });
    expect(lines(stays, "outside")).toEqual([
      "return -: comes back to within 0.5 distributor degrees of the reference",
    ]);
    expect(stays.verdict).toBe("outside");
  });

  it("leaves what is too close to call unproven", () => {
    const { weights } = SOUND;
    const close = run({ weights: (rpm, branch) => weights(rpm, branch) + (rpm === 1800 ? 1 : 0) });
    expect(lines(close, "unproven")).toEqual([
      "speed rising: 12.5 ± 1 distributor degrees at 1800 distributor rpm",
      "speed falling: 12.5 ± 1 distributor degrees at 1800 distributor rpm",
    ]);
    expect(close.verdict).toBe("unproven");
  });

  it("leaves dwell that nobody could read unproven", () => {
    const result = run({ dwellDeg: null });
    expect(lines(result, "unproven")).toEqual(["dwell -: dwell 47 to 55 distributor degrees"]);
    expect(result.dwellDeg).toBeNull();
  });
});

describe("a plan that covers less", () => {
  it("gives a verdict on the rows it covers and counts the others", () => {
    const result = run(
      { holdDropPa: 40 },
      {
        speedsRpm: [800, 1200, 1800],
        vacuums: { unit: "kPa", values: [0, 20, 30, 40] },
        hold: { unit: "kPa", vacuum: 50, dropMax: 0.3, settleS: 0.5, seconds: 2 },
        vacuumSweepRpm: 2500,
      },
    );
    expect(result.verdict).toBe("within");
    expect(result.rows.map(({ about, branch, x }) => `${about} ${branch} ${x}`)).toEqual([
      "speed rising 800",
      "speed rising 1200",
      "speed rising 1800",
      "speed falling 800",
      "speed falling 1200",
      "speed falling 1800",
      "vacuum rising 20000",
      "vacuum rising 30000",
      "vacuum rising 40000",
      "vacuum falling 20000",
      "vacuum falling 30000",
      "vacuum falling 40000",
      "hold null 50000",
      "dwell null null",
      "scatter null null",
      "return null null",
    ]);
    // No advance below 300, 500 rpm, the end at 2400 rpm; the capsule's start; the hold of 15 s.
    expect(result.rowsNotMeasured).toBe(5);
  });

  it("gives a verdict with the short example plan", () => {
    const result = run({ holdDropPa: 40 }, json("short.plan.json"));
    expect(result.verdict).toBe("within");
    for (const about of ["speed", "vacuum", "hold"]) {
      expect(result.rows.filter((row) => row.about === about).length).toBeGreaterThan(0);
    }
    expect(result.rowsNotMeasured).toBeGreaterThan(0);
  });

  it("takes neighbours within a tenth for a row, and no others", () => {
    const close = run({}, { speedsRpm: [180, 780, 820, 1100, 1300] });
    const rising = close.rows.filter(
      ({ about, branch }) => about === "speed" && branch === "rising",
    );
    expect(rising.map(({ x }) => x)).toEqual([800]);
    // Half of 780 (6.733) and 820 (7.125); their distance as a rectangle is most of the uncertainty.
    expect(rising[0]?.measured).toBeCloseTo(6.929, 3);
    // 95 % of a normal part of 0.05° and a rectangle 0.3917° wide, integrated numerically apart from this code.
    expect(rising[0]?.expandedUncertainty).toBeCloseTo(0.2212, 4);
  });

  it("leaves the start alone unless the plan goes from below its range to above", () => {
    const starts = (values: number[]) =>
      run({}, { vacuums: { unit: "kPa", values } }).rows.filter(
        ({ about, x }) => about === "vacuum" && x === null,
      ).length;
    expect(starts([8, 11, 13, 16])).toBe(2);
    expect(starts([11, 13, 16])).toBe(0);
    expect(starts([8, 11, 13])).toBe(0);
    expect(starts([8, 16, 20])).toBe(0);
  });

  it("has no verdict where none of the specification was measured", () => {
    const result = run({}, { speedsRpm: [250], vacuums: { unit: "kPa", values: [] }, hold: false });
    expect(result.verdict).toBeNull();
    expect(result.rowsNotMeasured).toBe(11);
  });
});

describe("a unit without specification", () => {
  it("has curves and no verdict, unless something is outside all the same", () => {
    const plain = unitFromFile(
      { description: "d", lobes: 4, rotation: "cw", capsules: [{ name: "c", vacuum: "kPa" }] },
      "plain",
    );
    const plan = defaultPlan(plain, REACH);
    const sound = judge(plain, documentsOf(plain, plan, SOUND));
    expect(sound.verdict).toBeNull();
    expect(sound.rows.map(({ about, verdict }) => `${about} ${verdict}`)).toEqual([
      "hold within",
      "return within",
    ]);
    expect(sound.speed.rising.length).toBe(plan.speedsRpm.length);
    const stays = judge(plain, documentsOf(plain, plan, { ...SOUND, returnDeg: 3 }));
    expect(stays.verdict).toBe("outside");
  });
});

describe("a vacuum sweep beyond the stop of the weights", () => {
  const changes = { vacuumSweepRpm: 2600 };

  it("takes off what the weights add", () => {
    const result = run({}, changes);
    expect(result.verdict).toBe("within");
    expect(result.capsules[0]?.rising.at(-1)?.advanceDeg).toBeCloseTo(11, 9);
  });

  it("judges nothing of the capsule without the reading that tells how much", () => {
    const plan = planFor(UNIT, REACH, changes);
    const documents = documentsOf(UNIT, plan, SOUND).filter(
      (document) => document.type !== "point" || document.targetPa !== 0,
    );
    const result = judge(UNIT, documents);
    const rows = result.rows.filter(({ about }) => about === "vacuum");
    expect(rows.every(({ measured, verdict }) => measured === null && verdict === "unproven")).toBe(
      true,
    );
    expect(rows.length).toBe(8);
    expect(result.verdict).toBe("unproven");
  });
});

describe("a retard capsule", () => {
  const unit = unitFromFile(
    {
      ...json("everyday.unit.json"),
      capsules: [
        {
          name: "retard capsule",
          acts: "retard",
          vacuum: "kPa",
          degrees: "distributor",
          source: "none",
          toleranceDeg: 1,
          rows: [
            { noneBelow: 8, max: 0.5 },
            { start: "10 to 15" },
            { at: 20, degrees: 4 },
            { endBy: 40, degrees: 11 },
          ],
        },
      ],
    },
    "retard",
  );
  const plan = defaultPlan(unit, REACH);
  const advance = SOUND.capsules[0] as Behaviour["capsules"][number];

  it("is within when it retards as asked", () => {
    const capsules: Behaviour["capsules"] = [(pa, branch) => -advance(pa, branch)];
    const result = judge(unit, documentsOf(unit, plan, { ...SOUND, capsules }));
    expect(lines(result, "outside")).toEqual([]);
    expect(result.verdict).toBe("within");
    const end = result.rows.find((row) => row.about === "vacuum" && row.x === 40000);
    expect(end).toMatchObject({ measured: -11, limits: { min: -12, max: -10 } });
  });

  it("is outside when it advances instead", () => {
    const result = judge(unit, documentsOf(unit, plan, SOUND));
    expect(
      result.rows.filter(({ about, verdict }) => about === "vacuum" && verdict === "outside")
        .length,
    ).toBe(6);
  });
});

describe("runs cut short", () => {
  const plan = defaultPlan(UNIT, REACH);
  const whole = documentsOf(UNIT, plan, SOUND);

  it("have no verdict while nothing is outside", () => {
    for (let length = 0; length < whole.length; length++) {
      const result = judge(UNIT, whole.slice(0, length));
      expect(result.verdict).toBeNull();
      expect(lines(result, "outside")).toEqual([]);
      expect(lines(result, "unproven")).toEqual([]);
      // The last two are the falling reading at the lowest speed and the return: no printed row is there.
      expect(result.rowsNotMeasured > 0).toBe(length < whole.length - 2);
    }
  });

  it("are outside once something is", () => {
    const leaking = documentsOf(UNIT, plan, { ...SOUND, holdDropPa: 9000 });
    expect(judge(UNIT, leaking.slice(0, 2)).verdict).toBeNull();
    expect(judge(UNIT, leaking.slice(0, 3)).verdict).toBe("outside");
  });

  it("go by the ending where there is one", () => {
    const link = {
      linesGood: 0,
      linesBad: 0,
      turnsGood: 0,
      turnsSetAside: 0,
      turnsMissing: 0,
      commandRepeats: 0,
    };
    const ended = (ending: "completed" | "stopped"): RunDocument => ({
      type: "end",
      endedUtc: "2024-01-01T00:10:00.000Z",
      restConfirmed: true,
      findings: null,
      mechanism: null,
      ending,
      reason: null,
      link,
      result: judge(UNIT, []),
    });
    expect(judge(UNIT, [...whole, ended("stopped")]).verdict).toBeNull();
    expect(judge(UNIT, [...whole, ended("completed")]).verdict).toBe("within");
  });

  it("leave a planned row without a reading unproven once the run is over", () => {
    const lacking = whole.filter(
      (document) =>
        document.type !== "point" || document.targetRpm !== 800 || document.branch !== "rising",
    );
    const result = judge(UNIT, lacking);
    expect(lines(result, "unproven")).toEqual([
      "speed rising: 7 ± 1 distributor degrees at 800 distributor rpm",
    ]);
    expect(result.verdict).toBe("unproven");
  });

  it("are judged without complaint whatever documents are missing, and to plain JSON", () => {
    const units: Unit[] = [UNIT, unitFromFile(json("quiet-six.unit.json"), "six")];
    fc.assert(
      fc.property(
        fc.constantFrom(...units),
        fc.array(fc.boolean(), { minLength: whole.length, maxLength: whole.length }),
        fc.constantFrom(0, 0.05, 3),
        (unit, kept, standardUncertaintyDeg) => {
          const documents = documentsOf(UNIT, plan, { ...SOUND, standardUncertaintyDeg }).filter(
            (_, i) => kept[i],
          );
          const result = judge(unit, documents);
          expect(JSON.parse(JSON.stringify(result))).toEqual(result);
          const worst = ["outside", "unproven", "within"].find((verdict) =>
            result.rows.some((row) => row.verdict === verdict),
          );
          if (result.verdict !== null) expect(result.verdict).toBe(worst);
        },
      ),
    );
  });
});

describe("limits", () => {
  const ORDER = { within: 0, unproven: 1, outside: 2 };

  it("never make a verdict graver by being wider", () => {
    const plan = defaultPlan(UNIT, REACH);
    const file = (toleranceDeg: number) => {
      const everyday = json("everyday.unit.json") as { speed: object; capsules: object[] };
      return {
        ...everyday,
        speed: { ...everyday.speed, toleranceDeg },
        capsules: everyday.capsules.map((one) => ({ ...one, toleranceDeg })),
      };
    };
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (toleranceDeg, wider, off) => {
          const weights = (rpm: number) =>
            through(rpm, [
              [320, 0],
              [500, 3 + off],
              [2300, 14 + off],
            ]);
          const judged = (tolerance: number) => {
            const unit = unitFromFile(file(tolerance), "unit");
            return judge(unit, documentsOf(unit, plan, { ...SOUND, weights }));
          };
          const narrow = judged(toleranceDeg);
          const wide = judged(toleranceDeg + wider);
          for (const [i, row] of narrow.rows.entries()) {
            const other = wide.rows[i] as RowVerdict;
            expect(ORDER[other.verdict]).toBeLessThanOrEqual(ORDER[row.verdict]);
          }
        },
      ),
    );
  });
});
