// CSV text (RFC 4180): rows and cells, read strictly and written so that a spreadsheet takes them for what they are.

import { BobweightError } from "../errors.ts";
import { type Said, said } from "../said.ts";

export interface CsvRow {
  /** Of the file, from 1, where the row begins. */
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Rows of cells, empty lines left out. Lines may end in CRLF, LF or CR, the last one in none; a byte
 * order mark in front is passed over. Blanks around a cell belong to it (RFC 4180 § 2.4).
 *
 * @param name of the file, for complaints
 * @throws TABLE_INVALID for a quotation mark that is not doubled inside quotes, or not closed
 */
export function parseCsv(text: string, name: string): CsvRow[] {
  return new CsvText(text.startsWith("\uFEFF") ? text.slice(1) : text, name).rows();
}

class CsvText {
  private at = 0;
  private line = 1;
  private readonly text: string;
  private readonly name: string;

  constructor(text: string, name: string) {
    this.text = text;
    this.name = name;
  }

  rows(): CsvRow[] {
    const rows: CsvRow[] = [];
    while (this.at < this.text.length) {
      const line = this.line;
      const from = this.at;
      const cells = [this.cell()];
      while (this.text[this.at] === ",") {
        this.at++;
        cells.push(this.cell());
      }
      const empty = this.at === from;
      this.lineEnd();
      if (!empty) rows.push({ line, cells });
    }
    return rows;
  }

  private cell(): string {
    if (this.text[this.at] === '"') return this.quoted();
    const plain = /[^",\r\n]*/y;
    plain.lastIndex = this.at;
    const value = plain.exec(this.text)?.[0] ?? "";
    this.at += value.length;
    if (this.text[this.at] === '"') {
      this.fail(said("a quotation mark inside a cell: put the whole cell in quotes and double it"));
    }
    return value;
  }

  private quoted(): string {
    const line = this.line;
    const pattern = /"((?:[^"]|"")*)("?)/y;
    pattern.lastIndex = this.at;
    const [whole = "", inside = "", closing] = pattern.exec(this.text) ?? [];
    if (closing !== '"') this.fail(said("a quotation mark is not closed"));
    this.at += whole.length;
    this.line += inside.split(LINE_END).length - 1;
    const next = this.text[this.at];
    if (next !== undefined && !",\r\n".includes(next)) {
      this.line = line;
      this.fail(said("something follows a closed quotation mark: double the marks inside a cell"));
    }
    return inside.replaceAll('""', '"');
  }

  private lineEnd(): void {
    if (this.at >= this.text.length) return;
    this.at += this.text.startsWith("\r\n", this.at) ? 2 : 1;
    this.line++;
  }

  private fail(what: Said): never {
    throw new BobweightError("TABLE_INVALID", said("{}, line {}: {}.", this.name, this.line, what));
  }
}

const LINE_END = /\r\n|\r|\n/;

export type Cell = string | number | null;

/** Lines end in CRLF, the last one too. A null cell is empty. */
export function csvText(rows: readonly (readonly Cell[])[]): string {
  return rows.map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
}

/**
 * A spreadsheet takes a text that begins with one of these for a formula and may run it; an
 * apostrophe before it keeps it a text. Numbers are ours and stay numbers.
 */
const FORMULA_BEGIN = /^[=+\-@\t\r\n]/;

function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const text = FORMULA_BEGIN.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** For figures in a CSV: no digits that say nothing. */
export function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
