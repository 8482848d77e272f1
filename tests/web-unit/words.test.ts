// The page's catalogues of words: none lacks a text, and none has one left untranslated.
import { describe, expect, it } from "vitest";
import { CAM_BY_HAND } from "../../core/jobs/card.ts";
import { CONNECTED_CONTACTS } from "../../core/unit.ts";
import { PLACES, type Standing } from "../../web/src/path.ts";
import { de } from "../../web/src/words/de/index.ts";
import { en } from "../../web/src/words/en/index.ts";

/** Paths of all texts, whether plain or made by a function. */
function leaves(value: unknown, path: string): Map<string, unknown> {
  if (typeof value !== "object" || value === null) return new Map([[path, value]]);
  return new Map(
    Object.entries(value).flatMap(([key, one]) => [
      ...leaves(one, path === "" ? key : `${path}.${key}`),
    ]),
  );
}

/** A function that only looks its text up reads the same in both: its texts are compared below. */
const LOOKUP = /^\(?(\w+)\)? ?=> \(?[\w.]+\[\1\]\)?$/;
const textOf = (leaf: unknown) => (typeof leaf === "function" ? leaf.toString() : leaf);

/** Names, signs and what is typed as it stands. */
const ALIKE = [
  "name",
  "live.nothing",
  "earlier.noRow",
  "byHand.examples.0.line",
  "byHand.examples.1.line",
  "byHand.examples.2.line",
  "byHand.examples.3.line",
  "byHand.examples.4.line",
  "branch",
  "budget.speed",
  "budget.vacuum",
  "desk.carry.made",
  "doing.step",
];

describe("German", () => {
  const english = leaves(en, "");
  const { core: _, ...page } = de;
  const german = leaves(page, "");

  it("has every text of the English, and no other", () => {
    expect([...german.keys()].sort()).toEqual([...english.keys()].sort());
  });

  it("says none of them as the English does, save names and signs", () => {
    const alike = [...english.keys()].filter((path) => {
      const text = textOf(german.get(path));
      return text === textOf(english.get(path)) && text !== "" && !LOOKUP.test(String(text));
    });
    expect(alike.sort()).toEqual(ALIKE.sort());
  });

  it.each([
    ["places on the way", en.jobs.path.place, de.jobs.path.place, PLACES],
    ["cam by hand", en.jobs.card.cam, de.jobs.card.cam, CAM_BY_HAND],
    ["contacts", en.start.connected, de.start.connected, CONNECTED_CONTACTS],
    ["branches", en.branch, de.branch, ["rising", "falling"]],
    [
      "standings",
      en.jobs.path.standing,
      de.jobs.path.standing,
      ["done", "now", "next", "open", "none"] satisfies Standing[],
    ],
    [
      "endings",
      en.result.ending,
      de.result.ending,
      ["completed", "stopped", "rig fault", "link lost"],
    ],
    [
      "subjects",
      en.result.about,
      de.result.about,
      ["speed", "vacuum", "dwell", "scatter", "hold", "return"],
    ],
    [
      "verdicts of rows",
      en.result.rowVerdict,
      de.result.rowVerdict,
      ["within", "outside", "unproven"],
    ],
    [
      "steps",
      (step: never) => en.doing.step(step, null),
      (step: never) => de.doing.step(step, null),
      ["reference", "hold", "vacuum", "speed", "return"],
    ],
  ])("looks up its own %s", (_, inEnglish, inGerman, keys) => {
    for (const key of keys) {
      const text = inGerman(key as never);
      expect(text).toMatch(/^[A-ZÄÖÜa-zäöü]/);
      expect(text).not.toBe(inEnglish(key as never));
    }
  });

  it("never calls the software's stop an emergency stop", () => {
    expect(de.stop).toBe("Motor anhalten (Software)");
    expect(de.notEmergency).toMatch(/^Kein Not-Halt/);
  });
});
