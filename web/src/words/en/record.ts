// Words on a record: its charts, verdict, rows, findings, what its readings rest on.
import type { Ending, RowVerdict, Verdict } from "../../../../core/documents.ts";
import type { Branch, Shaft } from "../../../../core/unit.ts";
import type { CurveModel } from "../../curveModel.ts";
import { BRANCHES, ENDINGS } from "./shared.ts";

const VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "Within specification",
  outside: "Outside specification",
  unproven: "Too close to call",
};
const ROW_VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "within",
  outside: "outside",
  unproven: "too close to call",
};
const VERDICT_EXPLAINED: Readonly<Record<Verdict, string>> = {
  within: "Every printed row that was measured lies inside its limits, uncertainty included.",
  outside: "At least one printed row lies outside its limits, whatever the uncertainty.",
  unproven: "At least one reading lies so near a limit that neither inside nor outside is proved.",
};
const ABOUT: Readonly<Record<RowVerdict["about"], string>> = {
  speed: "Speed",
  vacuum: "Vacuum",
  dwell: "Dwell",
  scatter: "Lobe spacing",
  hold: "Hold",
  return: "Return",
};

export const record = {
  branch: (branch: Branch | null) => (branch === null ? "" : BRANCHES[branch]),
  chart: {
    speed: "Advance over speed",
    vacuum: (name: string) => `Advance over vacuum, ${name}`,
    hold: "Vacuum in the hold test",
    x: {
      speed: (shaft: Shaft) => `${shaft} rpm`,
      vacuum: (unit: string) => `${unit} below ambient`,
      seconds: "seconds",
    },
    y: (shaft: Shaft) => `${shaft} degrees`,
    rising: "rising",
    falling: "falling",
    band: "specification",
    liveNow: "now",
    numbers: "Numbers",
    describe: (
      title: string,
      model: CurveModel,
      number: (value: number, digits: number) => string,
      degrees: string,
    ) =>
      [
        `Chart: ${title}, in ${degrees}. ${model.table.length} readings so far; the table below has them.`,
        ...(model.fitted.length > 0 ? ["A thin dash-dotted line is the mechanism as fitted."] : []),
        ...model.earlier.map(({ name }) =>
          name === "before"
            ? "A line of paired dots is the rising curve before the change."
            : "A dotted line is the rising curve as received.",
        ),
        ...model.marks.map(
          ({ label, x, y }) =>
            `A diamond marks the reading for finding ${label}: ${number(y, 2)}° at ${number(x, x < 200 ? 1 : 0)}.`,
        ),
      ].join(" "),
    legendRising: "Rising: filled dots, solid line",
    legendFalling: "Falling: open squares, dashed line",
    legendBand: "Bars: limits at the printed rows",
    legendNow: "Cross: now",
    legendReceived: "Dotted line: as received, rising",
    legendBefore: "Paired dots: before the change, rising",
    legendMarks: "Diamonds: readings that speak for the finding of that number",
    legendFitted: "Thin dash-dotted lines: the mechanism as fitted",
  },
  lobes: {
    title: "Lobe spacing",
    lobe: "Lobe",
    off: "Off its place, distributor",
    none: "Known after the reference reading.",
  },
  dwell: "Dwell",
  result: {
    verdict: (verdict: Verdict | null, isOwnTarget: boolean) => {
      if (verdict === null) return "Not judged";
      return isOwnTarget
        ? VERDICTS[verdict].replace("specification", "the user's own target")
        : VERDICTS[verdict];
    },
    explained: (verdict: Verdict | null) =>
      verdict === null ? "There is not enough to judge by." : VERDICT_EXPLAINED[verdict],
    rowVerdict: (verdict: Verdict) => ROW_VERDICTS[verdict],
    ending: (ending: Ending) => ENDINGS[ending],
    rows: "Row by row",
    row: "As printed",
    branch: "Branch",
    limits: "Limits",
    measured: "Measured",
    judged: "Verdict",
    about: (about: RowVerdict["about"]) => ABOUT[about],
    between: (min: string, max: string) => `${min} to ${max}`,
    atMost: (max: string) => `at most ${max}`,
    atLeast: (min: string) => `at least ${min}`,
    noLimit: "no limit",
    notMeasured: "not measured",
    notMeasuredRows: (count: number) =>
      count === 1 ? "1 printed row was not measured." : `${count} printed rows were not measured.`,
    shaft: (shaft: Shaft) =>
      shaft === "distributor"
        ? "Speed, advance, dwell and lobe spacing are the distributor's."
        : "Speed and advance are the crankshaft's; dwell and lobe spacing are the distributor's.",
    uncertainty: "± is the expanded uncertainty of 95 % coverage.",
    sheet: "Open test sheet (A4)",
    letter: "Test sheet (Letter)",
    owner: "Owner's page",
    tag: "Tag for the unit",
    csv: "Figures as CSV",
    json: "Record as JSON",
    again: "Measure again",
    returns: (shaft: Shaft) => `Left after everything, ${shaft}`,
    scatter: "Largest lobe deviation, distributor",
    holdReached: (from: string, drop: string, seconds: string) =>
      `From ${from} the vacuum fell by ${drop} in ${seconds}.`,
    holdNot: (target: string, got: string) =>
      `${target} was not reached; it stood at ${got}. The capsule or its hose does not hold.`,
    noHold: "No hold test",
    noEnd: "No end on record: program or computer stopped during the run.",
    hold: "Hold",
  },
  earlier: {
    title: "As received, before and after",
    note: "Each printed row as it was judged in each run.",
    name: (name: string) => (name === "before" ? "before the change" : name),
    after: "after",
    whole: "The unit",
    noRow: "–",
  },
  findings: {
    title: "What is wrong",
    nothing: "Nothing was found wrong by the readings of this run.",
    shaft: "Degrees and speeds in these sentences are the distributor's.",
    serious: "Serious",
    next: "Next",
  },
  mechanism: {
    title: "The mechanism as fitted",
    note: "In distributor degrees and rpm. ± is the expanded uncertainty of 95 % coverage.",
  },
  trigger: "Trigger",
  triggerUntold: "The record tells nothing more of it.",
  budget: {
    title: "How sure is a reading?",
    reading: "Reading, distributor figures",
    speed: (branch: Branch, rpm: string, deg: string) => `${BRANCHES[branch]}, ${rpm}: ${deg}`,
    vacuum: (name: string, branch: Branch, vacuum: string, deg: string) =>
      `${name}, ${BRANCHES[branch]}, ${vacuum}: ${deg}`,
    caption: "What its uncertainty is made of, largest first",
    part: "Part",
    standardUncertainty: "Standard uncertainty",
    degreesOfFreedom: "Degrees of freedom",
    shape: "Shape",
    standsIn: "Stands in",
    combined: "Combined standard uncertainty",
    factor: "Coverage factor for 95 %",
    expanded: "Expanded uncertainty",
  },
  records: {
    title: "Records",
    simulated: "simulated",
    unended: "not ended",
  },
  notices: "Notes from the run",
};
