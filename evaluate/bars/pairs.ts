// Bar: of clear pairs both are named, or the one that hides the other is, and the other told not testable.
import type { Bar, Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { type Diagnosed, diagnosed, findingFor, names } from "../diagnosed.ts";
import { FAULT_KINDS, type FaultKind, goTogether } from "../drawn/kinds.ts";
import { shareAtLeast, shareBeside } from "../shares.ts";

const NAMED_MIN = 0.9;
const PAIRS = FAULT_KINDS.flatMap((one) =>
  FAULT_KINDS.filter((other) => one < other && goTogether(one, other)).map(
    (other): readonly FaultKind[] => [one, other],
  ),
);

export const pairs: Bar<Diagnosed> = {
  name: "pairs",
  counts: { short: 400, long: 1200 },
  job: (index) =>
    diagnosed("pairs of faults", index, {
      kinds: new Draw("kinds of pairs", index).oneOf(PAIRS),
      clarity: "clear",
    }),
  figures: (results): readonly Figure[] => {
    const good = results.filter(isToldWhole);
    const half = results.filter(({ faults, found }) =>
      faults.some(({ kind }) => found.some((one) => names(one, kind))),
    );
    return [
      shareAtLeast(
        "clear pairs: both named, or one hidden and told so",
        good.length,
        results.length,
        NAMED_MIN,
      ),
      shareBeside("… at least one named", half.length, results.length),
    ];
  },
};

function isToldWhole({ faults, found, notTestable }: Diagnosed): boolean {
  const isNamed = (kind: FaultKind) => found.some((one) => names(one, kind));
  return (
    faults.some(({ kind }) => isNamed(kind)) &&
    faults.every(({ kind }) => isNamed(kind) || notTestable.includes(findingFor(kind)))
  );
}
