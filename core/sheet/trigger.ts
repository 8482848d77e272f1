// What was found of the trigger, in the workshop's words: dwell, bounce, missing openings, scatter. Pure.
import type { RunResult } from "../documents.ts";
import type {
  BounceResult,
  DwellResult,
  FigureAt,
  MissingPlaces,
  ScatterResult,
  Trend,
} from "../triggerResult.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { fixed, short, vacuumNumber, vacuumText } from "./figures.ts";
import type { Fact } from "./model.ts";

type PlaceText = (x: number) => string;

const speedText: PlaceText = (rpm) => `${fixed(rpm, 0)} rpm`;

/** What fires, and of two sets of contacts what was connected. */
export function triggerText({ trigger, contactSets }: Unit): string {
  if (contactSets === null) return trigger.kind;
  const { arrangement, connected } = contactSets;
  const other = connected === "first" ? "second" : "first";
  const sets =
    connected === "both"
      ? "both connected"
      : `the ${connected} alone connected, the ${other} insulated`;
  return `two sets of contacts, ${arrangement}: ${sets}`;
}

/** Only what was found; nothing of a trigger that gave no events. */
export function triggerFacts({ trigger, capsules }: RunResult, vacuumUnit: VacuumUnit): Fact[] {
  const { dwell, bounce, missing, scatter } = trigger;
  const vacuum: PlaceText = (pascals) => vacuumText(pascals, vacuumUnit);
  const several = capsules.length > 1;
  const named = (i: number) => (several ? `, ${capsules[i]?.name ?? ""}` : "");
  const facts: Fact[] = [];
  const add = (label: string, value: string | null) => {
    if (value !== null) facts.push({ label, value });
  };
  if (dwell !== null) {
    add("Dwell of each lobe", lobesText(dwell));
    add("Dwell over speed", changeText(dwell.overSpeed, speedText, 2));
    dwell.overVacuum.forEach((trend, i) => {
      add(`Dwell over vacuum${named(i)}`, trend && changeText(trend, vacuum, 2));
    });
  }
  if (bounce !== null) add("Bounce", bounceText(bounce));
  if (missing.overSpeed !== null) {
    add(
      "Openings missing",
      missingText(missing.overSpeed, {
        one: speedText,
        unit: " rpm",
        number: (rpm) => fixed(rpm, 0),
      }),
    );
  }
  missing.overVacuum.forEach((places, i) => {
    const unit = ` ${vacuumUnit}`;
    const number = (pascals: number) => vacuumNumber(pascals, vacuumUnit);
    add(
      `Openings missing${named(i)}`,
      places && missingText(places, { one: vacuum, unit, number }),
    );
  });
  if (scatter !== null) facts.push(...scatterFacts(scatter));
  return facts;
}

function lobesText({ lobesDeg, lobeExpandedUncertaintyDeg, atRpm }: DwellResult): string | null {
  if (lobesDeg.every((deg) => deg === null)) return null;
  const told = lobesDeg.map((deg) => (deg === null ? "–" : fixed(deg, 1)));
  return `${told.join(", ")}°, each ± ${atLeast(lobeExpandedUncertaintyDeg, 1)}°, at ${speedText(atRpm)}`;
}

/** Null where there is only one reading to tell from. */
function changeText({ low, change }: Trend, place: PlaceText, digits: number): string | null {
  if (change === null) return null;
  const { high, changeDeg, expandedUncertaintyDeg, isClear } = change;
  const uncertain = `${atLeast(expandedUncertaintyDeg, digits)}°`;
  if (!isClear) {
    return `the same to ${place(high.x)}, within ± ${uncertain}`;
  }
  const moves = changeDeg < 0 ? "falls" : "grows";
  return `${moves} by ${fixed(Math.abs(changeDeg), digits)}° ± ${uncertain}, from ${fixed(low.valueDeg, digits)}° at ${place(low.x)} to ${fixed(high.valueDeg, digits)}° at ${place(high.x)}`;
}

