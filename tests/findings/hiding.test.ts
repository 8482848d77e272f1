// What must be cured before something else can be told, as the fault table has it.
import { expect, it } from "vitest";
import { goesBeforeSprings, hiddenBy } from "../../core/findings/hiding.ts";

it("stuck weights hide springs, knee, stop, friction and return", () => {
  expect([...hiddenBy("weights-stuck")].sort()).toEqual([
    "curve-unexplained",
    "first-spring-missing",
    "second-spring-loop-worn",
    "second-spring-missing",
    "spring-heavy",
    "spring-light",
    "spring-stretched",
    "stop-worn",
    "weights-dry",
    "weights-not-returning",
  ]);
});

it("a torn diaphragm hides plate and capsule spring, a plate that sticks its spring", () => {
  expect(hiddenBy("diaphragm-torn")).toContain("plate-sticking");
  expect(hiddenBy("diaphragm-torn")).toContain("capsule-spring-wrong");
  expect(hiddenBy("plate-sticking")).toEqual(["capsule-spring-wrong"]);
});

it("nothing hides travel beyond its limit but weights that do not move at all", () => {
  const kinds = [
    "weights-dry",
    "first-spring-missing",
    "condenser-left-on",
    "uncorrected-delay",
    "specification-misread",
  ] as const;
  for (const kind of kinds) expect(hiddenBy(kind)).not.toContain("stop-worn");
});

it("a delay of the rig's hides the capsule's spring too", () => {
  expect(hiddenBy("condenser-left-on")).toContain("capsule-spring-wrong");
  expect(hiddenBy("uncorrected-delay")).toContain("capsule-spring-wrong");
});

it("springs wait for what moves, delays and the specification", () => {
  expect(goesBeforeSprings("weights-dry")).toBe(true);
  expect(goesBeforeSprings("weights-not-returning")).toBe(true);
  expect(goesBeforeSprings("specification-misread")).toBe(true);
  expect(goesBeforeSprings("spring-light")).toBe(false);
  expect(goesBeforeSprings("cam-worn")).toBe(false);
});

it("a cam that no first spring draws home hides where a capsule begins", () => {
  expect(hiddenBy("first-spring-missing")).toContain("capsule-spring-wrong");
});
