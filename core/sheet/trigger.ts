// What was found of the trigger, in the workshop's words: dwell, bounce, missing openings, scatter. Pure.
import type { RunResult } from "../documents.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
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
import { fixed, rpmText, short, vacuumNumber, vacuumText } from "./figures.ts";
import type { Fact } from "./model.ts";

type PlaceText = (x: number) => string;

/** What fires, and of two sets of contacts what was connected. */
export function triggerText({ trigger, contactSets }: Unit, say: Speech = ENGLISH): string {
  if (contactSets === null) return say.trigger.kind(trigger.kind);
  return say.trigger.contactSets(contactSets.arrangement, contactSets.connected);
}

/** Only what was found; nothing of a trigger that gave no events. */
export function triggerFacts(
  { trigger, capsules }: RunResult,
  vacuumUnit: VacuumUnit,
  say: Speech = ENGLISH,
): Fact[] {
  const { dwell, bounce, missing, scatter } = trigger;
  const { label } = say.trigger;
  const speed: PlaceText = (rpm) => rpmText(rpm, say);
  const vacuum: PlaceText = (pascals) => vacuumText(pascals, vacuumUnit, say);
  const several = capsules.length > 1;
  const named = (i: number) => (several ? `, ${capsules[i]?.name ?? ""}` : "");
  const facts: Fact[] = [];
  const add = (label: string, value: string | null) => {
    if (value !== null) facts.push({ label, value });
  };
  if (dwell !== null) {
    add(label.lobes, lobesText(dwell, say));
    add(label.overSpeed, changeText(dwell.overSpeed, speed, say));
    dwell.overVacuum.forEach((trend, i) => {
      add(`${label.overVacuum}${named(i)}`, trend && changeText(trend, vacuum, say));
    });
  }
  if (bounce !== null) add(label.bounce, bounceText(bounce, say));
  if (missing.overSpeed !== null) {
    const number: PlaceText = (rpm) => fixed(rpm, 0, say);
    add(label.missing, missingText(missing.overSpeed, { one: speed, number }, say));
  }
  missing.overVacuum.forEach((places, i) => {
    const number: PlaceText = (pascals) => vacuumNumber(pascals, vacuumUnit, say);
    add(`${label.missing}${named(i)}`, places && missingText(places, { one: vacuum, number }, say));
  });
  if (scatter !== null) facts.push(...scatterFacts(scatter, say));
  return facts;
}

function lobesText(
  { lobesDeg, lobeExpandedUncertaintyDeg, atRpm }: DwellResult,
  say: Speech,
): string | null {
  if (lobesDeg.every((deg) => deg === null)) return null;
  const told = lobesDeg.map((deg) => (deg === null ? "–" : fixed(deg, 1, say)));
  return say.trigger.lobes(
    told,
    `${atLeast(lobeExpandedUncertaintyDeg, 1, say)}°`,
    rpmText(atRpm, say),
  );
}

/** Null where there is only one reading to tell from. */
function changeText({ low, change }: Trend, place: PlaceText, say: Speech): string | null {
  if (change === null) return null;
  const { trigger: words } = say;
  const { high, changeDeg, expandedUncertaintyDeg, isClear } = change;
  const uncertain = `${atLeast(expandedUncertaintyDeg, 2, say)}°`;
  if (!isClear) return words.sameUpTo(place(high.x), uncertain);
  const at = ({ x, valueDeg }: FigureAt) => words.at(`${fixed(valueDeg, 2, say)}°`, place(x));
  const by = `${fixed(Math.abs(changeDeg), 2, say)}°`;
  const moves = changeDeg < 0 ? words.falls(by, uncertain) : words.grows(by, uncertain);
  return `${moves}, ${words.fromTo(at(low), at(high))}`;
}

function bounceText({ at, begins }: BounceResult, say: Speech): string {
  const { trigger: words } = say;
  const worst = at.reduce((most, one) => (one.share > most.share ? one : most));
  const share = words.bounce(percent(worst.share, say), rpmText(worst.speedRpm, say));
  if (begins === null) return `${share}; ${words.bounceUntold}`;
  const { afterRpm, byRpm } = begins;
  const by = rpmText(byRpm, say);
  return afterRpm === null
    ? `${share}; ${words.bounceFrom(by)}`
    : `${share}; ${words.bounceBetween(fixed(afterRpm, 0, say), by)}`;
}

