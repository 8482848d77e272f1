// Bar: faults of the rig are not put on the unit.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { type Diagnosed, diagnosed, names } from "../diagnosed.ts";
import { shareAtMost, shareBeside } from "../shares.ts";

const KINDS = ["coupling-runout", "condenser-left-on", "uncorrected-delay"] as const;
const BLAMED_MAX = 0.01;

export const rig: Bar<Diagnosed> = {
  name: "rig",
  counts: { short: 200, long: 600 },
  job: (index) =>
    diagnosed("faults of the rig", index, {
      kinds: [KINDS[index % KINDS.length] as (typeof KINDS)[number]],
      clarity: "clear",
    }),
  figures: (results): readonly Figure[] => {
    const blamed = results.filter(({ found }) => found.some(({ subject }) => subject === "unit"));
    const named = results.filter(({ faults, found }) =>
      faults.every(({ kind }) => found.some((one) => names(one, kind))),
    );
    return [
      shareAtMost("rig faults put on the unit", blamed.length, results.length, BLAMED_MAX),
      shareBeside("… found and named", named.length, results.length),
      ...blamed.map(({ index, faults, found }) =>
        beside(
          "… blamed",
          `${faults[0]?.kind} ${index}: ${found
            .filter(({ subject }) => subject === "unit")
            .map(({ kind }) => kind)
            .join(", ")}`,
          1,
        ),
      ),
    ];
  },
};
