// A table in CSV whose first row names the columns, each with its unit: cells as numbers, complaints by row and column.
import { BobweightError } from "../errors.ts";
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
      this.fail(column, `${JSON.stringify(text)} is not a number such as 0.55`);
    }
    const value = Number(text);
    if (value < min || value > max) this.fail(column, `${text} is not from ${min} to ${max}`);
    return value;
  }

  /** The same where there must be one. */
  needed(column: string, min: number, max: number): number {
    return this.number(column, min, max) ?? this.fail(column, "a number is missing");
  }

  fail(column: string, what: string): never {
    throw new BobweightError(
      "TABLE_INVALID",
      `${this.file}, line ${this.row.line}, column ${column}: ${what}.`,
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
  if (head === undefined) throw new BobweightError("TABLE_INVALID", `${name} is empty.`);
  const columns = head.cells.map((cell) => cell.trim().toLowerCase());
  const failAt = (line: number, what: string): never => {
    throw new BobweightError("TABLE_INVALID", `${name}, line ${line}: ${what}.`);
  };
  for (const [i, column] of columns.entries()) {
    if (!allowed.includes(column)) {
      failAt(
        head.line,
        `there is no column ${JSON.stringify(column)}; there are ${allowed.join(", ")}`,
      );
    }
    if (columns.indexOf(column) !== i) failAt(head.line, `the column ${column} comes twice`);
  }
  return rows
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ""))
    .map((row) => {
      if (row.cells.length !== columns.length) {
        failAt(row.line, `${row.cells.length} cells under ${columns.length} columns`);
      }
      return new TableRow(name, row, columns);
    });
}