function bounceText({ at, begins }: BounceResult): string {
  const worst = at.reduce((most, one) => (one.share > most.share ? one : most));
  const share = `${percent(worst.share)} of the closings open again for a moment at ${speedText(worst.speedRpm)}`;
  if (begins === null) return `${share}; not at every speed above, so no beginning can be told`;
  const { afterRpm, byRpm } = begins;
  return afterRpm === null
    ? `${share}; at every speed read, from ${speedText(byRpm)} on`
    : `${share}; begins between ${fixed(afterRpm, 0)} and ${speedText(byRpm)}`;
}

interface AxisText {
  readonly one: PlaceText;
  readonly number: PlaceText;
  readonly unit: string;
}

function missingText(places: MissingPlaces, { one, number, unit }: AxisText): string {
  const { fromX, toX, share, soundBelow, soundBetween, soundAbove, plateDeg } = places;
  const where = fromX === toX ? one(fromX) : `${number(fromX)}–${number(toX)}${unit}`;
  const sound = soundBelow + soundAbove + soundBetween;
  const only =
    sound === 0 ? "everywhere it was read" : soundBetween > 0 ? "at some places" : "only";
  const plate =
    plateDeg === null
      ? ""
      : `; the capsule had the plate moved by ${degreeRange(plateDeg.from, plateDeg.to)} there`;
  return `${percent(share)} at ${where} ${only}${plate}`;
}

function degreeRange(from: number, to: number): string {
  const [low, high] = [fixed(from, 1), fixed(to, 1)];
  return low === high ? `${low}°` : `${low} to ${high}°`;
}

function scatterFacts({ fixed: stays, oncePerTurn, random }: ScatterResult): Fact[] {
  const parts: readonly (readonly [string, Trend | null])[] = [
    ["Scatter of the lobes", stays],
    ["Scatter once a turn", oncePerTurn],
    ["Scatter by chance", random],
  ];
  return parts.flatMap(([label, trend]) =>
    trend === null ? [] : [{ label, value: trendText(trend) }],
  );
}

function trendText({ low, change }: Trend): string {
  if (change === null) return isFound(low) ? `${foundText(low)} rpm` : noneText([low]);
  const { high, changeDeg, expandedUncertaintyDeg, isClear } = change;
  if (!isClear && !isFound(low) && !isFound(high)) return noneText([low, high]);
  const uncertain = `± ${atLeast(expandedUncertaintyDeg, 2)}°`;
  const moved = isClear
    ? `${changeDeg < 0 ? "falls" : "grows"} by ${fixed(Math.abs(changeDeg), 2)} ${uncertain}`
    : `the same within ${uncertain}`;
  return `${foundText(low)}, ${foundText(high)} rpm; ${moved}`;
}

function isFound({ valueDeg, expandedUncertaintyDeg }: FigureAt): boolean {
  return valueDeg > expandedUncertaintyDeg;
}

function foundText(figure: FigureAt): string {
  const { x, valueDeg, expandedUncertaintyDeg } = figure;
  const at = `at ${fixed(x, 0)}`;
  if (!isFound(figure)) return `none above ${atLeast(expandedUncertaintyDeg, 2)}° ${at}`;
  return valueDeg < 0.005 ? `below 0.01° ${at}` : `${fixed(valueDeg, 2)}° ${at}`;
}

function noneText(figures: readonly FigureAt[]): string {
  const expanded = figures.map(({ expandedUncertaintyDeg }) => expandedUncertaintyDeg);
  return `none above ${atLeast(Math.max(...expanded), 2)}°`;
}

/** An uncertainty is never nothing: at least one in the last digit. */
function atLeast(value: number, digits: number): string {
  return fixed(Math.max(value, 10 ** -digits), digits);
}

function percent(share: number): string {
  const percents = 100 * share;
  return `${percents < 10 ? short(Number(percents.toPrecision(2))) : fixed(percents, 0)} %`;
}
