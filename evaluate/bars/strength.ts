// Bar: a strength is the share of such findings that are true, over clear, doubtful and good cases alike.
// The clear and the good ones are those of the bars on them; its own are doubtful.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { type Diagnosed, diagnosed, names } from "../diagnosed.ts";
import { drawChoice } from "../drawn/case.ts";
import { percent } from "../shares.ts";
import { healthy } from "./healthy.ts";
import { pairs } from "./pairs.ts";
import { single } from "./single.ts";

const ERROR_MAX = 0.05;
const BINS = [0.5, 0.6, 0.7, 0.8, 0.9, 0.97, 1.0001] as const;

export const strength: Bar<Diagnosed> = {
  name: "strength",
  counts: { short: 400, long: 1200 },
  also: [single, pairs, healthy],
  job: (index) =>
    diagnosed("strengths", index, { ...drawChoice("strengths", index), clarity: "doubtful" }),
  figures: (results): readonly Figure[] => {
    const told = results.flatMap(({ faults, found }) =>
      found
        .filter(({ kind }) => kind !== "curve-unexplained")
        .map((one) => ({
          strength: one.strength,
          isTrue: faults.some(({ kind }) => names(one, kind)),
        })),
    );
    const bins = BINS.map((upper, i) => {
      const lower = BINS[i - 1] ?? 0;
      const own = told.filter(({ strength }) => strength >= lower && strength < upper);
      const mean = own.reduce((sum, { strength }) => sum + strength, 0) / own.length;
      const share = own.filter(({ isTrue }) => isTrue).length / own.length;
      return { lower, upper, own: own.length, mean, share };
    }).filter(({ own }) => own > 0);
    const error = bins.reduce(
      (sum, { own, mean, share }) => sum + (own / told.length) * Math.abs(mean - share),
      0,
    );
    const beyond = results.filter(
      ({ travel }) => travel !== null && travel.trueDeg > travel.limitDeg,
    );
    const passed = beyond.filter(({ travel }) => travel?.passed === true);
    return [
      {
        what: "expected calibration error of strengths",
        measured: error.toFixed(3),
        limit: `≤ ${ERROR_MAX}`,
        count: told.length,
        met: error <= ERROR_MAX,
      },
      ...bins.map(({ lower, upper, own, mean, share }) =>
        beside(
          `… ${lower.toFixed(2)} to ${Math.min(1, upper).toFixed(2)}`,
          `told ${percent(mean)}, true ${percent(share)}`,
          own,
        ),
      ),
      {
        what: "travel beyond its limit passed as within",
        measured: String(passed.length),
        limit: "0",
        count: beyond.length,
        met: passed.length === 0,
      },
    ];
  },
};
