// What bounce, lost openings and dwell say of the contact spring and of the plate's lead.
import type { MissingPlaces, TriggerResult } from "../triggerResult.ts";
import type { Candidate, Evidence } from "./finding.ts";
import { probabilityBySize } from "./probability.ts";

/** Fall of dwell from slow to fast, degrees. Common practice, no source. */
const FALL = {
  sound: { median: 0.05, spread: 0.9 },
  faulty: { median: 1.2, spread: 0.8 },
  prior: 0.05,
} as const;
/** Share of openings lost at some speeds or places of the plate. */
const LOST = {
  sound: { median: 0.0005, spread: 1 },
  faulty: { median: 0.2, spread: 1.5 },
  prior: 0.05,
} as const;
/** Share of closings that bounce at the highest speeds. */
const BOUNCED = {
  sound: { median: 0.001, spread: 1.2 },
  faulty: { median: 0.15, spread: 1.2 },
  prior: 0.05,
} as const;
/** Counts of a few thousand events. */
const COUNT_DOUBT = 0.001;

export function contactFindings({ dwell, bounce, missing }: TriggerResult): readonly Candidate[] {
  const fall = dwell?.overSpeed.change ?? null;
  const byDwell =
    fall === null ? 0 : probabilityBySize(-fall.changeDeg, fall.expandedUncertaintyDeg / 2, FALL);
  const most = Math.max(0, ...(bounce?.at ?? []).map(({ share }) => share));
  // Bounce that goes on to the highest speed.
  const byBounce = bounce?.begins == null ? 0 : probabilityBySize(most, COUNT_DOUBT, BOUNCED);
  const fast = missing.overSpeed;
  const byLost =
    fast === null || fast.soundBelow === 0 || fast.soundAbove > 0
      ? 0
      : probabilityBySize(fast.share, COUNT_DOUBT, LOST);
  const weak: Candidate = {
    kind: "contact-spring-weak",
    part: null,
    strength: 1 - (1 - byDwell) * (1 - byBounce) * (1 - byLost),
    evidence: [
      ...(fall === null || byDwell < 0.5
        ? []
        : [
            figure("dwell", fall.changeDeg, fall.expandedUncertaintyDeg, "deg", [
              { sweep: "speed" as const, capsule: null, branch: null, x: fall.high.x },
            ]),
          ]),
      ...(bounce?.begins == null || byBounce < 0.5
        ? []
        : [
            figure("bounce", most, null, "share", [
              { sweep: "speed" as const, capsule: null, branch: null, x: bounce.begins.byRpm },
            ]),
          ]),
      ...(fast === null || byLost < 0.5 ? [] : [lost(fast, "speed", null)]),
    ],
  };
  const leads = missing.overVacuum.flatMap((places, capsule): Candidate[] => {
    if (places === null || places.soundBelow + places.soundAbove === 0) return [];
    return [
      {
        kind: "plate-lead-breaking",
        part: null,
        strength: probabilityBySize(places.share, COUNT_DOUBT, LOST),
        evidence: [lost(places, "vacuum", capsule)],
      },
    ];
  });
  return [weak, ...leads];
}

function lost(places: MissingPlaces, sweep: "speed" | "vacuum", capsule: number | null): Evidence {
  const at = (x: number) => ({ sweep, capsule, branch: null, x });
  return figure("missing openings", places.share, null, "share", [
    at(places.fromX),
    at(places.toX),
  ]);
}

function figure(
  name: Evidence["figure"],
  measured: number,
  expandedUncertainty: number | null,
  unit: Evidence["unit"],
  places: Evidence["places"],
): Evidence {
  return { figure: name, measured, expandedUncertainty, expected: null, unit, places };
}
