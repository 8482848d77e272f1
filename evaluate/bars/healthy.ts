// Bar: healthy units and good used ones have no finding; and no travel beyond its limit passes (told by the rows).
import type { Bar, Figure } from "../../accuracy/bar.ts";
import { beside } from "../../accuracy/bar.ts";
import { type Diagnosed, diagnosed } from "../diagnosed.ts";
import { percent } from "./single.ts";

const FALSE_MAX = 0.01;

export const healthy: Bar<Diagnosed> = {
  name: "healthy",
  counts: { short: 400, long: 1200 },
  job: (index) => diagnosed("healthy", index, { kinds: [], clarity: "clear" }),
  figures: (results): readonly Figure[] => {
    const wrong = results.filter(({ found }) => found.length > 0);
    return [
      {
        what: "good units with any finding",
        measured: percent(wrong.length / results.length),
        limit: `≤ ${percent(FALSE_MAX)}`,
        count: results.length,
        met: wrong.length <= FALSE_MAX * results.length,
      },
      ...wrong.map(({ index, found }) =>
        beside("… false", `unit ${index}: ${found.map(({ kind }) => kind).join(", ")}`, 1),
      ),
    ];
  },
};
