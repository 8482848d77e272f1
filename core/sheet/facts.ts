// The sheet's short facts: what came in, what was found in short, and what it is judged by. Pure.
import type { HoldDocument, RigDescription, RunResult, StartDocument } from "../documents.ts";
import { ENGLISH } from "../speech/english.ts";
import type { PaperSpeech, Speech } from "../speech/speech.ts";
import type { Band, Unit } from "../unit.ts";
import { crankshaftFromDistributor, type VacuumUnit } from "../units.ts";
import { type Travel, travelOf } from "./curves.ts";
import { fixed, rpmText, short, timeText, vacuumText } from "./figures.ts";
import type { Fact } from "./model.ts";
import { triggerText } from "./trigger.ts";

export function unitFacts({ unit, startedUtc, rig }: StartDocument, say: PaperSpeech): Fact[] {
  const { label } = say.sheet;
  const { papers } = say;
  return [
    { label: papers.label.unit, value: unit.description },
    { label: papers.label.stampedNumber, value: unit.stampedNumber ?? papers.noneRead },
    { label: label.tested, value: timeText(startedUtc, say) },
    { label: papers.label.rotation, value: papers.rotation(unit.rotation) },
    { label: label.cam, value: lobesText(unit.lobeAnglesDeg, say) },
    { label: label.trigger, value: triggerText(unit, say) },
    driveFact(unit, say),
    { label: label.rig, value: rigText(rig, say) },
  ];
}

function lobesText(anglesDeg: readonly number[], say: PaperSpeech): string {
  const count = anglesDeg.length;
  const even = anglesDeg.every((angle, i) => Math.abs(angle - (i * 360) / count) < 0.005);
  if (count === 1) return say.sheet.oneLobe;
  const degrees = (deg: number) => short(deg, say);
  return even
    ? say.sheet.evenLobes(count, `${degrees(360 / count)}°`)
    : say.sheet.lobesAt(count, anglesDeg.map(degrees));
}

export function driveFact({ driveRatio }: Pick<Unit, "driveRatio">, say: PaperSpeech): Fact {
  const { label, driveOnce, drive } = say.sheet;
  return {
    label: label.drive,
    value: driveRatio === 1 ? driveOnce : drive(short(driveRatio, say)),
  };
}

function rigText({ name, simulated, byHand }: RigDescription, { sheet }: PaperSpeech): string {
  if (byHand !== undefined) return sheet.rigByHand(byHand.means);
  return simulated ? sheet.rigSimulated(name) : name;
}

/** Start, middle and end of each sweep, hold, dwell, scatter, return: whatever there is. */
export function findingFacts(
  { unit, plan }: StartDocument,
  { speed, capsules, dwellDeg, scatterDeg, returnDeg }: RunResult,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): Fact[] {
  const { sheet: words } = say;
  const speedText = (rpm: number) =>
    unit.driveRatio === 1
      ? rpmText(rpm, say)
      : words.travel.withCrankshaft(
          rpmText(rpm, say),
          fixed(crankshaftFromDistributor(rpm, unit.driveRatio), 0, say),
        );
  const facts: Fact[] = [
    ...travelFacts(words.travel.speed, travelOf(speed.rising, "speed"), unit, speedText, say),
    ...capsules.flatMap((capsule) => [
      ...travelFacts(
        capsule.name,
        travelOf(capsule.rising, "vacuum"),
        unit,
        (pa) => vacuumText(pa, vacuumUnit, say),
        say,
      ),
      ...holdFacts(capsule.name, capsule.hold, vacuumUnit, say),
    ]),
  ];
  if (dwellDeg !== null) {
    facts.push({ label: say.papers.label.dwell, value: dwellText(dwellDeg, unit, say) });
  }
  if (scatterDeg !== null) {
    const value = words.scatter(`${fixed(scatterDeg, 2, say)}°`);
    facts.push({ label: words.label.scatter, value });
  }
  if (returnDeg !== null) {
    const value = words.return(`${fixed(returnDeg, 2, say)}°`, rpmText(plan.referenceRpm, say));
    facts.push({ label: words.label.return, value });
  }
  return facts;
}

function travelFacts(
  label: string,
  travel: Travel | null,
  { driveRatio }: Unit,
  place: (x: number) => string,
  say: PaperSpeech,
): Fact[] {
  if (travel === null) return [];
  const { travel: words, label: labels } = say.sheet;
  const { begins, halfwayX, endDeg, endX } = travel;
  const degrees = (deg: number) => `${fixed(deg, 1, say)}°`;
  const end =
    driveRatio === 1
      ? degrees(endDeg)
      : words.withCrankshaft(
          degrees(endDeg),
          degrees(crankshaftFromDistributor(endDeg, driveRatio)),
        );
  const parts = [
    begins.kind === "found" ? words.begins(place(begins.x)) : words.hasBegun(place(begins.x)),
    halfwayX === null ? null : words.halfway(degrees(endDeg / 2), place(halfwayX)),
    words.ends(end, place(endX)),
  ];
  return [{ label: labels.rising(label), value: parts.filter((part) => part !== null).join("; ") }];
}

function holdFacts(
  name: string,
  hold: HoldDocument | null,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): Fact[] {
  if (hold === null) return [];
  const { hold: words, label } = say.sheet;
  const pascals = (pa: number) => vacuumText(pa, vacuumUnit, say);
  const how =
    hold.pumpEffort === null ? words.byHand : words.withPump(fixed(hold.pumpEffort * 100, 0, say));
  const value = hold.reached
    ? words.reached(
        pascals(hold.targetPa),
        how,
        pascals(hold.startPa - hold.endPa),
        fixed(hold.seconds, 0, say),
      )
    : words.notReached(pascals(hold.targetPa), pascals(hold.startPa), how);
  return [{ label: label.hold(name), value }];
}

export function dwellText(
  dwellDeg: number,
  { lobeAnglesDeg }: Unit,
  say: Speech = ENGLISH,
): string {
  const share = (100 * dwellDeg * lobeAnglesDeg.length) / 360;
  return say.papers.dwellShare(`${fixed(dwellDeg, 1, say)}°`, fixed(share, 0, say));
}

export function specificationFacts(
  unit: Pick<Unit, "speedBand" | "capsules">,
  say: Speech = ENGLISH,
): Fact[] {
  return [
    ...bandFacts(say.papers.limits.speed, unit.speedBand, say),
    ...unit.capsules.flatMap(({ name, band }) => bandFacts(name, band, say)),
  ];
}

function bandFacts(label: string, band: Band | null, say: Speech): Fact[] {
  if (band === null) return [];
  const { limits } = say.papers;
  const tolerance =
    band.workshopToleranceDeg === null
      ? band.isOwnTarget === true
        ? limits.typed
        : limits.printed
      : limits.workshop(`${short(band.workshopToleranceDeg, say)}°`);
  return [
    {
      label: band.isOwnTarget === true ? limits.ownLabel(label) : limits.label(label),
      value: `${limits.source(band.source)}. ${limits[band.judgedOn]} ${tolerance}`,
    },
  ];
}
