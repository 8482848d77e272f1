// CSV read strictly (RFC 4180), and tables with named columns.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tableRows } from "../../core/csv/table.ts";
import { csvText, parseCsv } from "../../core/csv/text.ts";

const cellsOf = (text: string) => parseCsv(text, "x.csv").map(({ cells }) => cells);

describe("CSV text", () => {
  it("reads the forms that RFC 4180 § 2 shows", () => {
    const wanted = [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ];
    expect(cellsOf("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual(wanted);
    expect(cellsOf("aaa,bbb,ccc\r\nzzz,yyy,xxx")).toEqual(wanted);
    expect(cellsOf('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual(wanted);
    expect(cellsOf('"aaa","b\r\nbb","ccc"')).toEqual([["aaa", "b\r\nbb", "ccc"]]);
    expect(cellsOf('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
    expect(cellsOf(" a , b ")).toEqual([[" a ", " b "]]);
  });

  it("takes any line end, a byte order mark, empty lines and empty cells", () => {
    expect(cellsOf("\uFEFFa,b\nc,\r\n\n,d\r")).toEqual([
      ["a", "b"],
      ["c", ""],
      ["", "d"],
    ]);
    expect(cellsOf("")).toEqual([]);
    expect(cellsOf("\n\n")).toEqual([]);
  });

  it("counts lines through quoted line ends", () => {
    const lines = parseCsv('a\n"b\n\nc"\n\nd\n', "x.csv").map(({ line }) => line);
    expect(lines).toEqual([1, 2, 6]);
  });

  it.each([
    ['a"b', "line 1: a quotation mark inside a cell"],
    ['a\n"b', "line 2: a quotation mark is not closed"],
    ['"a""', "line 1: a quotation mark is not closed"],
    ['x\n"a\nb"c', "line 2: something follows a closed quotation mark"],
  ])("refuses %j", (text, what) => {
    expect(() => parseCsv(text, "x.csv")).toThrow(`TABLE_INVALID: x.csv, ${what}`);
  });

  it("reads back whatever it wrote", () => {
    // Not beginning as a formula would: `csvText` puts an apostrophe before those.
    const cell = fc.string({ unit: "binary" }).filter((text) => !/^[=+\-@\t\r\n\uFEFF]/.test(text));
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 5 })), (rows) => {
        expect(cellsOf(csvText(rows))).toEqual(rows);
      }),
    );
  });

  it("reads any text or complains by line, and nothing else", () => {
    const text = fc.string({ unit: fc.constantFrom('"', ",", "\r", "\n", "a", " ") });
    fc.assert(
      fc.property(text, (any) => {
        try {
          const lines = any.split(/\r\n|\r|\n/).length;
          for (const { line } of parseCsv(any, "x.csv")) expect(line).toBeLessThanOrEqual(lines);
        } catch (error) {
          expect(String(error)).toMatch(/TABLE_INVALID: x\.csv, line \d+: /);
        }
      }),
    );
  });
});

describe("a table", () => {
  const rowsOf = (text: string) => tableRows(text, "x.csv", ["name", "length_mm"]);

  it("has its columns in any order, and cells without blanks around them", () => {
    const [row] = rowsOf("Length_mm, NAME\n 1.5 ,  long one \n , \n");
    expect(row?.text("name")).toBe("long one");
    expect(row?.needed("length_mm", 0, 2)).toBe(1.5);
    expect(rowsOf("length_mm,name\n1,a\n,\n")).toHaveLength(1);
    expect(rowsOf("name\na\n")[0]?.number("length_mm", 0, 1)).toBeNull();
  });

  it("takes off the apostrophe that keeps a text from being a formula", () => {
    expect(rowsOf(csvText([["name"], ["=1+1"]]))[0]?.text("name")).toBe("=1+1");
    expect(rowsOf(csvText([["name"], ["'tis"]]))[0]?.text("name")).toBe("'tis");
  });

  it.each([
    ["", "x.csv is empty"],
    ["name,width_mm\n", 'line 1: there is no column "width_mm"; there are name, length_mm'],
    ["name,name\n", "line 1: the column name comes twice"],
    ["name,length_mm\na\n", "line 2: 1 cells under 2 columns"],
  ])("refuses %j", (text, what) => {
    expect(() => rowsOf(text)).toThrow(what);
  });

  it.each([
    ["1,5", 'line 2, column length_mm: "1,5" is not a number such as 0.55'],
    ["1e3", "is not a number"],
    ["0x10", "is not a number"],
    ["-1", "-1 is not from 0 to 2"],
    ["", "a number is missing"],
  ])("refuses the length %j", (length, what) => {
    const [row] = rowsOf(`name,length_mm\na,"${length}"\n`);
    expect(() => row?.needed("length_mm", 0, 2)).toThrow(what);
  });
});
