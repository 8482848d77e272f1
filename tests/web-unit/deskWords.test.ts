// The desk's words in German have the form of the English ones.
import { expect, it } from "vitest";
import { desk as german } from "../../web/src/words/de/desk.ts";
import { desk as english } from "../../web/src/words/en/desk.ts";

function keysOf(value: unknown, path = ""): string[] {
  if (typeof value !== "object" || value === null) return [`${path}: ${typeof value}`];
  return Object.entries(value).flatMap(([key, part]) => keysOf(part, `${path}.${key}`));
}

it("says everything that is said in English", () => {
  expect(keysOf(german)).toEqual(keysOf(english));
});
