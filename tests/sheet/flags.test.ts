// The word beside a limit bar stays off the figures at the far side of its picture.
import { expect, it } from "vitest";
import { drawingOf } from "../../core/sheet/drawing.ts";
import type { Picture } from "../../core/sheet/model.ts";

const crankshaft = { label: "crankshaft degrees", factor: 2 };

function flagAt(x: number) {
  const picture: Picture = {
    shows: [],
    title: "a capsule",
    width: "narrow",
    low: false,
    x: { label: "vacuum, kPa", min: 0, max: 40, step: 10, crankshaft: null },
    y: { label: "degrees", min: 0, max: 15, step: 5, crankshaft },
    lines: [],
    bars: [{ fromX: x, toX: x, min: 8, max: 10, flag: "not measured" }],
    marks: [],
  };
  return drawingOf(picture).shapes.find((shape) => shape.kind === "text" && shape.isFlag);
}

// Drawing units: 232 wide, 40 of them for the figures on either side.
it("stands over its bar, and ends where the picture does", () => {
  expect(flagAt(20)).toMatchObject({ x: 116, anchor: "middle" });
  expect(flagAt(40)).toMatchObject({ x: 192, anchor: "end" });
});
