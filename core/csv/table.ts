// A table in CSV whose first row names the columns, each with its unit: cells as numbers, complaints by row and column.

import { BobweightError } from "../errors.ts";
import { type Said, said } from "../said.ts";
import { type CsvRow, parseCsv } from "./text.ts";

/** One row under the head. Every method throws TABLE_INVALID, naming row and column. */
export class TableRow {
  private readonly file: string;
  private readonly row: CsvRow;
  private readonly columns: readonly string[];

  constructor(file: string, row: CsvRow, columns: readonly string[]) {
    this.file = file;
    this.row = row;
    this.columns = columns;
  }

  /** Without blanks around it; null where the cell is empty or the column missing. */
  text(column: string): string | null {
    const cell = this.row.cells[this.columns.indexOf(column)]?.trim() ?? "";
    // The apostrophe that `csvText` puts before what a spreadsheet would run.
    return cell === "" ? null : cell.replace(/^'(?=[=+\-@])/, "");
  }

  /** Between the limits, both included; null where the cell is empty or the column missing. */
  number(column: string, min: number, max: number): number | null {
    const text = this.text(column);
    if (text === null) return null;
    if (!/^[+-]?\d+(\.\d+)?$/.test(text)) {
      this.fail(column, said("{} is not a number such as 0.55", JSON.stringify(text)));
    }
    const value = Number(text);
    if (value < min || value > max)
      this.fail(column, said("{} is not from {} to {}", text, min, max));
    return value;
  }

  /** The same where there must be one. */
  needed(column: string, min: number, max: number): number {
    return this.number(column, min, max) ?? this.fail(column, said("a number is missing"));
  }

  fail(column: string, what: Said): never {
    throw new BobweightError(
      "TABLE_INVALID",
      said("{}, line {}, column {}: {}.", this.file, this.row.line, column, what),
    );
  }
}

/**
 * Rows under the head, those with nothing but empty cells left out.
 *
 * @param allowed names of columns, lower case; any order, each once at most
 * @throws TABLE_INVALID for a name that is not allowed or comes twice, or a row of another length
 */
export function tableRows(text: string, name: string, allowed: readonly string[]): TableRow[] {
  const [head, ...rows] = parseCsv(text, name);
  if (head === undefined) throw new BobweightError("TABLE_INVALID", said("{} is empty.", name));
  const columns = head.cells.map((cell) => cell.trim().toLowerCase());
  const failAt = (line: number, what: Said): never => {
    throw new BobweightError("TABLE_INVALID", said("{}, line {}: {}.", name, line, what));
  };
  for (const [i, column] of columns.entries()) {
    if (!allowed.includes(column)) {
      failAt(
        head.line,
        said("there is no column {}; there are {}", JSON.stringify(column), allowed.join(", ")),
      );
    }
    if (columns.indexOf(column) !== i) failAt(head.line, said("the column {} comes twice", column));
  }
  return rows
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ""))
    .map((row) => {
      if (row.cells.length !== columns.length) {
        failAt(row.line, said("{} cells under {} columns", row.cells.length, columns.length));
      }
      return new TableRow(name, row, columns);
    });
}
