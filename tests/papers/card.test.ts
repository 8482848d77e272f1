// What is too long for a paper is cut between words, and says so.
import { describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { clipped, partsText } from "../../core/papers/card.ts";
import { ENGLISH } from "../../core/speech/english.ts";

describe("a text that is cut", () => {
  it("has at most so many characters, the sign of the cut among them", () => {
    expect(clipped("twelve  chars", 12)).toBe("twelve chars");
    expect(clipped("thirteen char", 12)).toBe("thirteen…");
    expect(clipped("unbreakableness", 12)).toBe("unbreakable…");
  });
});

describe("parts replaced", () => {
  it("tells as many as find room, and how many more there are", () => {
    const card = { ...EMPTY_CARD, partsReplaced: ["points", "condenser", "bush"] };
    expect(partsText(card, 40, ENGLISH)).toBe("points; condenser; bush");
    expect(partsText(card, 18, ENGLISH)).toBe("points; condenser; and 1 more on the job card");
    expect(partsText(EMPTY_CARD, 40, ENGLISH)).toBe("not known");
  });
});
