// The guided way: which hint is in sight when, what is remembered of them, and the invented job's card.
import { describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { JobHead } from "../../core/jobs/job.ts";
import type { Choices } from "../../core/messages.ts";
import { hintsAt, rememberedFrom } from "../../web/src/hints.ts";
import { inventedCard, inventedChoices } from "../../web/src/inventedJob.ts";
import { type Path, PLACES, type Standing } from "../../web/src/path.ts";
import { guide } from "../../web/src/words/en/guide.ts";

function pathWith(standings: Partial<Record<keyof Path, Standing>>): Path {
  const open = Object.fromEntries(PLACES.map((place) => [place, "open"])) as Path;
  return { ...open, ...standings };
}

describe("hints", () => {
  it("lead from the card over cautions and start to the run", () => {
    expect(hintsAt({ at: "card" })).toEqual(["card"]);
    const start = { at: "start", followsChange: false } as const;
    expect(hintsAt({ ...start, cautionsRead: false })).toEqual(["cautions"]);
    expect(hintsAt({ ...start, cautionsRead: true })).toEqual(["cautions", "start"]);
    expect(hintsAt({ at: "run" })).toEqual(["watch"]);
  });

  it("lead from the findings to the change, and say how to measure again", () => {
    const path = pathWith({ findings: "done", change: "next" });
    expect(hintsAt({ at: "result", path })).toEqual(["findings", "change"]);
    expect(hintsAt({ at: "start", followsChange: true, cautionsRead: false })).toEqual([
      "again",
      "cautions",
    ]);
  });

  it("end at the sheet of a unit that is right", () => {
    const path = pathWith({ findings: "done", change: "done", again: "done", sheet: "next" });
    expect(hintsAt({ at: "result", path })).toEqual(["sheet"]);
  });

  it("keep silent after a run without a judgement", () => {
    expect(hintsAt({ at: "result", path: pathWith({ again: "next" }) })).toEqual([]);
  });
});

describe("what is remembered of them", () => {
  const nothing = { isOn: false, closed: [], isDeclined: false };

  it("comes back as it was kept", () => {
    const kept = { isOn: true, closed: ["cautions"], isDeclined: false };
    expect(rememberedFrom(JSON.stringify(kept))).toEqual(kept);
  });

  it.each([null, "", "{", "null", "7", '"x"', "{}", '{"isOn":1,"closed":"card"}'])(
    "is nothing where %j stands",
    (text) => {
      expect(rememberedFrom(text)).toEqual(nothing);
    },
  );

  it("drops hints that there are not", () => {
    expect(rememberedFrom('{"isOn":true,"closed":["sheet","tour"]}').closed).toEqual(["sheet"]);
  });
});

describe("the invented job", () => {
  const choices: Choices = {
    rigs: [{ id: "stand-in", name: "Stand-in rig", simulated: true, note: "", checks: [] }],
    units: [
      {
        id: "everyday",
        description: "",
        stampedNumber: "",
        invented: true,
        ownTarget: false,
        contactSets: null,
      },
    ],
    scenarios: [{ id: "light-spring", name: "", note: "" }],
    cautions: [],
  };

  it("is measured on the stand-in rig, with a fault in the unit", () => {
    expect(inventedChoices(choices)).toMatchObject({
      rigId: "stand-in",
      unitId: "everyday",
      scenarioId: "light-spring",
      afterRecordId: "",
    });
  });

  it("is not offered without its examples, nor on a real rig", () => {
    expect(inventedChoices(null)).toBeNull();
    expect(inventedChoices({ ...choices, scenarios: [] })).toBeNull();
    const rigs = choices.rigs.map((rig) => ({ ...rig, simulated: false }));
    expect(inventedChoices({ ...choices, rigs })).toBeNull();
  });

  it("says on its card that it is invented, under a number that no job has", () => {
    const heads = (...numbers: string[]) => numbers.map((number) => ({ number }) as JobHead);
    const card = inventedCard(guide.card, heads("2031-001"));
    expect(card).toEqual({ ...EMPTY_CARD, ...guide.card, number: "Invented example" });
    expect([card.owner, card.vehicle, card.unit, card.notes].join("\n")).toMatch(
      /invented.*\nInvented.*\n.*invented.*\n.*invented/,
    );
    const taken = heads("Invented example", "Invented example 2");
    expect(inventedCard(guide.card, taken).number).toBe("Invented example 3");
  });
});
