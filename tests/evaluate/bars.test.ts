// The bars of the findings can be missed: made-up results on either side of each.
import { describe, expect, it } from "vitest";
import type { FindingKind } from "../../core/findings/finding.ts";
import { type Asked, type Fitted, fit } from "../../evaluate/bars/fit.ts";
import { healthy } from "../../evaluate/bars/healthy.ts";
import { pairs } from "../../evaluate/bars/pairs.ts";
import { rig } from "../../evaluate/bars/rig.ts";
import { single } from "../../evaluate/bars/single.ts";
import { strength } from "../../evaluate/bars/strength.ts";
import type { Diagnosed, Told } from "../../evaluate/diagnosed.ts";
import type { FaultKind } from "../../evaluate/drawn/kinds.ts";

const EFFECT = {
  measure: "",
  at: null,
  unit: "deg",
  moved: 2,
  expanded: 0.4,
  multiple: 5,
} as const;

function told(kind: FindingKind, more: Partial<Told> = {}): Told {
  return { kind, subject: "unit", strength: 0.95, alike: [], ...more };
}

function diagnosed(
  kinds: readonly FaultKind[],
  found: readonly Told[],
  more: Partial<Diagnosed> = {},
): Diagnosed {
  const faults = kinds.map((kind) => ({
    kind,
    field: "",
    magnitude: 1,
    effect: EFFECT,
    inCompany: EFFECT,
  }));
  return { index: 0, faults, found, notTestable: [], verdict: null, travel: null, ...more };
}

function times(count: number, one: Diagnosed): Diagnosed[] {
  return Array.from({ length: count }, () => one);
}

const NAMED = diagnosed(["spring-light"], [told("spring-light")]);
const WRONG = diagnosed(["spring-light"], [told("spring-heavy", { alike: ["spring-light"] })]);

describe("single", () => {
  it("is met by 98 named of 100 and missed by 97", () => {
    expect(single.figures([...times(98, NAMED), ...times(2, WRONG)])[0]?.met).toBe(true);
    expect(single.figures([...times(97, NAMED), ...times(3, WRONG)])[0]?.met).toBe(false);
  });

  it("tells beside it what was named as looking alike", () => {
    expect(single.figures([NAMED, WRONG])[1]?.measured).toBe("100.0 %");
  });

  it("takes a stuck plate and a link that is off for one, and a bent shaft as named with the rig", () => {
    const good = [
      diagnosed(["link-off"], [told("plate-not-following")]),
      diagnosed(["shaft-bent"], [told("coupling-runout", { subject: "unit or rig" })]),
    ];
    expect(single.figures(good)[0]?.met).toBe(true);
    const blamed = diagnosed(["shaft-bent"], [told("coupling-runout", { subject: "rig" })]);
    expect(single.figures([blamed])[0]?.met).toBe(false);
  });
});

it("healthy is missed by two findings in a hundred units", () => {
  const sound = diagnosed([], []);
  const falsely = diagnosed([], [told("cam-worn")]);
  expect(healthy.figures([...times(99, sound), falsely])[0]?.met).toBe(true);
  expect(healthy.figures([...times(98, sound), ...times(2, falsely)])[0]?.met).toBe(false);
});

it("rig is missed where the unit is blamed", () => {
  const fair = diagnosed(["condenser-left-on"], [told("condenser-left-on", { subject: "rig" })]);
  const blaming = diagnosed(["condenser-left-on"], [told("spring-heavy")]);
  expect(rig.figures(times(100, fair))[0]?.met).toBe(true);
  expect(rig.figures([...times(98, fair), ...times(2, blaming)])[0]?.met).toBe(false);
});

it("pairs want both, or the hidden one told as not testable", () => {
  const both: readonly FaultKind[] = ["weights-stuck", "stop-worn"];
  const silent = diagnosed(both, [told("weights-stuck")]);
  const whole = { ...silent, notTestable: ["stop-worn" as const] };
  expect(pairs.figures([whole])[0]?.met).toBe(true);
  expect(pairs.figures([silent])[0]?.met).toBe(false);
});

describe("strength", () => {
  const at = (value: number, isTrue: boolean) =>
    diagnosed([isTrue ? "spring-light" : "cam-worn"], [told("spring-light", { strength: value })]);

  it("is met where nine of ten told at 0.9 are true, and missed where half are", () => {
    expect(strength.figures([...times(9, at(0.9, true)), at(0.9, false)])[0]?.met).toBe(true);
    expect(strength.figures([at(0.9, true), at(0.9, false)])[0]?.met).toBe(false);
  });

  it("is missed where travel beyond its limit passed", () => {
    const passed = { ...NAMED, travel: { trueDeg: 15.2, limitDeg: 15, passed: true } };
    const figures = strength.figures([passed]);
    expect(figures.find(({ what }) => what.startsWith("travel"))?.met).toBe(false);
  });
});

describe("fit", () => {
  const asked = (isTold: boolean, holds: boolean, what: Asked["what"] = "start"): Fitted => ({
    index: 7,
    asked: [{ what, isTold, holds }],
  });
  const runs = (count: number, one: Fitted) => Array.from({ length: count }, () => one);

  it("is met by 90 of 100 told intervals that hold and missed by 89", () => {
    const met = fit.figures([...runs(90, asked(true, true)), ...runs(10, asked(true, false))]);
    expect(met[0]?.met).toBe(true);
    const missed = fit.figures([...runs(89, asked(true, true)), ...runs(11, asked(true, false))]);
    expect(missed[0]?.met).toBe(false);
  });

  it("counts told ones only, and says what share that is", () => {
    const figures = fit.figures([...runs(3, asked(true, true)), asked(false, false)]);
    expect(figures[0]).toMatchObject({ measured: "100.0 %", count: 3, met: true });
    expect(figures[1]).toMatchObject({ what: "… told", measured: "75.0 %", count: 4 });
  });

  it("is missed where nothing is told", () => {
    expect(fit.figures([asked(false, false)])[0]?.met).toBe(false);
  });
});
