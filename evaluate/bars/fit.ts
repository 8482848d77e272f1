// Bar: intervals of the fitted mechanism hold what the mechanism is, good units and units with a fault alike.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { measure } from "../../accuracy/standIn.ts";
import * as fitted from "../../core/mechanism/fitted.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { drawCase } from "../drawn/case.ts";
import type { FaultKind } from "../drawn/kinds.ts";
import { capsuleTruth, weightsTruth } from "../mechanismTruth.ts";
import { percent, shareAtLeast } from "../shares.ts";

const HOLDS_MIN = 0.9;

/** Half of the units are good. */
const KINDS: readonly (FaultKind | null)[] = [
  null,
  "spring-light",
  null,
  "spring-heavy",
  null,
  "spring-stretched",
  null,
  "stop-worn",
  null,
  "second-spring-loop-worn",
  null,
  "weights-dry",
  null,
  "capsule-spring-wrong",
];

const WHATS = [
  "start",
  "stop",
  "knee",
  "friction",
  "capsule's start",
  "capsule's end",
  "capsule's friction",
] as const;

/** One figure looked for. */
export interface Asked {
  readonly what: (typeof WHATS)[number];
  readonly isTold: boolean;
  /** Whether the 95 % interval holds the truth; a knee told of a unit without one does not. */
  readonly holds: boolean;
}

export interface Fitted {
  readonly index: number;
  readonly asked: readonly Asked[];
}

async function job(index: number): Promise<Fitted> {
  const kind = KINDS[index % KINDS.length] ?? null;
  const kinds = kind === null ? [] : [kind];
  const { unitFile, scenario, rig } = drawCase("fit", index, { kinds, clarity: "clear" });
  const { documents, end } = await measure({ unit: unitFile, scenario, rig });
  const start = documents.find((document) => document.type === "start");
  const { mechanism, result } = end;
  if (start === undefined || mechanism === null) throw new Error("the run was not fitted");
  const parsed = parseScenario(scenario, "case");
  const { weights } = mechanism;
  const [capsule] = mechanism.capsules;
  const { rising } = result.speed;
  const halfDeg = Math.max(...rising.map(({ advanceDeg }) => advanceDeg)) / 2;
  const topRpm = Math.max(...rising.map(({ x }) => x));
  const truth = weightsTruth(parsed, start.plan.referenceRpm, halfDeg, topRpm);
  const isFitted = fitted.isFitted(weights);
  const capsuleIs = capsuleTruth(parsed);
  const isCapsuleFitted = capsule !== undefined && capsule !== null && fitted.isFitted(capsule);
  return {
    index,
    asked: [
      asked("start", isFitted ? weights.startRpm : null, truth.startRpm),
      asked("stop", isFitted ? weights.stopDeg : null, truth.stopDeg),
      ...kneeAsked(isFitted ? weights.kneeDeg : null, truth.kneeDeg),
      ...(truth.gapRpm === null
        ? []
        : [asked("friction", isFitted ? weights.gapRpm : null, truth.gapRpm)]),
      ...(capsuleIs === null
        ? []
        : [
            asked("capsule's start", isCapsuleFitted ? capsule.startPa : null, capsuleIs.startPa),
            asked("capsule's end", isCapsuleFitted ? capsule.endDeg : null, capsuleIs.endDeg),
            asked("capsule's friction", isCapsuleFitted ? capsule.gapPa : null, capsuleIs.gapPa),
          ]),
    ],
  };
}

function asked(what: Asked["what"], figure: fitted.Figure | null, truth: number | null): Asked {
  if (figure === null || !fitted.isTold(figure)) return { what, isTold: false, holds: false };
  const expanded = figure.coverageFactor * figure.standardUncertainty;
  return {
    what,
    isTold: true,
    holds: truth !== null && Math.abs(figure.value - truth) <= expanded,
  };
}

/** Of a unit without a knee none is asked for, but one that is told counts. */
function kneeAsked(figure: fitted.Figure | null, truth: number | null): Asked[] {
  const one = asked("knee", figure, truth);
  return truth === null && !one.isTold ? [] : [one];
}

export const fit: Bar<Fitted> = {
  name: "fit",
  counts: { short: 280, long: 1120 },
  job,
  figures: (results): readonly Figure[] =>
    WHATS.flatMap((what) => {
      const of = results.flatMap(({ index, asked }) =>
        asked.filter((one) => one.what === what).map((one) => ({ ...one, index })),
      );
      const told = of.filter(({ isTold }) => isTold);
      const missed = told.filter(({ holds }) => !holds);
      const share = told.length - missed.length;
      return [
        shareAtLeast(`95 % intervals of the ${what} that hold it`, share, told.length, HOLDS_MIN),
        beside("… told", percent(told.length / of.length), of.length),
        ...(missed.length === 0
          ? []
          : [beside("… not held", missed.map(({ index }) => index).join(", "), missed.length)]),
      ];
    }),
};