interface AxisText {
  readonly one: PlaceText;
  /** The unit left out. */
  readonly number: PlaceText;
}

function missingText(places: MissingPlaces, { one, number }: AxisText, say: Speech): string {
  const { trigger: words } = say;
  const { fromX, toX, share, soundBelow, soundBetween, soundAbove, plateDeg } = places;
  const where = fromX === toX ? one(fromX) : `${number(fromX)}–${one(toX)}`;
  const sound = soundBelow + soundAbove + soundBetween;
  const only =
    sound === 0
      ? words.missingEverywhere
      : soundBetween > 0
        ? words.missingAtSome
        : words.missingOnly;
  const plate =
    plateDeg === null ? "" : `; ${words.plateMoved(degreeRange(plateDeg.from, plateDeg.to, say))}`;
  return `${only(percent(share, say), where)}${plate}`;
}

function degreeRange(from: number, to: number, say: Speech): string {
  const [low, high] = [fixed(from, 1, say), fixed(to, 1, say)];
  return low === high ? `${low}°` : say.papers.between(low, `${high}°`);
}

function scatterFacts({ fixed: stays, oncePerTurn, random }: ScatterResult, say: Speech): Fact[] {
  const { label } = say.trigger;
  const parts: readonly (readonly [string, Trend | null])[] = [
    [label.fixed, stays],
    [label.oncePerTurn, oncePerTurn],
    [label.random, random],
  ];
  return parts.flatMap(([label, trend]) =>
    trend === null ? [] : [{ label, value: trendText(trend, say) }],
  );
}

function trendText({ low, change }: Trend, say: Speech): string {
  const { trigger: words } = say;
  if (change === null) {
    return isFound(low) ? `${foundText(low, say)} ${say.rpm}` : noneText([low], say);
  }
  const { high, changeDeg, expandedUncertaintyDeg, isClear } = change;
  if (!isClear && !isFound(low) && !isFound(high)) return noneText([low, high], say);
  const uncertain = `${atLeast(expandedUncertaintyDeg, 2, say)}°`;
  const by = fixed(Math.abs(changeDeg), 2, say);
  const clearly = changeDeg < 0 ? words.falls : words.grows;
  const moved = isClear ? clearly(by, uncertain) : words.same(uncertain);
  return `${words.both(foundText(low, say), foundText(high, say))} ${say.rpm}; ${moved}`;
}

function isFound({ valueDeg, expandedUncertaintyDeg }: FigureAt): boolean {
  return valueDeg > expandedUncertaintyDeg;
}

function foundText(figure: FigureAt, say: Speech): string {
  const { trigger: words } = say;
  const { x, valueDeg, expandedUncertaintyDeg } = figure;
  const at = (text: string) => words.at(text, fixed(x, 0, say));
  if (!isFound(figure)) {
    return at(words.noneAbove(`${atLeast(expandedUncertaintyDeg, 2, say)}°`));
  }
  return at(
    valueDeg < 0.005 ? words.below(`${fixed(0.01, 2, say)}°`) : `${fixed(valueDeg, 2, say)}°`,
  );
}

function noneText(figures: readonly FigureAt[], say: Speech): string {
  const expanded = figures.map(({ expandedUncertaintyDeg }) => expandedUncertaintyDeg);
  return say.trigger.noneAbove(`${atLeast(Math.max(...expanded), 2, say)}°`);
}

/** An uncertainty is never nothing: at least one in the last digit. */
function atLeast(value: number, digits: number, say: Speech): string {
  return fixed(Math.max(value, 10 ** -digits), digits, say);
}

function percent(share: number, say: Speech): string {
  const percents = 100 * share;
  const text =
    percents < 10 ? short(Number(percents.toPrecision(2)), say) : fixed(percents, 0, say);
  return `${text} %`;
}
