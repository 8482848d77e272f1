// The card as typed, and back; a spring's lengths as typed.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CAM_BY_HAND, EMPTY_CARD, type JobCard } from "../../core/jobs/card.ts";
import { cardFrom, typedCard, typedNumber } from "../../web/src/cardForm.ts";
import { fittedFrom } from "../../web/src/fitted.ts";

describe("a card as typed", () => {
  it("comes back as it was, whatever is known", () => {
    const text = fc.string({ maxLength: 20 });
    const mm = fc.option(fc.integer({ min: 0, max: 5000 }).map((hundredths) => hundredths / 100));
    const part = fc.stringMatching(/^[a-z][a-z ]{0,8}[a-z]$/);
    const card: fc.Arbitrary<JobCard> = fc.record({
      ...textFields(text),
      receivedOn: fc.constantFrom(null, "2026-11-26"),
      returnedOn: fc.constantFrom(null, "2026-12-01"),
      camByHand: fc.constantFrom(null, ...CAM_BY_HAND),
      sidePlayMm: mm,
      endFloatMm: mm,
      gapFoundMm: mm,
      gapSetMm: mm,
      partsReplaced: fc.array(part, { maxLength: 4 }),
    });
    fc.assert(
      fc.property(card, (one) => {
        expect(cardFrom(typedCard(one))).toEqual(one);
      }),
    );
  });

  it("names the first figure that is none", () => {
    const typed = { ...typedCard(EMPTY_CARD), endFloatMm: "-1", gapSetMm: "wide" };
    expect(cardFrom(typed)).toEqual({ wrong: "endFloatMm" });
  });

  it("takes a decimal comma, and leaves empty lines of parts out", () => {
    const typed = {
      ...typedCard(EMPTY_CARD),
      gapSetMm: " 0,35 ",
      partsReplaced: "points\n\n bush ",
    };
    expect(cardFrom(typed)).toMatchObject({ gapSetMm: 0.35, partsReplaced: ["points", "bush"] });
  });
});

function textFields(text: fc.Arbitrary<string>) {
  return {
    number: text,
    owner: text,
    ownerContact: text,
    vehicle: text,
    unit: text,
    stampedNumber: text,
    stampedDate: text,
    markings: text,
    condition: text,
    notes: text,
  };
}

it("millimetres are digits with one point or comma", () => {
  expect(["", "0", "12.5", "0,4"].map(typedNumber)).toEqual([null, 0, 12.5, 0.4]);
  for (const text of ["1e3", "0x1", "1.2.3", "1 2", "∞", "-1"]) {
    expect(typedNumber(text)).toBeNaN();
  }
});

describe("a spring that is in the unit", () => {
  const spring = {
    name: "soft",
    quantity: 1,
    wire: null,
    measuredRate: { rateNPerM: 800, expandedUncertaintyNPerM: 50 },
    freeLengthM: 0.012,
    initialTensionN: 0,
    loopLengthM: 0,
  };

  it("has its lengths in metres, and none where none was typed", () => {
    expect(fittedFrom({ name: "soft", rest: "20,5", stop: "" }, [spring])).toEqual({
      spring,
      restLengthM: 0.0205,
      stopLengthM: null,
    });
    expect(fittedFrom({ name: "", rest: "20", stop: "" }, [spring])).toBeNull();
  });

  it.each(["0", "200.1", "long"])("cannot be %s mm long", (rest) => {
    expect(fittedFrom({ name: "soft", rest, stop: "" }, [spring])).toBe("wrong");
  });
});
