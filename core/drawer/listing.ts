// The drawer with the figures that go by: rates, their uncertainty, and loads at a few stretches.
import { alignedText } from "../sheet/alignedText.ts";
import { fixed } from "../sheet/figures.ts";
import { computedRate, type DrawerSpring, rateOf, ratesDiffer, type SpringRate } from "./drawer.ts";
import { springLoadN } from "./spring.ts";

export interface ListedSpring extends DrawerSpring {
  /** What the program goes by. */
  readonly rate: SpringRate;
  /** Null where wire and coils are not known. */
  readonly computedRate: SpringRate | null;
  /** Measured and computed lie further apart than their uncertainties allow: measure both again. */
  readonly ratesDiffer: boolean;
  readonly loads: readonly { readonly stretchM: number; readonly loadN: number }[];
}

/** `stretchesM`: how much farther apart than its free length the posts are that it is hung on. */
export function listedSprings(
  springs: readonly DrawerSpring[],
  stretchesM: readonly number[],
): ListedSpring[] {
  return springs.map((spring) => {
    const rate = rateOf(spring);
    return {
      ...spring,
      rate,
      computedRate: spring.wire && computedRate(spring.wire),
      ratesDiffer: ratesDiffer(spring),
      loads: stretchesM.map((stretchM) => ({
        stretchM,
        loadN: springLoadN(spring, rate.rateNPerM, stretchM),
      })),
    };
  });
}

/** One line a spring. */
export function listingText(springs: readonly ListedSpring[]): string {
  const stretches = springs[0]?.loads ?? [];
  const head = [
    "name",
    "in stock",
    "N/m",
    "± N/m",
    "from",
    ...stretches.map(({ stretchM }) => `N at +${fixed(stretchM * 1000, 1)} mm`),
    "",
  ];
  const rows = springs.map(({ name, quantity, rate, loads, ratesDiffer }) => [
    name,
    String(quantity),
    fixed(rate.rateNPerM, 0),
    fixed(rate.expandedUncertaintyNPerM, 0),
    rate.from,
    ...loads.map(({ loadN }) => fixed(loadN, 2)),
    ratesDiffer ? "measured and computed rate differ: measure both again" : "",
  ]);
  return alignedText([head, ...rows]);
}
