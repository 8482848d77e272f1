// The tag on the unit: its figures, and what it says where there are none.
import { describe, expect, it } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import type { JobCard } from "../../core/jobs/card.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import type { Tag } from "../../core/sheet/model.ts";
import { endDocument, runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded } from "./fixture.ts";

function tagOf(documents: readonly RunDocument[], one: JobCard | null): Tag {
  const [tag] = tagSheet(documents, one, { paper: "a4" }).blocks;
  if (tag?.kind !== "tag") throw new Error("a tag is all there is");
  return tag;
}

describe("the tag", () => {
  it("has job, date, verdict and figures", () => {
    expect(tagOf(runDocuments, card)).toEqual({
      kind: "tag",
      workshop: "",
      title: "Job 2031-014",
      aside: "2031-03-14",
      warning: "SIMULATED. INVENTED UNIT.",
      verdict: "unproven",
      text: "Unproven",
      facts: [
        { label: "Stamped number", value: "BW 4101 A 12 66" },
        { label: "Total advance", value: "13.6° distributor, 27.3° crankshaft" },
        { label: "Dwell", value: "60.4°" },
        { label: "Gap", value: "0.40 mm" },
        { label: "Rotation", value: "anticlockwise, looking down on the rotor" },
      ],
      note: "Re-time after fitting, and recheck the gap.",
    });
  });

  it("says of what nobody knows that it is not known", () => {
    const result = {
      ...endDocument.result,
      verdict: null,
      dwellDeg: null,
      speed: { rising: [], falling: [] },
    };
    const tag = tagOf([startDocument, { ...endDocument, result }], null);
    expect(tag).toMatchObject({ title: "Job not known", text: "Unjudged", verdict: null });
    expect(tag.facts.map(({ value }) => value)).toEqual([
      "BW 4101 A",
      "not known",
      "not known",
      "not known",
      "anticlockwise, looking down on the rotor",
    ]);
  });

  it("warns of a target that is no maker's, and cuts long texts", () => {
    const tag = tagOf(crowded.documents, crowded.card);
    expect(tag.warning).toBe("SIMULATED. OWN TARGET. INVENTED UNIT.");
    expect(tag.text).toBe("OUTSIDE");
    expect(tag.title).toBe("Job A long text with ½, ¼,…");
  });
});
