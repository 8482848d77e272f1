// Bar: clear single faults are found and named.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { type Diagnosed, diagnosed, findingFor, names } from "../diagnosed.ts";
import { FAULT_KINDS, type FaultKind } from "../drawn/kinds.ts";
import { shareAtLeast, shareBeside } from "../shares.ts";

const NAMED_MIN = 0.98;

function kindAt(index: number): FaultKind {
  return FAULT_KINDS[index % FAULT_KINDS.length] as FaultKind;
}

export const single: Bar<Diagnosed> = {
  name: "single",
  counts: { short: 400, long: 1200 },
  job: (index) => diagnosed("single faults", index, { kinds: [kindAt(index)], clarity: "clear" }),
  figures: (results): readonly Figure[] => {
    const named = results.filter(isNamed);
    const among = results.filter(({ faults, found }) =>
      faults.every(({ kind }) =>
        found.some((one) => names(one, kind) || one.alike.includes(findingFor(kind))),
      ),
    );
    const alone = named.filter(({ found }) => found.length === 1);
    const worst = FAULT_KINDS.map((kind) => {
      const own = results.filter(({ faults }) => faults[0]?.kind === kind);
      return { kind, own: own.length, named: own.filter(isNamed).length };
    })
      .filter(({ own, named: count }) => count < own)
      .map(({ kind, own, named: count }) => `${kind} ${count}/${own}`);
    return [
      shareAtLeast("clear single faults found and named", named.length, results.length, NAMED_MIN),
      shareBeside("… or told as looking alike", among.length, results.length),
      shareBeside(
        "… where a printed row is not met",
        named.filter(isOff).length,
        results.filter(isOff).length,
      ),
      shareBeside("… and nothing else found", alone.length, results.length),
      ...worst.map((text) => beside("… missed", text, results.length)),
    ];
  },
};

/** A unit that meets every printed row may have a fault between them, which no specification shows. */
function isOff({ verdict }: Diagnosed): boolean {
  return verdict !== "within";
}

function isNamed({ faults, found }: Diagnosed): boolean {
  return faults.every(({ kind }) => found.some((one) => names(one, kind)));
}
