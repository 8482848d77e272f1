// Where the time goes: samples put to the parts of the program.
import { expect, it } from "vitest";
import { partsOf, pictureOf, tableOf } from "../../bench/profile.ts";

const frame = (functionName: string, url: string) => ({
  callFrame: { functionName, url, scriptId: "1", lineNumber: 1, columnNumber: 1 },
});
const PROFILE = {
  nodes: [
    { id: 1, ...frame("(idle)", "") },
    { id: 2, ...frame("(garbage collector)", "") },
    { id: 3, ...frame("step", "file:///x/dist/node/sim/plant.js") },
    { id: 4, ...frame("explain", "file:///x/dist/node/core/findings/evidence.js") },
    { id: 5, ...frame("search", "file:///x/dist/node/core/findings/search.js") },
    { id: 6, ...frame("write", "node:fs") },
  ],
  startTime: 0,
  endTime: 1000,
  samples: [1, 2, 3, 4, 5, 6],
  timeDeltas: [900, 10, 30, 20, 30, 10],
};

it("gives every part its share of the time at work", () => {
  expect(partsOf(PROFILE)).toEqual([
    { name: "findings", share: 0.5 },
    { name: "stand-in rig", share: 0.3 },
    { name: "collecting garbage", share: 0.1 },
    { name: "Node and its libraries", share: 0.1 },
  ]);
});

it("draws a bar with its number for each, the longest the widest", () => {
  const picture = pictureOf([{ what: "A run", parts: partsOf(PROFILE) }]);
  expect(picture.match(/<rect x/g)).toHaveLength(4);
  expect(picture).toContain('width="480.0"');
  expect(picture).toContain('width="288.0"');
  expect(picture).toContain(">50.0 %<");
  expect(tableOf({ what: "A run", parts: partsOf(PROFILE) })).toContain("| findings | 50.0 % |");
});
