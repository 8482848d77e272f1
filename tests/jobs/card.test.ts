import { describe, expect, it } from "vitest";
import { EMPTY_CARD, nextNumber } from "../../core/jobs/card.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";

describe("job card", () => {
  it("is complete with nothing known", () => {
    expect(cardSchema.parse({})).toEqual(EMPTY_CARD);
    expect(EMPTY_CARD).toMatchObject({
      number: "",
      receivedOn: null,
      camByHand: null,
      sidePlayMm: null,
      partsReplaced: [],
    });
  });

  it("trims what was typed, and refuses days that are none and fields it does not know", () => {
    expect(cardSchema.parse({ owner: "  A. Owner " }).owner).toBe("A. Owner");
    expect(cardSchema.safeParse({ receivedOn: "2026-02-30" }).success).toBe(false);
    expect(cardSchema.safeParse({ sidePlayMm: -0.1 }).success).toBe(false);
    expect(cardSchema.safeParse({ colour: "red" }).success).toBe(false);
  });
});

describe("next number", () => {
  it("goes on from the highest of the year, whatever others are called", () => {
    expect(nextNumber(2026, [])).toBe("2026-001");
    expect(nextNumber(2026, ["2026-002", "2026-010", "2025-099", "Lot 7"])).toBe("2026-011");
    expect(nextNumber(2027, ["2026-999"])).toBe("2027-001");
    expect(nextNumber(2026, ["2026-999"])).toBe("2026-1000");
  });
});
