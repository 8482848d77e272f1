// Reading JSON files that people wrote: the same values as JSON.parse, and places for what is wrong.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";

function complaint(text: string): string {
  try {
    parseJsonFile(text, "my.json");
  } catch (error) {
    return (error as Error).message;
  }
  return "accepted";
}

describe("parseJsonFile", () => {
  it("reads the same as JSON.parse", () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(undefined, 2, "\t"), (value, indent) => {
        const text = JSON.stringify(value, null, indent);
        expect(parseJsonFile(text, "x")).toEqual(JSON.parse(text));
      }),
    );
  });

  it("accepts no text that JSON.parse refuses", () => {
    const soup = fc
      .array(fc.constantFrom(...'{}[]":,\\ \n0123456789.-+eEtruefalsnl'), { maxLength: 12 })
      .map((parts) => parts.join(""));
    fc.assert(
      fc.property(soup, (text) => {
        let ours: unknown;
        try {
          ours = parseJsonFile(text, "x");
        } catch {
          return;
        }
        expect(ours).toEqual(JSON.parse(text));
      }),
      { numRuns: 2000 },
    );
  });

  it("skips a byte order mark", () => {
    expect(parseJsonFile('\uFEFF{"a":1}', "x")).toEqual({ a: 1 });
  });

  it("keeps a key named __proto__ an ordinary key", () => {
    const read = parseJsonFile('{"__proto__":{"a":1}}', "x") as object;
    expect(Object.keys(read)).toEqual(["__proto__"]);
    expect(Object.getPrototypeOf(read)).toBe(Object.prototype);
  });

  it.each([
    ['{"a":1,\n "a":2}', 'line 2, column 2: the key "a" is given twice.'],
    ['{"a":NaN}', 'line 1, column 6: expected a value, found "NaN".'],
    ['{"a":1e999}', "line 1, column 6: the number 1e999 is too large."],
    ['{"a":1,}', 'line 1, column 8: expected a key in quotes, found "}".'],
    ['{"a" 1}', 'line 1, column 6: expected a colon, found "1".'],
    ['{\r\n"a":1\r\n"b":2}', 'line 3, column 1: expected a comma or "}", found "\\"".'],
    ["[1 2]", 'line 1, column 4: expected a comma or "]", found "2".'],
    ["", "line 1, column 1: expected a value, found the end."],
    ['"a', "line 1, column 3: a text in quotes is not closed."],
    ['"a\nb"', "line 1, column 3: a text in quotes runs over the end of its line."],
    ['"\\x"', 'line 1, column 3: "\\x" is not allowed in a text.'],
    ["[] []", 'line 1, column 4: expected the end, found "[".'],
    ["// no", 'line 1, column 1: expected a value, found "//".'],
    ["[".repeat(100), "line 1, column 41: brackets are nested more than 40 deep."],
  ])("says where %j is wrong", (text, expected) => {
    expect(complaint(text)).toBe(
      `FILE_NOT_JSON: my.json, ${expected} Mend the JSON at the place named.`,
    );
  });
});
