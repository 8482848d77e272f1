// Bar: healthy units and good used ones have no finding.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { type Diagnosed, diagnosed } from "../diagnosed.ts";
import { shareAtMost } from "../shares.ts";

const FALSE_MAX = 0.01;

export const healthy: Bar<Diagnosed> = {
  name: "healthy",
  counts: { short: 400, long: 1200 },
  job: (index) => diagnosed("good units", index, { kinds: [], clarity: "clear" }),
  figures: (results): readonly Figure[] => {
    const wrong = results.filter(({ found }) => found.length > 0);
    return [
      shareAtMost("good units with any finding", wrong.length, results.length, FALSE_MAX),
      ...wrong.map(({ index, found }) =>
        beside("… false", `unit ${index}: ${found.map(({ kind }) => kind).join(", ")}`, 1),
      ),
    ];
  },
};
