// JUnit XML: what passes and what fails, and that no name breaks it.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RowVerdict } from "../../core/documents.ts";
import { JUNIT_END, JUNIT_HEAD, type Measured, suiteXml } from "../../server/junit.ts";

interface Tag {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const ENTITY: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
  "&#9;": "\t",
  "&#10;": "\n",
  "&#13;": "\r",
};
/** What XML 1.0 (production 2, Char) may hold, less what a reader would make spaces of in an attribute. */
const CHARACTERS = /^[\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]*$/u;

/** Reads the little XML that is written, and refuses anything else. */
function tagsOf(xml: string): Tag[] {
  const tags: Tag[] = [];
  const open: string[] = [];
  const token = /\s*<(\/?)(\w+)((?: \w+="[^"<]*")*)(\/?)>\s*/y;
  while (token.lastIndex < xml.length) {
    const at = token.lastIndex;
    const found = token.exec(xml);
    if (found === null) throw new Error(`no tag at: ${xml.slice(at, at + 60)}`);
    const [, ends, name = "", attributes = "", isEmpty] = found;
    if (ends) {
      expect(open.pop()).toBe(name);
      continue;
    }
    if (!isEmpty) open.push(name);
    const pairs = [...attributes.matchAll(/ (\w+)="([^"]*)"/g)];
    tags.push({
      name,
      attributes: Object.fromEntries(pairs.map(([, key, text]) => [key, unescaped(text ?? "")])),
    });
  }
  expect(open).toEqual([]);
  return tags;
}

function unescaped(text: string): string {
  expect(text).toMatch(CHARACTERS);
  return text.replace(/&[^;]*;?/g, (entity) => {
    const meant = ENTITY[entity];
    if (meant === undefined) throw new Error(`no entity: ${entity}`);
    return meant;
  });
}

const read = (measured: Measured): Tag[] =>
  tagsOf((JUNIT_HEAD + suiteXml(measured) + JUNIT_END).replace(/^<\?xml [^?]*\?>/, "")).slice(1);

const row = (verdict: RowVerdict["verdict"], measured: number | null): RowVerdict => ({
  about: "speed",
  capsule: null,
  branch: "rising",
  printed: "7 at 800",
  x: 800,
  measured,
  expandedUncertainty: measured === null ? null : 0.1,
  limits: { min: 6, max: 8 },
  unit: "deg",
  verdict,
});

const measured = (rows: readonly RowVerdict[], change: Partial<Measured> = {}): Measured => ({
  name: "a unit",
  rows,
  rowsNotMeasured: 0,
  trouble: null,
  ...change,
});

describe("a suite", () => {
  it("has a case for each row, which passes only where it is proved within", () => {
    const rows = [row("within", 7), row("outside", 9), row("unproven", 8), row("unproven", null)];
    const [suite, ...rest] = read(measured(rows, { rowsNotMeasured: 2 }));
    expect(suite?.attributes).toEqual({
      name: "a unit",
      tests: "5",
      failures: "3",
      errors: "0",
      skipped: "1",
    });
    expect(rest.map(({ name, attributes }) => attributes.type ?? name)).toEqual([
      "testcase",
      ...["testcase", "outside", "testcase", "unproven", "testcase", "unproven"],
      ...["testcase", "skipped"],
    ]);
    expect(rest[2]?.attributes.message).toBe("outside: 9.00 ± 0.10°, wanted 6 to 8°");
    expect(rest[1]?.attributes.name).toBe("speed rising: 7 at 800");
  });

  it("is an error where the measurement did not come to its end, and never empty", () => {
    const trouble = { code: "LINK_LOST", text: "The link was lost." };
    const [, , error] = read(measured([], { trouble }));
    expect(error).toEqual({
      name: "error",
      attributes: { type: "LINK_LOST", message: "The link was lost." },
    });
    expect(read(measured([])).map(({ name }) => name)).toEqual([
      "testsuite",
      "testcase",
      "skipped",
    ]);
  });

  it("holds whatever names and texts come from files", () => {
    const hostile = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.constantFrom(
        "]]>",
        "<!--",
        "&#0;",
        "\uFFFE\uFFFF",
        "\uD800",
        "a\u0000\u001B\u0085",
        '"\n\t\r',
      ),
    );
    /** What no XML may hold is one sign that says so. */
    const shown = (text: string) =>
      text.replace(/[^\P{Cc}\t\n\r]|\p{Cs}|[\uFFFE\uFFFF]/gu, "\uFFFD");
    fc.assert(
      fc.property(hostile, hostile, hostile, (name, printed, text) => {
        const rows = [{ ...row("outside", 9), printed }];
        const [suite, first, , , error] = read(
          measured(rows, { name, trouble: { code: "BUG", text } }),
        );
        expect(suite?.attributes.name).toBe(shown(name));
        expect(first?.attributes.name).toBe(`speed rising: ${shown(printed)}`);
        expect(error?.attributes.message).toBe(shown(text));
      }),
    );
  });
});
